#!/usr/bin/env python3
"""Measures the flat log in and out, one durable count and the start of `summary`, against the sqlite3
shell in the same run, and prints the ratios. Called by run.sh; asserts nothing.

    bench.py PLUMULE [SOWINGS] [ROUNDS] [COUNTS]

CPU is user and system time of the process and its children, the median of the rounds (3 where none
are given); wall times are medians too, of one count those of 200 by turns, so that a busy moment of
the disk falls on all alike. What each sqlite3 line does is printed below the table.
"""
import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent


class Cost:
    """What runs of one command took: medians of CPU and wall seconds, the largest memory in MiB."""

    def __init__(self, runs):
        self.cpu = statistics.median(r[0] for r in runs)
        self.wall = statistics.median(r[1] for r in runs)
        self.memory = max(r[2] for r in runs)


def run(argv, out=os.devnull, stdin=os.devnull):
    actions = [(os.POSIX_SPAWN_OPEN, 0, stdin, os.O_RDONLY, 0),
               (os.POSIX_SPAWN_OPEN, 1, out, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)]
    start = time.perf_counter()
    pid = os.posix_spawnp(argv[0], argv, os.environ, file_actions=actions)
    _, status, used = os.wait4(pid, 0)
    wall = time.perf_counter() - start
    if status != 0:
        raise SystemExit(f"failed: {' '.join(argv)[:300]}")
    return used.ru_utime + used.ru_stime, wall, used.ru_maxrss / 1024


def remove(*paths):
    for path in paths:
        for name in (path, f"{path}-journal", f"{path}-wal", f"{path}-shm"):
            if os.path.exists(name):
                os.remove(name)


def one_count(plumule, log, flat, number, folder):
    """One count durably in: by the command, by the shell into the plain table, and by the shell into
    a copy of the same logbook, each into sowings that have none yet."""
    sown, copy = str(folder / "sown.csv"), str(folder / "copy.db")
    with open(sown, "w") as file:
        file.write("sowing,sown_on,counted_on,emerged,seeds\n")
        file.writelines(f"D{k},2026-04-01,,,50\n" for k in range(number))
    run([plumule, "--log", log, "import", sown, "--today", "2026-04-09"])
    shutil.copy(log, copy)
    full = "pragma synchronous=full; insert into "
    ours, plain, same = [], [], []

    def by_plumule(k):
        ours.append(run([plumule, "--log", log, "count", f"D{k}=5", "--today", "2026-04-09"]))

    def into_plain(k):
        plain.append(run(["sqlite3", flat, f"{full} flat values ('D{k}', '2026-04-01', "
                          "'2026-04-09', 5, 50, '', '')"]))

    def into_same(k):
        same.append(run(["sqlite3", copy, f"{full} counts (sowing, at, timed, kind, value, total, "
                         "entry) select id, unixepoch('2026-04-09') / 60 + 720, 0, 0, 5, 5, 1 from "
                         f"sowings where label = 'D{k}' and ended_as is null"]))

    for k in range(number):
        turn = [by_plumule, into_plain, into_same]
        for once in turn if k % 2 == 0 else reversed(turn):
            once(k)
    return Cost(ours), Cost(plain), Cost(same)


def main():
    plumule = sys.argv[1]
    sowings = int(sys.argv[2]) if len(sys.argv) > 2 else 80_000
    rounds = int(sys.argv[3]) if len(sys.argv) > 3 else 3
    number = int(sys.argv[4]) if len(sys.argv) > 4 else 200
    folder = pathlib.Path(tempfile.mkdtemp(prefix="plumule-bench-"))
    try:
        table(plumule, sowings, rounds, number, folder)
    finally:
        shutil.rmtree(folder)


