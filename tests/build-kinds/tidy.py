#!/usr/bin/env python3
"""clang-tidy over every source file of lib and cli, those of a folder together.

    cmake -C tests/build-kinds/tidy.cmake -G Ninja -B build/tidy
    cmake --build build/tidy --target plumule_kind_library plumule_kind_words
    tests/build-kinds/tidy.py build/tidy [FILE ...]

Most of clang-tidy's time goes into headers, over and over for each file that includes them. So a
source is made that includes up to twelve files of a folder, and they are read at once. Files that
name things alike in their unnamed namespaces are not put together; where it could not be seen
beforehand that they do not compile so, they are read again by themselves. The compilers' own
warnings are for the two builds.
"""
import concurrent.futures
import json
import os
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
MOST = 12  # files in a lot: two processors then end at about the same time


def lines_of(build):
    """The command of each file, and the folder that it is run in."""
    return {line["file"]: line for line in json.loads((build / "compile_commands.json").read_text())}


def names_of(file):
    """What a file's unnamed namespaces hold, as far as its lines tell."""
    text = pathlib.Path(file).read_text()
    inside = re.findall(r"^namespace \{$(.*?)^\}  // namespace$", text, re.S | re.M)
    return set(re.findall(r"^(?!using [\w:]+;)\w[^\n(={;]*?(\w+)(?:\[\w*\])? ?[(={;]",
                          "\n".join(inside), re.M))


def lots_of(files):
    """Files of one folder in as few lots as their names allow."""
    lots = []
    for file in files:
        names = names_of(file)
        for lot, taken in lots:
            if len(lot) < MOST and not names & taken:
                lot.append(file)
                taken |= names
                break
        else:
            lots.append(([file], set(names)))
    return [lot for lot, _ in lots]


def command_of(together, name, files, line):
    """A source that includes these files, and how it is compiled: like the first of them."""
    source = together / f"{name}.cpp"
    source.write_text("".join(f'#include "{file}"\n' for file in files))
    return {"file": str(source), "directory": line["directory"],
            "command": re.sub(r" -o \S+ -c \S+$", f" -w -c {source}", line["command"])}


def read(together, name, files, lines):
    """What clang-tidy finds in files that stand together."""
    folder = together / name
    folder.mkdir(exist_ok=True)
    entry = command_of(folder, name, files, lines[files[0]])
    (folder / "compile_commands.json").write_text(json.dumps([entry]))
    done = subprocess.run(["clang-tidy-22", "--quiet", f"--config-file={ROOT / '.clang-tidy'}",
                           "--checks=-bugprone-suspicious-include", "-p", folder, entry["file"]],
                          capture_output=True, text=True)
    if done.returncode == 0:
        return ""
    refused = re.findall(r"^(\S+?\.cpp):\d+:\d+: error: .*\[clang-diagnostic-error\]",
                         done.stdout, re.M)
    apart = [file for file in files if file in refused] or files[1:]
    if len(files) == 1 or not refused:
        return done.stdout + done.stderr
    rest = [file for file in files if file not in apart]
    again = [rest] * bool(rest) + [[file] for file in apart]
    return "".join(read(together, f"{name}_{i}", lot, lines) for i, lot in enumerate(again))


def main():
    build = pathlib.Path(sys.argv[1]).resolve()
    lines = lines_of(build)
    asked = [str(pathlib.Path(name).resolve()) for name in sys.argv[2:]]
    folders = {}
    for file in asked or sorted(file for file in lines
                                if file.startswith((f"{ROOT}/lib/", f"{ROOT}/cli/"))):
        folders.setdefault(str(pathlib.Path(file).parent.relative_to(ROOT)), []).append(file)
    together = build / "together"
    together.mkdir(exist_ok=True)
    lots = [(f"{folder.replace('/', '_')}_{i}", lot) for folder, files in folders.items()
            for i, lot in enumerate(lots_of(files))]
    lots.sort(key=lambda named: -len(named[1]))  # the longest first, so that none is waited for
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        found = [text for text in pool.map(lambda lot: read(together, *lot, lines), lots) if text]
    print("\n".join(found))
    sys.exit(1 if found else 0)


main()
