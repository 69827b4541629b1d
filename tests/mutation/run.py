#!/usr/bin/env python3
"""Tests that could fail: small changes to the rules, one at a time, each of which a test must notice.

    tests/mutation/run.sh [COUNT [SEED]]      300 changes unless said; some 20 seconds each

A seeded sample over the rules that a grower's figures hang on: verdicts, the closing of trials, derived
totals, the file's guards, blind trials and undo. A change swaps one operator, word or number for another
in a copy of the tree, the programs that it concerns are built anew, and their tests are run until one
fails. What does not compile is no change, and another is drawn. Survivors are printed as they stand: each
needs a test, or a line in EQUIVALENT below that says why it changes nothing.
"""
import argparse
import collections
import pathlib
import random
import re
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent

# Rules, where they stand, and the tests that mind them, the quickest first. A test is a program with
# its arguments, or the names of screen tests.
AREAS = {
    "verdicts": (["lib/analysis/comparison/*.cpp", "lib/stats/stand/claims.cpp",
                  "lib/stats/trials/daily_evidence.cpp", "lib/stats/trials/claims.cpp"],
                 ["stats_tests -sf=*/stand/claims*", "stats_tests -sf=*trials*", "analysis_tests",
                  "screens compare blocks several-trials thin trial-changed doses edges",
                  "report_tests"]),
    "closing": (["lib/stats/trials/trial_closing.cpp", "lib/analysis/trial/closing.cpp",
                 "lib/analysis/trial/last_looks.cpp", "lib/analysis/course/stopped_sowings.cpp"],
                ["analysis_tests", "stats_tests -sf=*trials*",
                 "screens compare thin today trial-changed end sow-trial summary"]),
    "totals": (["lib/records/course.cpp"],
               ["records_tests", "logbook_tests -sf=*counts*", "logbook_tests -sf=*record_property*",
                "screens count amend walk"]),
    "guards": (["schema/guards.sql"],
               ["logbook_tests -sf=*guards*", "logbook_tests -sf=*record*", "screens count amend"]),
    "blind": (["cli/**/*.cpp:blind", "lib/logbook/**/*.cpp:blind", "lib/bench/*.cpp:blind",
               "lib/analysis/**/*.cpp:blind"],
              ["cli_tests", "logbook_tests -sf=*journal*", "analysis_tests",
               "screens blind walk count today undo"]),
    "undo": (["lib/logbook/journal/undo.cpp", "lib/logbook/journal/ledger.cpp"],
             ["logbook_tests -sf=*journal*", "screens undo amend"]),
}
# Changes that change nothing that can be seen: "file: what it became", and why.
EQUIVALENT = {
    "schema/guards.sql: case when c.at <= new.at":
        "of one moment there is one row: laid again, as an amended sowing does, it equals itself",
    "schema/guards.sql: select 2 from counts c where c.sowing = new.sowing and":
        "only whether there is such a row is asked",
    "lib/analysis/trial/last_looks.cpp: const int side = unit.treatment != treatment ? 0 : 1;":
        "both sides are asked the same",
    "lib/analysis/trial/closing.cpp: if (day < latest) continue;":
        "of two that give up on one day either may be named",
    "lib/analysis/comparison/treatment_comparison.cpp: const bool shown = question.detail || question.model;":
        "a family that nothing asks for costs time alone",
    "lib/stats/stand/claims.cpp: const bool more = one.p_better >= 0.5;": "at a half nothing is claimed",
    "lib/stats/trials/daily_evidence.cpp: long long lowest = 1;": "it is set before it is read",
    "lib/logbook/journal/undo.cpp: bool taken_out = true;": "every change is made with it",
    "lib/analysis/trial/last_looks.cpp: int early[3] = {0, 0};": "a third that nothing is put in",
    "lib/records/course.cpp: for (std::size_t i = 1; i <= index; ++i) lost += counts[i].entered.lost;":
        "at a first look none can have been lost: derive() refuses it",
    "lib/analysis/comparison/dose_answer.cpp: double hours = 1;": "every soak is made with its hours",
}

