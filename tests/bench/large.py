#!/usr/bin/env python3
"""Measures the memory and processor time of importing ten million counts and of `summary` over all
of them, grouping by grouping. Called by run.sh --large; asserts nothing. Needs 1 GB below the
temporary folder and some minutes.

    large.py PLUMULE [SOWINGS, 715000 of 14 counts each]
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

from bench import HERE, run

GROUPINGS = ("crop", "season", "treatment", "trial", "lot", "sowing")


def main():
    plumule = sys.argv[1]
    sowings = int(sys.argv[2]) if len(sys.argv) > 2 else 715_000
    folder = pathlib.Path(tempfile.mkdtemp(prefix="plumule-large-"))
    try:
        flat, log = folder / "log.csv", str(folder / "log.db")
        with open(flat, "wb") as file:
            subprocess.run([sys.executable, str(HERE / "draw_log.py"), str(sowings)], stdout=file,
                           check=True)
        run([plumule, "--log", log, "init"])
        print(f"{14 * sowings:,} counts of {sowings:,} sowings\n")
        line = "{:<28} {:>10} {:>12}   {}"
        print(line.format("", "CPU", "peak memory", "goal"))

        def row(what, argv):
            cpu, _, memory = run([plumule, "--log", log, *argv], os.devnull)
            print(line.format(what, f"{cpu:.1f} s", f"{memory:.0f} MiB", "128 MiB"), flush=True)

        row("import", ["import", str(flat)])
        for by in GROUPINGS:
            row(f"summary --by {by}", ["summary", "--by", by])
        row("summary --by crop --full", ["summary", "--by", "crop", "--full"])
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
