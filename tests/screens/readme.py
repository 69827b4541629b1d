#!/usr/bin/env python3
"""Runs the README: every ```console block in turn, in one folder, and compares what it shows.

A comment <!-- day 2026-04-20 --> sets the day that plumule takes for today from there on. In a
block "$ " is a command, all else is what it prints. --accept rewrites the blocks. Each command that
the program has must be mentioned in the README.
"""
import argparse
import pathlib
import re
import subprocess
import sys
import tempfile

import run


def main():
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--plumule", default=run.ROOT / "build/cli/plumule", type=pathlib.Path)
    reader.add_argument("--accept", action="store_true")
    args = reader.parse_args()
    readme = run.ROOT / "README.md"
    lines, out, troubles, day = readme.read_text().splitlines(), [], [], None
    blocks = 0
    with tempfile.TemporaryDirectory(prefix="plumule-readme-") as folder:
        work, environment = run.bench(folder, args.plumule.resolve())
        environment.pop("PLUMULE_WHO")
        environment["USER"] = "you"
        at = 0
        while at < len(lines):
            line = lines[at]
            at += 1
            out.append(line)
            if match := re.fullmatch(r"<!-- day (\d{4}-\d\d-\d\d) -->", line):
                day = match.group(1)
            if line != "```console":
                continue
            blocks += 1
            while lines[at] != "```":
                command = lines[at]
                at += 1
                expected = []
                while not lines[at].startswith("$ ") and lines[at] != "```":
                    expected.append(lines[at])
                    at += 1
                if not command.startswith("$ ") or day is None:
                    sys.exit(f"README: {command!r} is no command, or has no day")
                environment["SCREEN_DAY"] = day
                result = subprocess.run(["/bin/bash", "-c", command[2:]], cwd=work, text=True,
                                        env=environment, stdout=subprocess.PIPE,
                                        stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL,
                                        timeout=120)
                got = [g.rstrip() for g in run.plain(result.stdout, work).splitlines()]
                out += [command] + got
                if got != expected:
                    troubles.append("\n".join([command, "expected:"] + expected + ["got:"] + got))
    text = "\n".join(out) + "\n"
    if args.accept:
        readme.write_text(text)
        return
    help_page = subprocess.run([args.plumule.resolve(), "--help"], text=True, capture_output=True)
    names = re.findall(r"(?:^|\s{2,})([a-z]+) {2,}\S", help_page.stdout, re.M)
    troubles += [f"the README does not mention `plumule {n}`" for n in names
                 if f"plumule {n}" not in text and f"`{n}`" not in text]
    if blocks < 3 or len(names) < 15:
        troubles.append(f"only {blocks} blocks and {len(names)} commands found")
    print("\n\n".join(troubles + [f"README: {blocks} blocks, {len(troubles)} wrong"]))
    sys.exit(1 if troubles else 0)


main()
