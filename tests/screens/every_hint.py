#!/usr/bin/env python3
"""Every hint works: each command that a screen, a refusal or the README prints is run where it was
printed, in a copy of the logbook in that state, and must end with 0, leave a sound logbook and lose
no file.

Three kinds are found in what the commands of tests/screens/*/*.test and README.md print:
  a command       "plumule amend A1 --reopen"
  a pair          "Two died? K3=12-2.": the refused command again with that pair in its place
  an option       "Sown over? Add --over.": the refused command again with that option
A word in capitals (LOT, DATE, N) stands for what the reader has to fill in: of the values that the
logbook offers for it one must do. In the walk a pair is typed without its label; those are left out.
What is printed must pass bash, zsh and fish without quotes: only letters that none of them reads as
a sign of its own. Names on the command line choose files.
"""
import argparse
import concurrent.futures
import datetime
import itertools
import pathlib
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile

import run

# Each call of plumule leaves what it was given, what it said, and the folder as it then was.
RECORDER = """#!/bin/sh
at="$HINTS/$$"
mkdir "$at"
printf '%s\\n' "$@" >"$at/words"
pwd >"$at/pwd"
for name in PLUMULE_LOG PLUMULE_WHO USER HOME XDG_DATA_HOME; do
  eval "[ -n \\"\\${$name+x}\\" ] && printf '%s=%s\\n' $name \\"\\$$name\\"" >>"$at/env"
done
"$HINTS_TOOL" "$@" >"$at/out" 2>"$at/err"
status=$?
echo $status >"$at/status"
cat "$at/out"
cat "$at/err" >&2
[ -s "$at/err" ] || grep -q 'plumule ' "$at/out" && cp -a "$HINTS_FOLDER" "$at/state"
exit $status
"""
# What follows a command in its sentence.
PROSE = set("""a adds alone and as asks at changes count finds first for gives goes has in is it keeps
looks makes may names of on or over puts saves says settles shows takes tells that the then to truly under when
with""".split())
ONE = r"--[a-z-]+(?: (?:[A-Z]+|[\w.-]*\d(?:[\w.:-]*\w)?|tray|bean))?"
OPTIONS = re.compile(rf"(?<![\w-]){ONE}(?: {ONE})*(?=[.,;?](?:\s|$)|\s|$)")
SAFE = re.compile(r"[A-Za-z0-9_./:,@%+-][A-Za-z0-9_./:,@%+=-]*")
PLACEHOLDER = re.compile(r"(?<![A-Za-z0-9])(N|G|DATE|LOT|NAME|LABEL|CROP|WORD|TREATMENT|ID|FILE|DIR|"
                         r"COPY\.db|UNITS|SEEDLINGS|LOST|MORE|LO|HI|PLACE|COMMAND)(?![A-Za-z0-9])")
PAIR = re.compile(r"(?<![\w=/.-])([A-Za-z0-9][\w.-]*(?:@[\d-]+)?)([=+])((?:[\w/+-]|\.(?=[\w.]))+)")


# What repeats the call, or tells of one: no hint.
ECHOES = ["It was: plumule", "is given twice", "holds characters", "Journal line", "Taken as it is"]
# An option as it was typed, and what is wrong with it.
TYPED = re.compile(r"--[a-z-]+(?: \S+)?:(?=\s)")
# Hints that need something else first, by the reason.
LATER = {
    r"plumule amend \S+ --keep d\d+": "kept against the rules: once what contradicts it is amended",
    r"plumule amend C1@2025-04-01 --reopen": "another sowing of that label is open",
    r"plumule compare --treatment .*": "once two treatments are sown",
    r"plumule (--log ('[^']*'|\S+) )?init": "once the file that lies in its place is removed, as is said",
    r"--on 2026-04-19T17:00": "in a blind trial: a lower figure later that day is asked about",
    r"--ignore-columns": "once every other fault that is listed is mended",
    r"rotted=3": "how a pair looks, not which",
}


class Call:
    """One call of plumule as the recorder kept it."""

    def __init__(self, at):
        read = lambda name: (at / name).read_text(errors="replace") if (at / name).exists() else ""
        self.words = read("words").split("\n")[:-1]
        self.pwd = read("pwd").strip()
        self.environment = dict(line.split("=", 1) for line in read("env").splitlines())
        self.out, self.err = read("out"), read("err")
        self.status = int(read("status") or 0)
        self.state = at / "state"

    def value(self, option):
        """What was typed after an option; empty: nothing."""
        at = self.words.index(option) if option in self.words else len(self.words)
        return self.words[at + 1] if at + 1 < len(self.words) else ""


