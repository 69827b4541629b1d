#!/usr/bin/env python3
"""Every sentence that the command, the record or the logbook refuses with is seen in some screen
test: the longest piece of text at each place that throws must stand in an expected stderr."""
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
THROWN = re.compile(r"\b(?:WrongUsage|Refused|Unusable)\(")
LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')
# What no screen test can bring about, by a piece of the sentence, with the reason.
EXCEPT = {
    "could not be written whole": "needs a disk that fills up during the export",
    "could not be read to its end": "needs a file that breaks off with an error",
    "may not be read: look at its permissions": "the tests may run as root, who may read all",
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
    for test in HERE.glob("*.test"):
        lines = [line[2:] for line in test.read_text().splitlines() if line.startswith("! ")]
        seen.append(" ".join(lines))
    seen = re.sub(r"\s+", " ", " ".join(seen))
    missing, count = [], 0
    for folder in ("cli", "lib/records", "lib/logbook"):
        for path in sorted((ROOT / folder).glob("*.cpp")):
            for piece in pieces(path.read_text()):
                count += 1
                known = any(e in piece or piece in e for e in EXCEPT)
                if re.sub(r"\s+", " ", piece) not in seen and not known:
                    missing.append(f"{path.relative_to(ROOT)}: no screen test shows: {piece}")
    if count < 50:
        sys.exit(f"only {count} refusals found: the search is broken")
    print("\n".join(missing) if missing else f"{count} refusals, each seen in a screen test")
    sys.exit(1 if missing else 0)


main()