SWAPS = [
    (r"(?<=[\w\)\]]) < (?=[\w\(\-])", [" <= ", " >= "]), (r" <= ", [" < "]),
    (r"(?<=[\w\)\]]) > (?=[\w\(\-])", [" >= ", " < "]), (r" >= ", [" > "]),
    (r" == ", [" != "]), (r" != ", [" == "]), (r" && ", [" || "]), (r" \|\| ", [" && "]),
    (r"(?<=[\w\)\]]) \+ (?=[\w\(])", [" - "]), (r"(?<=[\w\)\]]) - (?=[\w\(])", [" + "]),
    (r"\btrue\b", ["false"]), (r"\bfalse\b", ["true"]), (r"(?<=[\(\s])!(?=[a-z_])", [""]),
    (r"\bstd::min\b", ["std::max"]), (r"\bstd::max\b", ["std::min"]),
    (r"\bcontinue;", ["break;"]), (r"(?<![\w.])\d+(?![\w.])", ["+1"]),
    (r"(?<![\w.])\d+\.\d+(?![\w.])", ["*1.2"]),
]
SQL_SWAPS = [(r" < ", [" <= "]), (r" <= ", [" < "]), (r" > ", [" >= "]), (r" >= ", [" > "]),
             (r" <> ", [" = "]), (r" = ", [" <> "]), (r"\bnot exists\b", ["exists"]),
             (r"\band\b", ["or"]), (r"\bor\b", ["and"]), (r"\bis not null\b", ["is null"]),
             (r"\bis null\b", ["is not null"]), (r"(?<![\w.])\d+(?![\w.])", ["+1"])]

Change = collections.namedtuple("Change", "area file at was now")


def code_mask(text, sql):
    """True where a letter is code: no comment, string, preprocessor line or function's name."""
    mask = bytearray(b"\1" * len(text))
    pattern = (r"--[^\n]*|'(?:[^']|'')*'" if sql else
               r"//[^\n]*|/\*.*?\*/|\"(?:\\.|[^\"\\])*\"|'(?:\\.|[^'\\])'|^\s*#[^\n]*|template\s*<[^\n]*"
               r"|static_assert[^;]*;")
    for match in re.finditer(pattern, text, re.S | re.M):
        mask[match.start():match.end()] = b"\0" * (match.end() - match.start())
    return mask


def replacement(was, now):
    if now == "+1":
        return str(int(was) + 1)
    if now == "*1.2":
        return repr(float(was) * 1.2)
    return now


def changes_of(root, area, patterns):
    found = []
    for pattern in patterns:
        glob, _, word = pattern.partition(":")
        for path in sorted(root.glob(glob)):
            text, sql = path.read_text(), path.suffix == ".sql"
            mask = code_mask(text, sql)
            for expression, becomes in SQL_SWAPS if sql else SWAPS:
                for match in re.finditer(expression, text):
                    line = text[text.rfind("\n", 0, match.start()) + 1:text.find("\n", match.end())]
                    if not mask[match.start()] or (word and word not in line):
                        continue
                    for now in becomes:
                        found.append(Change(area, path.relative_to(root), match.start(),
                                            match.group(), replacement(match.group(), now)))
    return found