def unwrapped(text):
    """Lines that were broken only for their width are put together again."""
    lines = text.split("\n")
    out = lines[0]
    for before, line in zip(lines, lines[1:]):
        word = line.split(" ")[0] if line[:1] != " " else (line.split() or [""])[0]
        if line.startswith("  plumule ") and before.startswith("  plumule "):
            word = ""  # a list of commands
        out += (" " + line.strip()) if word and before and len(before) + 1 + len(word) > 80 else "\n" + line
    return out


def commands_in(text, names):
    """Each command in a text, and the text without them."""
    found, rest, at = [], "", 0
    for match in re.finditer(r"(?<![\w/.-])plumule (?=[a-z-])", text):
        if match.start() < at:
            continue
        words, end = [], match.end()
        while True:
            word = re.compile(r"'[^']*'|\"[^\"]*\"|[^\s`]+").match(text, end)
            if not word or word.group().startswith("("):
                break
            bare = word.group().rstrip("?;,)`" if word.group().startswith(("'", '"')) else ".?;,:)`")
            if word.group() == "...":
                words = []  # what is to follow is not said
                break
            if (bare in PROSE and words) or re.fullmatch(r"[^\s=]+:", word.group()):
                break  # or the next paragraph has begun
            words.append(bare)
            end = word.start() + len(bare)
            if bare != word.group() or text[end:end + 1] in "\n`":
                break
            end += 1
        verbs = [w for w in words if not w.startswith("-")]
        if not words or not (set(words) & names or "--help" in words or "--version" in words):
            continue
        found.append(words)
        rest += text[at:match.start()]
        at = end
    return found, rest + text[at:]


def hints_of(call, names):
    """Each hint as a list of words to run after plumule, with the words as printed."""
    if {"--json", "pages", "--help", "--help-all", "-h", "help", "--list"} & set(call.words):
        return  # of help pages the examples are run by every_command.py
    if any(echo in unwrapped(call.out + call.err) for echo in ECHOES):
        return
    again = [w for w in call.words]
    for text in (unwrapped(call.out), unwrapped(call.err)):
        printed, rest = commands_in(text, names)
        for words in printed:
            yield " ".join(["plumule"] + words), words
        if call.status == 0 or text != unwrapped(call.err):
            continue
        rest = TYPED.sub("", rest)
        for match in PAIR.finditer(rest):
            pair = match.group()
            place = [i for i, w in enumerate(again)
                     if re.match(re.escape(match.group(1)) + r"(@[\d-]+)?[=+]", w, re.I)]
            if place and again[place[0]].lower() != pair.lower():
                yield pair, again[:place[0]] + [pair] + again[place[0] + 1:]
        for match in OPTIONS.finditer(rest):
            words = with_options(call, match.group().split())
            if words is not None:
                yield match.group(), words


def with_options(call, typed):
    """The refused call with these options; none where they only say what was typed."""
    words, changed = list(call.words), False
    wrong = re.search(r"There is no option (--\S+) here", call.err)
    if wrong and wrong.group(1) in words:  # a slip: the right one in its place
        words[words.index(wrong.group(1))] = typed[0]
        return words
    for option, value in zip(typed, typed[1:] + ["--"]):
        if not option.startswith("--") or any(w.startswith(option + "=") for w in call.words):
            continue
        value = "" if value.startswith("--") else value
        if option in words:
            i = words.index(option)
            if not value or words[i + 1:i + 2] == [value]:
                continue
            words[i + 1:i + 2] = [value]
        else:
            if value in words:  # typed without its option
                words.remove(value)
            words += [option] + ([value] if value else [])
        changed = True
    return words if changed else None