def table(plumule, sowings, rounds, number, folder):
    flat, log = str(folder / "log.csv"), str(folder / "log.db")
    sqlite_db, out = str(folder / "flat.db"), str(folder / "out.csv")
    with open(flat, "wb") as file:
        subprocess.run([sys.executable, str(HERE / "draw_log.py"), str(sowings)], stdout=file,
                       check=True)
    index = "create index look on flat (sowing, counted_on);"
    ours, theirs = [], []

    def import_ours_once():
        remove(log)
        run([plumule, "--log", log, "init"])
        ours.append(run([plumule, "--log", log, "import", flat]))

    def import_theirs_once():  # makes the table from the header, as the shell does by itself
        remove(sqlite_db)
        theirs.append(run(["sqlite3", sqlite_db, ".mode csv", f".import {flat} flat", index]))

    # By turns, so that a busy moment of the machine falls on both; neither always goes first.
    for k in range(rounds):
        turn = [import_ours_once, import_theirs_once]
        for once in turn if k % 2 == 0 else reversed(turn):
            once()
    import_ours, import_theirs = Cost(ours), Cost(theirs)
    sizes = os.path.getsize(log), os.path.getsize(sqlite_db)

    ours, theirs, joined = [], [], []
    views = ("select sowing, sown_on, counted_on, emerged, seeds, lot, treatment from daily_counts")
    for _ in range(rounds):
        ours.append(run([plumule, "--log", log, "export"], out))
        theirs.append(run(["sqlite3", "-csv", "-header", sqlite_db, "select * from flat"], out))
        joined.append(run(["sqlite3", "-csv", "-header", log, views], out))
    export_ours, export_theirs, export_joined = Cost(ours), Cost(theirs), Cost(joined)

    count_ours, count_flat, count_same = one_count(plumule, log, sqlite_db, number, folder)
    last = f"S{sowings:06}"
    ours, bare = [], []
    for _ in range(10 * rounds):
        ours.append(run([plumule, "--log", log, "summary", last]))
        bare.append(run([plumule, "--version"]))
    start_ours, start_bare = Cost(ours), Cost(bare)

    counts = sowings * 14
    ms = 1000
    print(f"{counts:,} counts of {sowings:,} sowings, {os.path.getsize(flat) / 1e6:.1f} MB of CSV; "
          f"medians of {rounds} rounds by turns ({number} of one count, {10 * rounds} of summary)\n")
    line = "{:<40} {:>12} {:>12} {:>8} {:>8}"
    print(line.format("", "plumule", "sqlite3", "ratio", "goal"))

    def row(what, mine, yours, goal, form="{:.2f} s"):
        print(line.format(what, form.format(mine), form.format(yours), f"{mine / yours:.2f}", goal))

    row("import, CPU [1]", import_ours.cpu, import_theirs.cpu, "1.3")
    row("file after it [1]", sizes[0] / 1e6, sizes[1] / 1e6, "0.4", "{:.1f} MB")
    row("export, CPU [2]", export_ours.cpu, export_theirs.cpu, "2.0")
    row("export, CPU [3]", export_ours.cpu, export_joined.cpu, "2.0")
    for note, theirs in (("[4]", count_flat), ("[5]", count_same)):
        row(f"one durable count, wall {note}", count_ours.wall * ms, theirs.wall * ms, "1.0",
            "{:.2f} ms")
        row(f"one durable count, CPU {note}", count_ours.cpu * ms, theirs.cpu * ms, "", "{:.2f} ms")
    print(line.format("import, peak memory", f"{import_ours.memory:.0f} MiB", "", "", "128 MiB"))
    print(line.format("export, peak memory", f"{export_ours.memory:.0f} MiB", "", "", ""))
    over = (start_ours.wall - start_bare.wall) * ms
    print(line.format("summary of a sowing over --version, wall", f"{over:.2f} ms", "", "", "5 ms"))
    print(f"""
[1] against a plain .import of the same CSV into a fresh file, then an index on (sowing, counted_on)
[2] against sqlite3 -csv "select * from flat" of that one table
[3] against sqlite3 -csv of the same columns of the view daily_counts in the logbook
[4] against one insert into that one table with synchronous=full: no rule is tested, no journal kept,
    and after a power cut the shell's own default may have lost what it answered for
[5] against the same insert into the counts of a copy of the same logbook, whose schema the shell
    reads and whose guards it runs, with synchronous=full; it writes no line of the journal""")


if __name__ == "__main__":
    main()
