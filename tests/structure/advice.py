#!/usr/bin/env python3
"""Counts the lines of lib that name a command or an option of the command line in a string, and
refuses more than a handful: advice is the front end's (cli/showing/hint_words.cpp), so that a page or
a program can give it in its own words.

The check is first shown lines of each kind and must count them.
"""
import pathlib
import re
import sys

MOST = 5  # explanations that speak of an option, and the journal's own words for what was typed
TEXT = re.compile(r'"(?:[^"\\]|\\.)*"')


def naming(commands):
    names = "|".join(sorted(commands))
    return re.compile(rf"plumule (?:{names})\b|(?<![\w-])--[a-z]|`(?:plumule )?(?:{names})`|"
                      rf"\bamend (?:[A-Z]+\b|keeps)")


def lines_naming(pattern, text):
    for number, line in enumerate(text.splitlines(), 1):
        if line.lstrip().startswith(("//", "#include")):
            continue
        if any(pattern.search(part) for part in TEXT.findall(line)):
            yield number, line.strip()


def main():
    root = pathlib.Path(sys.argv[1])
    commands = {p.stem for p in (root / "cli/commands").glob("*.cpp")} - {"commands"}
    if not {"amend", "count", "undo"} <= commands:
        sys.exit(f"the commands were not found below {root}")
    pattern = naming(commands)
    for line in ('"Friday wrong? plumule amend K3."', '"Another day meant? --on DATE."',
                 '"ask `summary` or so"', '"until amend keeps it"'):
        if not list(lines_naming(pattern, line)):
            sys.exit(f"the check itself is broken: it does not see {line}")
    for line in ('// plumule amend', '#include "cli/amend.hpp"', '"no more than a dash -- here"'):
        if list(lines_naming(pattern, line)):
            sys.exit(f"the check itself is broken: it takes {line} for advice")
    found = [f"{p.relative_to(root)}:{number}: {line}"
             for p in sorted((root / "lib").rglob("*.[ch]pp"))
             for number, line in lines_naming(pattern, p.read_text())]
    print("\n".join(found))
    print(f"{len(found)} lines of lib name a command or an option")
    sys.exit(1 if len(found) > MOST else 0)


main()