def offers(state, call, today):
    """What the logbook offers for each placeholder."""
    log = pathlib.Path(call.value("--log") or call.environment.get("PLUMULE_LOG", "log.db"))
    some = {"LOT": [], "NAME": [], "LABEL": [], "DATE": [today], "TREATMENT": [], "PLACE": ["shelf"]}
    try:
        with sqlite3.connect(f"file:{state / 'work' / log}?mode=ro", uri=True) as book:
            ask = lambda sql: [row[0] for row in book.execute(sql)]
            some["LOT"] = ask("select code from lots")
            some["LABEL"] = ask("select label from sowings order by ended_as is not null")
            some["NAME"] = ask("select code from trials") + some["LOT"] + some["LABEL"]
            some["TREATMENT"] = ask("select label from treatments")
            days = ask("select distinct sown_on from sowings union select counted_on from daily_counts")
            some["DATE"] += sorted({d[:10] for d in days if d}, reverse=True)
            some["ID"] = [f"{kind}{n}" for kind in "atnrd" for n in range(1, 4)]
    except sqlite3.Error:
        pass
    base = datetime.date.fromisoformat(re.sub("T.*", "", today)) if today[:2] == "20" else None
    if base:
        some["DATE"] += [str(base + datetime.timedelta(n)) for n in (*range(-1, -25, -1), 1, 14)]
    some["NAME"] = ["NEW-9", *some["NAME"]]
    some["LOT"] += ["HINT-1"]
    some["LABEL"].insert(0, "NEW9")
    some["NAME"].append("beet")
    numbers = [str(n) for n in (0, 1, 2, 5, 10, 14, 20, 25, 30, 40, 50, 100, 3, 4, 6, 8, 12)]
    some.update({"N": numbers, "G": numbers, "UNITS": numbers, "SEEDLINGS": numbers, "LOST": numbers,
                 "MORE": numbers, "LO": ["1"], "HI": ["50"], "CROP": ["bean"], "WORD": ["synchrony"],
                 "FILE": ["hint-copy.db"], "COPY.db": ["hint-copy.db"], "DIR": ["hint-new"],
                 "COMMAND": ["count"]})
    return some


def filled(words, some):
    """The words with every placeholder filled, in each way that is offered."""
    holes = []
    for word in words:
        for match in PLACEHOLDER.finditer(word):
            if match.group() not in holes:
                holes.append(match.group())
    for values in itertools.islice(itertools.product(*(some.get(h, []) for h in holes)), 120):
        fill = dict(zip(holes, values))
        yield [PLACEHOLDER.sub(lambda m: fill[m.group()], word) for word in words]


class Trial:
    """Runs hints of one file, each in a copy of its own."""

    def __init__(self, plumule, folder, environment):
        self.plumule, self.folder, self.environment = plumule, folder, environment
        self.count = 0
        self.sound = {}  # what check says of a state before its hints are run

    def run(self, call, words, day, first=()):
        with tempfile.TemporaryDirectory(prefix="plumule-hint-") as at:
            copy = pathlib.Path(at) / "copy"
            shutil.copytree(call.state, copy, symlinks=True)
            move = lambda text: text.replace(str(self.folder), str(copy))
            environment = {**self.environment, **{k: move(v) for k, v in call.environment.items()}}
            for name in ("PLUMULE_WHO", "USER", "XDG_DATA_HOME"):
                if name not in call.environment:
                    environment.pop(name, None)
            words = [move(w) for w in words]
            if "--today" not in words:
                words = words + ["--today", day]
            bare = [w.strip("'\"") if w[:1] in "'\"" else w for w in words]
            tell = lambda *more: subprocess.run(
                [self.plumule, *more], cwd=move(call.pwd), env=environment, text=True,
                capture_output=True, timeout=120, stdin=subprocess.DEVNULL, errors="replace")
            book = bare[bare.index("--log"):][:2] if "--log" in bare else []
            if call.status == 2 and not book:  # mistyped before any logbook was asked for
                tell("init")
            if "hint-copy.db" in bare:  # where the log is damaged, that of another
                tell("backup", "hint-copy.db", "--today", day)
                if tell("--log", "hint-copy.db", "check").returncode != 0:
                    (pathlib.Path(move(call.pwd)) / "hint-copy.db").unlink(missing_ok=True)
                    tell("--log", "hint-copy.db", "init")
            if "hint-log.db" in bare:
                tell("--log", "hint-log.db", "init")
            if "HINT-1" in bare:
                tell(*book, "lot", "HINT-1", "--crop", "bean")
            if told := re.search(r"PLUMULE_LOG=(\S+)", call.out):
                environment["PLUMULE_LOG"] = move(told.group(1))
            for earlier in first:
                tell(*earlier, "--today", day)
            state = (str(call.state), tuple(book), tuple(map(tuple, first)))
            if state not in self.sound or book[1:] == ["hint-copy.db"]:
                self.sound[state] = tell(*book, "check").returncode == 0
            sound = self.sound[state]
            before = {p.relative_to(copy) for p in copy.rglob("*")
                      if p.is_file() and not p.name.endswith("-journal")}
            done = tell(*bare)
            self.count += 1
            # A check that finds damage is right where it says how to go on.
            told = "check" in bare and re.search("What to do: |To go back to a backup: ",
                                                 unwrapped(done.stdout + done.stderr))
            if done.returncode != 0 and not told:
                return f"ends with {done.returncode}: {done.stderr.strip() or done.stdout.strip()}"
            if sound and (check := tell(*book, "check")).returncode != 0:
                return f"leaves a logbook that check faults: {check.stdout.strip()}"
            gone = [str(p) for p in before if not (copy / p).exists()]
            return f"loses {', '.join(gone)}" if gone else None

    @staticmethod
    def listed_before(call, words, names):
        """Of commands listed line by line, to be typed one after the other, those before this."""
        listed = [commands_in(line, names)[0] for line in call.out.splitlines()
                  if re.match(" {2,}plumule ", line)]
        commands = [one[0] for one in listed if one]
        return commands[:commands.index(words)] if words in commands else []

    def all_of(self, call, day, names, seen):
        """What is wrong with the hints of one call."""
        day = (call.status != 2 and call.value("--today")) or day
        for printed, words in hints_of(call, names):
            if any(re.fullmatch(later, printed) for later in LATER):
                continue
            key = (printed, tuple(words), tuple(call.words))
            if key in seen:
                continue
            seen.add(key)
            if not all(SAFE.fullmatch(w) or w[:1] in "'\"" for w in printed.split()[1:] or [printed]) \
                    and "'" not in printed and '"' not in printed:
                yield f"{printed}: a shell would read a sign in it"
                continue
            if call.status != 0 and words == call.words:
                continue
            first = self.listed_before(call, words, names)
            wrong = "none of its values does"
            if printed == "--log FILE":  # whether another can be used
                words = ["check", "--log", "hint-log.db"]
            for attempt in filled(words, offers(call.state, call, day)):
                wrong = self.run(call, attempt, day, first)
                if wrong is None:
                    break
            named = re.fullmatch(r"--[a-z-]+", printed) and "needs a value" in (wrong or "")
            if wrong is not None and not named:  # the name of an option is no command
                yield f"after: plumule {' '.join(call.words)}\n  hint: {printed}\n  {wrong}"


