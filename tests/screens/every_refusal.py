#!/usr/bin/env python3
"""Every sentence that the command, the record, the logbook or the bench refuses with is seen in some
screen test: the longest piece of text at each place that throws must stand in an expected stderr."""
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
THROWN = re.compile(r"\b(?:WrongUsage|Refused|Unusable)\(")
LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')
# What no screen test can bring about, by the reason: pieces of the sentences.
EXCEPT = {
    "needs a disk that fills up or fails": [
        "could not be written whole", "could not be read to its end", "No copy could be put at",
        "could not be kept in a temporary file", "could be put beside",
        ": the disk or the folder refuses it", ": the disk is full.",
        "came out damaged, and was not kept", "The copy could not be written to the disk:", ": the name was taken, or the disk refused it",
    ],
    "needs another user's files, and the tests may run as root, who may read and write all": [
        "may not be read: look at its permissions", "may not be looked at by this user",
        "may not be read by this user", "is read-only, so nothing can be logged in",
        "is read-only, so nothing took its place", "could not be opened, so nothing took its place",
        "is of an older make and read-only",
    ],
    "needs memory that runs out": ["could not be written: there is not enough memory."],
    "needs seals that another program does not make (opening_test.cpp, restore_test.cpp)": [
        "was written by a newer plumule", "is damaged, so it was not put in place of anything",
    ],
    "needs a second name in another folder, or a command stopped there (second_name_test.cpp)": [
        "by which a command that was stopped left it unfinished", "has a second name (a hard link)",
    ],
    "needs a file damaged in one certain place": [
        "The ledger of changes is damaged", "The logbook has no column", "Rows would be lost",
        "is no word of the record", "The logbook is damaged:", "holds what it cannot",
        "do not follow from what was entered",
    ],
    "takes five seconds (restore_test.cpp)": ["another program has been using it for 5 seconds"],
    "is said within the walk, on standard output (walk.test)": ["as a second reading. Which holds?"],
    "needs another SQLite": ["This SQLite library keeps no foreign keys"],
    "stands in the library for other callers: the command says it first, or never asks for it": [
        "is not a number.", "A figure is not a number.", "A temperature is missing",
        "A temperature is of a sowing or of a place", "cannot be; write all four digits",
        "% cannot be; it lies between 0 and 100 %", "a line of its stock needs a number of seeds",
        "seeds is more than anybody keeps", "a number sown is given, and said to be unknown",
        "how many were sown? Give the number", "its treatment:", "a block:", ": its treatment:",
        "is named twice.",
        "--log needs a value: the logbook's file", "a line of its stock needs a reason",
        "say where it is kept, or at what temperature", "moved where to? Name the place",
        "a photograph needs the path of its file",
        "the days to look at it must be in order", "There is no such reading left to settle",
        "The last ones are of", "was opened to be read only", "A part of the command was refused",
        "That record is not in the logbook any more", "There is a lot",
        "that is not in the logbook.",
        "A logbook needs a file name", "The name of who counted is too long",
        "That sowing is not in the logbook any more", ": there is no batch", "is of treatment",
        "already. What was done differently needs", "There is a treatment",
        "The treatment untreated keeps its name", "already: each jar or mat of seed",
        ", so it cannot go.", "Looks are planned up to a last day", "is given twice.",
        "Of trays that are labelled there is one lot", "already. A new one needs another code",
        "There is a trial", "C lies above the maximum of",
        "looks like Fahrenheit; in Celsius it is", "seeds in a cell cannot be; it is 1 to 1000.",
    ],
}


def argument(text, start):
    """The text between the bracket before `start` and its partner."""
    depth, at = 1, start
    while depth and at < len(text):
        if text[at] == '"':
            at = LITERAL.match(text, at).end()
            continue
        depth += {"(": 1, ")": -1}.get(text[at], 0)
        at += 1
    return text[start:at - 1]


def pieces(source):
    text = re.sub(r"//[^\n]*", "", source)
    for match in THROWN.finditer(text):
        inside = argument(text, match.end())
        joined = re.sub(r'"\s*\n?\s*"', "", inside)  # neighbours are one literal
        parts = [p for literal in LITERAL.findall(joined)
                 for p in re.split(r"\{[^{}]*\}", literal.replace('\\"', '"'))]
        parts = sorted((p.strip() for p in parts), key=len)
        if parts and len(parts[-1]) >= 8:
            yield parts[-1]


def main():
    seen = []
    for test in HERE.rglob("*.test"):
        lines = [line[2:] for line in test.read_text().splitlines() if line.startswith("! ")]
        seen.append(" ".join(lines))
    seen = re.sub(r"\s+", " ", " ".join(seen))
    seen += re.sub(r"plumule --log (?:'[^']*'|\S+)", "plumule", seen)  # the logbook is repeated
    missing, count = [], 0
    for folder in ("cli", "lib/records", "lib/logbook", "lib/bench"):
        for path in sorted((ROOT / folder).rglob("*.cpp")):
            for piece in pieces(path.read_text()):
                count += 1
                known = any(e in piece or piece in e for some in EXCEPT.values() for e in some)
                if re.sub(r"\s+", " ", piece) not in seen and not known:
                    missing.append(f"{path.relative_to(ROOT)}: no screen test shows: {piece}")
    if count < 50:
        sys.exit(f"only {count} refusals found: the search is broken")
    print("\n".join(missing) if missing else f"{count} refusals, each seen in a screen test")
    sys.exit(1 if missing else 0)


main()
