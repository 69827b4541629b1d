#!/usr/bin/env python3
"""Screen tests: commands, their exact output and exit status, as plain text files.

    # what this file shows              a title, or any remark
    @ 2026-04-20                        from here on, the day that plumule takes for today
    $ plumule count A1=12               a command for the shell; "> " carries it on over more lines
      Mon 20 Apr                        stdout, indented by two blanks
    ! A1: more up than sown ...         stderr
    ? 1                                 the exit status, where it is not 0

The commands of one file share a new folder and the logbook log.db in it. Where --json is asked for,
the answer is also held against the command's schema in schema/json. The clock's own day and time
are shown as NOW. Names on the command line choose files; --accept rewrites what is expected.
"""
import argparse
import datetime
import difflib
import json
import os
import pathlib
import re
import stat
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
WRAPPER = """#!/bin/sh
for word in "$@"; do
  case $word in --today|--today=*) exec "$PLUMULE_REAL" "$@" ;; esac
done
exec "$PLUMULE_REAL" "$@" --today "$SCREEN_DAY"
"""


def parse(text):
    """A list of blocks: ("keep", line) or ("run", command lines, expected lines)."""
    blocks = []
    for number, line in enumerate(text.splitlines(), 1):
        if line.startswith("$ "):
            blocks.append(("run", [line[2:]], []))
        elif line.startswith("> ") and blocks and blocks[-1][0] == "run" and not blocks[-1][2]:
            blocks[-1][1].append(line[2:])
        elif line.startswith(("  ", "! ", "? ")) or line in ("!", ""):
            if line == "" or not blocks or blocks[-1][0] != "run":
                blocks.append(("keep", line))
            else:
                blocks[-1][2].append(line)
        elif line.startswith(("#", "@ ")):
            blocks.append(("keep", line))
        else:
            sys.exit(f"line {number} is of no kind: {line}")
    return blocks


def plain(text, folder):
    text = text.replace(str(folder), "DIR")
    # The last bits of a double are the compiler's and the machine's own.
    text = re.sub(r"-?\d+\.\d{13,}(e[-+]?\d+)?", lambda m: f"{float(m.group()):.10g}", text)
    now = datetime.datetime.now(datetime.timezone.utc)
    for day in (now, now - datetime.timedelta(days=1)):
        date = day.strftime("%Y-%m-%d")
        text = re.sub(date + r"([\sT]+\d\d:\d\d(:\d\dZ)?)?", "NOW", text)
    return text


def shown(result, folder):
    out = ["  " + line if line else "  " for line in plain(result.stdout, folder).splitlines()]
    err = ["! " + line if line else "!" for line in plain(result.stderr, folder).splitlines()]
    lines = [line.rstrip() or "  " for line in out] + [line.rstrip() for line in err]
    if result.returncode != 0:
        lines.append(f"? {result.returncode}")
    return lines


def validate(command, text):
    """What is wrong with a JSON answer, or None."""
    import jsonschema
    words = [w for w in command.split() if re.fullmatch(r"[a-z]+", w)]
    names = [w for w in words if (ROOT / "schema" / "json" / f"{w}.json").exists()]
    try:
        answer = json.loads(text)
    except ValueError as error:
        return f"no JSON: {error}"
    if not names:
        return "no schema in schema/json for it"
    schema = json.loads((ROOT / "schema" / "json" / f"{names[0]}.json").read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    errors = sorted(jsonschema.Draft202012Validator(schema).iter_errors(answer), key=str)
    return "; ".join(f"{list(e.path)}: {e.message}" for e in errors[:3]) or None


def bench(folder, plumule):
    """The folder that commands run in and their environment: a log, a day, no colour."""
    folder = pathlib.Path(folder).resolve()
    work = folder / "work"
    work.mkdir()
    tool = folder / "bin" / "plumule"
    tool.parent.mkdir()
    tool.write_text(WRAPPER)
    tool.chmod(tool.stat().st_mode | stat.S_IXUSR)
    environment = {
        "PATH": f"{tool.parent}:/usr/bin:/bin", "HOME": str(folder), "TZ": "UTC", "LC_ALL": "C",
        "PLUMULE_LOG": "log.db", "PLUMULE_WHO": "Wenna", "PLUMULE_REAL": str(plumule),
        "NO_COLOR": "1", "SAMPLE_LOGS": str(ROOT / "sample-logs"),
    }
    for key in os.environ:  # sanitizers are told where to write by these
        if key.endswith("SAN_OPTIONS"):
            environment[key] = os.environ[key]
    return work, environment


def run_file(path, plumule, accept):
    """Runs one file; returns what is wrong, as text."""
    troubles, lines, day = [], [], "2026-04-20"
    with tempfile.TemporaryDirectory(prefix="plumule-screen-") as folder:
        work, environment = bench(folder, plumule)
        for block in parse(path.read_text()):
            if block[0] == "keep":
                if block[1].startswith("@ "):
                    day = block[1][2:].strip()
                lines.append(block[1])
                continue
            _, command, expected = block
            environment["SCREEN_DAY"] = day
            result = subprocess.run(["/bin/bash", "-c", "\n".join(command)], cwd=work,
                                    env=environment, text=True, capture_output=True, timeout=300,
                                    stdin=subprocess.DEVNULL, errors="replace")
            got = shown(result, work)
            lines.append("$ " + command[0])
            lines += ["> " + more for more in command[1:]]
            lines += got
            answer = re.search(r"plumule [^|;]*--json[^|;]*$", command[-1])
            if answer and result.stdout.strip():
                wrong = validate(answer.group(), result.stdout)
                if wrong:
                    troubles.append(f"{path.name}: {command[0]}\n  JSON: {wrong}")
            if got != expected and not accept:
                diff = difflib.unified_diff(expected, got, "expected", "got", lineterm="", n=1)
                troubles.append(f"{path.name}: $ {command[0]}\n" + "\n".join(diff))
    if accept:
        path.write_text("\n".join(lines) + "\n")
    return "\n".join(troubles)


def main():
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--plumule", default=ROOT / "build" / "cli" / "plumule", type=pathlib.Path)
    reader.add_argument("--accept", action="store_true")
    reader.add_argument("names", nargs="*")
    args = reader.parse_args()
    files = sorted(HERE.rglob("*.test"))
    if args.names:
        files = [f for f in files if any(name in f.stem for name in args.names)]
    if not files:
        sys.exit("no screen test of that name")
    wrong = [t for t in (run_file(f, args.plumule.resolve(), args.accept) for f in files) if t]
    print("\n\n".join(wrong + [f"{len(files)} screens, {len(wrong)} wrong"]))
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