def runs_of(path):
    """The commands of a screen test or of the README, each with its day."""
    day = "2026-04-20"
    if path.suffix == ".test":
        for block in run.parse(path.read_text()):
            if block[0] == "keep" and block[1].startswith("@ "):
                day = block[1][2:].strip()
            elif block[0] == "run":
                yield "\n".join(block[1]), day
        return
    inside = False
    for line in path.read_text().splitlines():
        if match := re.fullmatch(r"<!-- day (\d{4}-\d\d-\d\d) -->", line):
            day = match.group(1)
        inside = line == "```console" or (inside and line != "```")
        if inside and line.startswith("$ "):
            yield line[2:], day


def try_file(path, plumule, names):
    with tempfile.TemporaryDirectory(prefix="plumule-hints-") as at:
        folder = pathlib.Path(at).resolve() / "folder"
        folder.mkdir()
        work, environment = run.bench(folder, plumule)
        tool = folder / "bin" / "plumule"
        (folder / "bin" / "told").write_text(tool.read_text())
        (folder / "bin" / "told").chmod(0o755)
        tool.write_text(RECORDER)
        hints = pathlib.Path(at).resolve() / "hints"
        hints.mkdir()
        recording = {**environment, "HINTS": str(hints), "HINTS_FOLDER": str(folder),
                     "HINTS_TOOL": str(folder / "bin" / "told")}
        trial, wrong, seen = Trial(str(plumule), folder, environment), [], set()
        for command, day in runs_of(path):
            recording["SCREEN_DAY"] = day
            subprocess.run(["/bin/bash", "-c", command], cwd=work, env=recording, text=True,
                           capture_output=True, timeout=300, stdin=subprocess.DEVNULL,
                           errors="replace")
            for kept in sorted(hints.iterdir(), key=lambda p: p.stat().st_mtime):
                if (kept / "state").exists():
                    wrong += trial.all_of(Call(kept), day, names, seen)
                shutil.rmtree(kept)
        return trial.count, [f"{path.name}: {text}" for text in wrong]


def main():
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--plumule", default=run.ROOT / "build/cli/plumule", type=pathlib.Path)
    reader.add_argument("names", nargs="*")
    args = reader.parse_args()
    tool = args.plumule.resolve()
    listed = subprocess.run([tool, "pages", "list"], text=True, capture_output=True).stdout
    names = {line.split("\t")[0] for line in listed.splitlines()}
    files = [f for f in [*sorted(run.HERE.rglob("*.test")), run.ROOT / "README.md"]
             if not args.names or any(name in f.stem for name in args.names)]
    count, wrong = 0, []
    with concurrent.futures.ProcessPoolExecutor(2) as workers:
        for some, troubles in workers.map(try_file, files, [tool] * len(files), [names] * len(files)):
            count += some
            wrong += troubles
    if not args.names and count < 200:
        wrong.append(f"only {count} hints were run: the search is broken")
    print("\n\n".join(wrong + [f"{count} hints run, {len(wrong)} wrong"]))
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
