#!/usr/bin/env python3
"""Random logbooks, taken in from flat logs: whatever they hold, every JSON answer of summary, compare
and viability has groups whose keys are unique, and in one object `emerged` is never more than `seeds`,
since both are of the same sowings. What the answers leave out of those stands beside them, so that all
that was sown and all that came up is found again. EVERY_GROUP=200 draws as many logbooks.
"""
import csv
import datetime
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile

TOOL = pathlib.Path(sys.argv[1]).resolve()
ROUNDS = int(os.environ.get("EVERY_GROUP", "12"))
TODAY = datetime.date(2026, 6, 1)
CROPS = ["bean", "Bean", "no crop", "no lot", "beet", "bean: root", "bean: seeds", "2025", ""]
LOTS = ["", "K", "no-lot", "L2", "bean"]
TREATMENTS = ["", "soak-8h", "nick", "no-treatment"]
TRIALS = ["", "", "T1", "bean2"]
COLUMNS = ["sowing", "sown_on", "counted_on", "emerged", "seeds", "unit", "lot",
           "crop", "treatment", "trial", "counting", "setting", "ended", "ended_on"]


def sowing(number, draw, lots):
    """The rows of one sowing, in order of time, and what is to be found again."""
    lot = draw.choice(LOTS)
    crop = lots.setdefault(lot, draw.choice(CROPS[:-1])) if lot else draw.choice(CROPS)
    label = f"A{draw.randint(1, 4)}" if draw.random() < 0.3 else f"S{number}"
    sown = datetime.date(draw.choice([2024, 2025, 2026]), 3, 1) + datetime.timedelta(number)
    known = draw.random() < 0.75
    seeds = draw.randint(1, 60)
    base = {"sowing": label, "sown_on": sown.isoformat(), "lot": lot, "crop": crop,
            "treatment": draw.choice(TREATMENTS), "trial": draw.choice(TRIALS),
            "unit": draw.choice(["seed", "seed", "cluster"]), "seeds": seeds if known else "",
            "counting": draw.choice(["root", "shoot"]),
            "setting": draw.choice(["tray", "row", "dish"])}
    rows, up = [], 0
    for look in range(draw.randint(0, 4)):
        up = draw.randint(up, seeds if known else 90)
        on = sown + datetime.timedelta(3 + 2 * look)
        rows.append({**base, "counted_on": on.isoformat(), "emerged": up})
    ending = draw.choice(["finished", "accident", "failed"])
    if not rows:
        ending = "finished"
    # A label may be open once.
    if rows:
        rows[-1]["ended"] = ending if not (ending == "failed" and up) else "finished"
        rows[-1]["ended_on"] = rows[-1]["counted_on"]
    else:
        rows.append({**base, "ended": ending,
                     "ended_on": (sown + datetime.timedelta(9)).isoformat()})
    return rows, known, seeds, up, rows[-1].get("counted_on") is not None


def run(log, *words):
    done = subprocess.run([TOOL, *words], capture_output=True, text=True,
                          env={**os.environ, "PLUMULE_LOG": str(log), "LC_ALL": "C.UTF-8"})
    if done.returncode not in (0, 1):
        sys.exit(f"{words}: {done.stderr}")
    return done


def pairs(value, where):
    """Every object that has both figures."""
    if isinstance(value, dict):
        if isinstance(value.get("seeds"), int) and isinstance(value.get("emerged"), int):
            yield where, value["seeds"], value["emerged"]
        for key, part in value.items():
            yield from pairs(part, f"{where}.{key}")
    elif isinstance(value, list):
        for i, part in enumerate(value):
            yield from pairs(part, f"{where}[{i}]")


def lists_with_keys(value):
    if isinstance(value, dict):
        for part in value.values():
            yield from lists_with_keys(part)
    elif isinstance(value, list):
        keys = [part["key"] for part in value if isinstance(part, dict) and "key" in part]
        if keys:
            yield keys
        for part in value:
            yield from lists_with_keys(part)


def check_sums(answer, command, sown):
    groups = answer["groups"]
    looked = [one for one in sown if one[4]]
    for what, found, wanted in (
            ("sowings", sum(g["sowings"] for g in groups), len(sown)),
            ("seeds", sum(g["seeds"] or 0 for g in groups), sum(one[2] for one in looked if one[1])),
            ("emerged", sum(g["emerged"] or 0 for g in groups),
             sum(one[3] for one in looked if one[1])),
            ("emerged of unknown", sum(g["seeds_unknown"]["emerged"] for g in groups),
             sum(one[3] for one in looked if not one[1])),
            ("not looked at", sum(g["seeds_not_looked_at"] for g in groups),
             sum(one[2] for one in sown if one[1] and not one[4]))):
        if found != wanted:
            sys.exit(f"{command}: {what}: {found} found, {wanted} kept")


def main():
    answers = objects = 0
    for round_ in range(ROUNDS):
        draw = random.Random(1000 + round_)
        with tempfile.TemporaryDirectory() as folder:
            log = pathlib.Path(folder) / "log.db"
            flat = pathlib.Path(folder) / "flat.csv"
            lots, sown = {}, []
            with flat.open("w", newline="") as file:
                writer = csv.DictWriter(file, COLUMNS)
                writer.writeheader()
                for number in range(draw.randint(1, 25)):
                    one = sowing(number, draw, lots)
                    sown.append(one)
                    writer.writerows(one[0])
            run(log, "init")
            taken = run(log, "import", str(flat), "--today", TODAY.isoformat())
            if taken.returncode:
                sys.exit(f"round {round_}: {taken.stdout}{taken.stderr}")
            commands = [["summary", "--by", by] for by in
                        ("sowing", "lot", "treatment", "trial", "crop", "season")]
            commands += [["compare", "T1"], ["compare", "bean2"], ["viability"]]
            commands += [["viability", lot] for lot in LOTS if lot]
            commands += [["summary", "T1", "K", "K", "--by", "crop"]]
            for command in commands:
                done = run(log, *command, "--json", "--model", "none") if command[0] != "viability" \
                    else run(log, *command, "--json")
                if done.returncode:
                    continue  # there is no such lot, or nothing to compare
                answer = json.loads(done.stdout)
                answers += 1
                for keys in lists_with_keys(answer):
                    if len(set(keys)) < len(keys):
                        sys.exit(f"round {round_}, {command}: a key twice in {keys}")
                for where, seeds, emerged in pairs(answer, ""):
                    objects += 1
                    if emerged > seeds:
                        sys.exit(f"round {round_}, {command}{where}: {emerged} of {seeds}")
                if command[:2] == ["summary", "--by"]:
                    check_sums(answer, command, sown)
    if answers < 6 * ROUNDS or objects < 20 * ROUNDS:
        sys.exit(f"only {answers} answers with {objects} objects: the test looks at too little")
    print(f"{ROUNDS} logbooks, {answers} answers, {objects} objects: keys unique, emerged of seeds")


if __name__ == "__main__":
    main()
