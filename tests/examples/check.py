#!/usr/bin/env python3
"""Runs a worked example and compares what it prints with the lines after `// It prints:`."""
import subprocess
import sys

source, program = sys.argv[1:]
text = open(source, encoding="utf-8").read()
if "\n// It prints:\n" not in text:
    sys.exit(f"{source} does not say what it prints")
expected = [line[2:].removeprefix(" ").rstrip()
            for line in text.split("\n// It prints:\n")[1].splitlines()]
run = subprocess.run([program], capture_output=True, text=True)
got = [line.rstrip() for line in run.stdout.splitlines()]
if run.returncode != 0 or run.stderr:
    sys.exit(f"exit status {run.returncode}\n{run.stderr}")
if got != expected or not expected:
    sys.exit("expected:\n" + "\n".join(expected) + "\nprinted:\n" + "\n".join(got))
