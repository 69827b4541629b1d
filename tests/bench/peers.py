#!/usr/bin/env python3
"""Times the library beside general-purpose R on the same invented trials, in the same run, and
prints the ratios of processor time on one core. Called by run.sh --peers; asserts only that both
sides found the same numbers.

    peers.py PEERS [TRIALS, 200] [ROUNDS, 3]

R and the library take turns, so that a busy moment of the machine falls on both; each figure is the
median of the rounds. Start-up and loading of packages are counted on neither side.
"""
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
SIMULATED = 200


def times(lines):
    """Seconds by step of one round."""
    return {step: float(seconds) for step, seconds in lines}


def one_round(peers, trials, folder):
    subprocess.run(["Rscript", "--vanilla", str(HERE / "peers.R"), f"{folder}/trials.csv",
                    f"{folder}/r.tsv", str(SIMULATED)], check=True)
    with open(f"{folder}/r.tsv", encoding="utf-8") as file:
        theirs = times(line.split("\t")[1:] for line in file if line.startswith("time\t"))
    said = subprocess.run([peers, "time", str(folder), str(trials)], check=True,
                          capture_output=True, text=True).stdout
    return theirs, times(line.split("\t") for line in said.splitlines())


def spoken(seconds):
    for unit, size in (("s", 1), ("ms", 1e-3), ("us", 1e-6)):
        if seconds >= size:
            return f"{seconds / size:.3g} {unit}"
    return f"{seconds / 1e-9:.3g} ns"


def table(theirs, ours):
    line = "{:<52} {:>9} {:>9} {:>7}   {}"
    print(line.format("", "R", "plumule", "ratio", "goal"))

    def row(what, r, mine, goal=""):
        ratio = f"{r / mine:.0f}" if r else ""
        print(line.format(what, spoken(r) if r else "", spoken(mine), ratio, goal))

    steps = ("read", "intervals", "indices", "npmle", "npmle", "fit", "fit", "newcombe", "fisher")
    same = sum(theirs[step] for step in steps)
    row("a stored trial, the steps that R has too [1]", same, ours["stored: same steps"], ">= 400")
    row("a stored trial, with all that R has not [2]", same, ours["stored: all"], ">= 31")
    row("an emergence fit with standard errors [3]", theirs["fit"], ours["fit"], ">= 1500")
    row("NPMLE, KKT gap <= 1e-8", theirs["npmle"], ours["npmle"], ">= 1000")
    row("a simulated trial, two fits [4]", theirs["simulation"], ours["simulation"], ">= 500")
    row("tray-aware interval, 4 trays of 50", None, ours["tray-aware"], "<= 50 us")
    row("randomisation test, 12 of 24 drawn 99,999 times", None, ours["randomisation"], "<= 20 ms")
    row("model of the stand, 4 + 4 trays [6]", None, ours["stand: small"], "<= 100 us")
    times_small = ours["stand: large"] / ours["stand: small"]
    row("  of 48 trays, 6 treatments, 8 blocks", None, ours["stand: large"],
        f"<= 10 times that: {times_small:.1f}")
    row("  the trays that would tell", None, ours["stand: trays needed"], "<= 400 us")
    print()
    row("  reading a trial: R its CSV, we the logbook", theirs["read"], ours["stored: read"])
    row("  Wilson and exact intervals, two treatments", theirs["intervals"], ours["intervals"])
    row("  indices, two treatments", theirs["indices"], ours["indices"])
    row("  the whole emergence model of a treatment [5]", theirs["fit"], ours["model"])
    row("  Newcombe's difference", theirs["newcombe"], ours["newcombe"])
    row("  Fisher's exact test", theirs["fisher"], ours["fisher"])
    for size in "small", "large":
        row(f"  {size} model of the stand, and each treatment's range", None,
            ours[f"stand: {size}, ranges"])
    row("  compare --full of a stored trial", None, ours["stored: full"])


def main():
    peers = sys.argv[1]
    trials = int(sys.argv[2]) if len(sys.argv) > 2 else 200
    rounds = int(sys.argv[3]) if len(sys.argv) > 3 else 3
    folder = pathlib.Path(tempfile.mkdtemp(prefix="plumule-peers-"))
    try:
        subprocess.run([peers, "draw", str(folder), str(trials)], check=True)
        each = [one_round(peers, trials, folder) for _ in range(rounds)]
        checked = subprocess.run([peers, "check", str(folder), str(trials), str(SIMULATED)],
                                 check=False, capture_output=True, text=True)
    finally:
        shutil.rmtree(folder)
    if checked.returncode != 0:
        raise SystemExit("The two sides do not agree, so no ratio is printed:\n" + checked.stderr)
    print("Both sides found the same numbers:\n  " + checked.stdout.strip().replace("\n", "\n  "))
    version = subprocess.run(["Rscript", "--version"], check=True, capture_output=True, text=True)
    print(f"\n{trials} trials of 2 treatments x 4 trays x 14 counts; "
          f"{(version.stdout + version.stderr).strip()};\n"
          f"processor time on one core, medians of {rounds} rounds by turns\n")
    theirs, ours = ({step: statistics.median(sides[i][step] for sides in each)
                     for step in each[0][i]} for i in (0, 1))
    table(theirs, ours)
    print("""
[1] Wilson and exact intervals, indices, NPMLE and a fit of each treatment, Newcombe's difference,
    Fisher's test; from the stored trial (all trials read in one transaction, as R reads its CSV once)
[2] the same, and the whole of `compare`: tray-aware intervals, posterior of the difference,
    randomisation tests, verdicts, trays that would tell; the ratio is still to R without them
[3] R: optim (BFGS, its own derivatives) on the same model and intervals, errors by its Hessian
[4] R simulates 200, the library 2,000: both per trial
[5] beside R's fit: errors by sowing, dispersion, five times with intervals, what is settled
[6] the fit, and the first treatment's differences from all others: ranges, chances, Bayes factor""")


if __name__ == "__main__":
    main()
