#!/usr/bin/env python3
"""Whatever an answer calls a figure, `explain` knows: every table heading and every named figure of
the accepted screens, and every number of the JSON schemas."""
import json
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
TOOL = pathlib.Path(sys.argv[1]).resolve()
WORDS = r"[a-zA-Z0-9][a-zA-Z0-9 ,.()%'/-]*"
# A heading is of plain words, and holds no figure but a level.
HEADING = re.compile(r"(\d+ % )?[a-z][a-z ,()/-]*( \(UTC\)| \d+)?$")
# Screens of figures, each named on its left.
NAMED = re.compile(r"\b(compare|viability|reckon|summary|crops|trial:|lot [A-Z])")


def screens():
    """The outputs of each command of the screen tests, line by line."""
    for file in sorted((ROOT / "tests" / "screens").rglob("*.test")):
        command, lines = None, []
        for line in [*file.read_text().splitlines(), "$ "]:
            if line.startswith("$ "):
                if command and "--json" not in command and "help" not in command:
                    yield file.name, command, lines
                command, lines = line[2:], []
            elif line.startswith("  "):
                lines.append(line[2:])


def is_heading(cells):
    return len(cells) >= 3 and all(HEADING.fullmatch(cell) for cell in cells)


def printed():
    """What is printed: word -> where."""
    found = {}
    for file, command, lines in screens():
        if command == "plumule" or re.search(r"\b(explain|pages)\b", command):
            continue  # the overview, and explain itself
        whole = not re.search(r"\|\s*(tail|sed|grep|awk)", command)
        table = False
        for line, after in zip(lines, [*lines[1:], ""]):
            cells = re.split(r"\s{2,}", line.strip())
            below = re.split(r"\s{2,}", after.strip())
            if is_heading(cells) and not is_heading(below) and len(below) > 1:
                table = True
                for cell in cells:
                    found.setdefault(cell, f"{file}: {command}")
            elif len(cells) < 2:
                table = False
            elif not table and whole and NAMED.search(command):
                # name, value, and perhaps a second pair beside it
                indent = len(line) - len(line.lstrip())
                if indent > 6 or not re.fullmatch(WORDS, cells[0]):
                    continue
                for cell in cells[0::2] if len(cells) % 2 == 0 else cells[:1]:
                    if re.search(r"[a-z]{2}", cell):
                        found.setdefault(cell, f"{file}: {command}")
    return found


def numbers(schema, found, name):
    if isinstance(schema, list):
        for item in schema:
            numbers(item, found, name)
    if not isinstance(schema, dict):
        return
    properties = schema.get("properties")
    for key, value in properties.items() if isinstance(properties, dict) else ():
        for one in (value, value.get("items") if isinstance(value.get("items"), dict) else {}):
            kinds = one.get("type", [])
            if {"number", "integer"} & set([kinds] if isinstance(kinds, str) else kinds):
                found.setdefault(key, f"schema/json/{name}")
    for value in schema.values():
        numbers(value, found, name)


def main():
    words = printed()
    headings = len(words)
    for file in sorted((ROOT / "schema" / "json").glob("*.json")):
        numbers(json.loads(file.read_text()), words, file.name)
    wrong = [f"{word!r} is not explained ({where})" for word, where in sorted(words.items())
             if subprocess.run([str(TOOL), "explain", "--", word], capture_output=True).returncode]
    if headings < 70 or len(words) < 230:
        wrong.append(f"only {headings} printed words and {len(words)} in all were found")
    if not subprocess.run([str(TOOL), "explain", "--", "gibberish"], capture_output=True).returncode:
        wrong.append("explain knows everything, even gibberish")
    print("\n".join(wrong) if wrong else f"{len(words)} words, all explained")
    if "-v" in sys.argv:
        print("\n".join(f"  {word}" for word in sorted(words)))
    sys.exit(1 if wrong else 0)


main()