class Tree:
    """A copy of the tree with a build of its own, little optimised: it is built anew for every change."""

    def __init__(self, folder):
        self.root = pathlib.Path(folder).resolve()
        self.build = self.root / "build"
        self.root.mkdir(parents=True, exist_ok=True)
        names = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True)
        for name in names.stdout.decode().rstrip("\0").split("\0"):
            there, here = self.root / name, ROOT / name
            if here.exists() and not (there.exists() and there.read_bytes() == here.read_bytes()):
                there.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy(here, there)
        if not (self.build / "build.ninja").exists():
            subprocess.run(["cmake", "-G", "Ninja", "-S", self.root, "-B", self.build,
                            "-DPLUMULE_TESTS=ON", "-DPLUMULE_STATIC=OFF", "-DPLUMULE_WERROR=OFF",
                            "-DCMAKE_CXX_FLAGS_RELEASE=-O1"], check=True, stdout=subprocess.DEVNULL)
        self.targets = sorted({test.split()[0] for _, tests in AREAS.values() for test in tests
                               if not test.startswith("screens")} | {"plumule"})
        if not self.make(self.targets, 7200):
            sys.exit("the unchanged tree does not build")

    def make(self, targets, seconds=900):
        return subprocess.run(["cmake", "--build", self.build, "--target", *targets],
                              capture_output=True, timeout=seconds).returncode == 0

    def passes(self, test):
        words = test.split()
        if words[0] == "screens":
            command = ["/usr/bin/python3", self.root / "tests/screens/run.py", "--plumule",
                       self.build / "cli/plumule", *words[1:]]
            target = "plumule"
        else:
            command = [*(p for p in self.build.rglob(words[0]) if p.is_file()), *words[1:], "-aa"]
            target = words[0]
        if not self.make([target]):
            return None
        try:
            return subprocess.run(command, capture_output=True, timeout=300).returncode == 0
        except subprocess.TimeoutExpired:
            return False


def try_one(tree, change):
    """The test that noticed, "" where none did, None where it does not compile."""
    path = tree.root / change.file
    text = path.read_text()
    path.write_text(text[:change.at] + change.now + text[change.at + len(change.was):])
    try:
        for test in AREAS[change.area][1]:
            passed = tree.passes(test)
            if passed is None:
                return None
            if not passed:
                return test
        return ""
    finally:
        path.write_text(text)


def shown(change, root):
    text = (root / change.file).read_text()
    start, end = text.rfind("\n", 0, change.at) + 1, text.find("\n", change.at)
    line = text[start:change.at] + change.now + text[change.at + len(change.was):end]
    return f"{change.file}: {line.strip()}"


def main():
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("count", nargs="?", type=int, default=300)
    reader.add_argument("seed", nargs="?", type=int, default=1)
    reader.add_argument("--folder", default="/tmp/plumule-mutation")
    args = reader.parse_args()
    tree = Tree(args.folder)
    for test in dict.fromkeys(t for _, tests in AREAS.values() for t in tests):
        if not tree.passes(test):
            sys.exit(f"the unchanged tree fails: {test}")
    draw = random.Random(args.seed)
    waiting = {area: changes_of(tree.root, area, files) for area, (files, _) in AREAS.items()}
    for changes in waiting.values():
        draw.shuffle(changes)
    print({area: len(changes) for area, changes in waiting.items()}, flush=True)
    killed, survivors, started = collections.Counter(), [], time.time()
    tried = 0
    while tried < args.count and any(waiting.values()):
        for area in [a for a in waiting if waiting[a]]:
            if tried >= args.count:
                break
            change = waiting[area].pop()
            by = try_one(tree, change)
            if by is None:
                continue
            tried += 1
            line = shown(change, tree.root)
            if by:
                killed[area] += 1
            elif line not in EQUIVALENT:
                survivors.append((area, line))
                print(f"SURVIVED {area} {line}", flush=True)
            else:
                killed[area] += 1
            if tried % 20 == 0:
                print(f"{tried} tried, {len(survivors)} survived, {time.time() - started:.0f} s",
                      flush=True)
    tree.make(tree.targets, 7200)
    print(f"{tried} changes, {tried - len(survivors)} noticed "
          f"({100 * (tried - len(survivors)) / max(1, tried):.1f} %)", dict(killed))
    sys.exit(1 if tried and len(survivors) > 0.05 * tried else 0)


main()
