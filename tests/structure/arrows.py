#!/usr/bin/env python3
"""Reads every #include line of lib, cli and schema and refuses one that points the wrong way, and a
.cpp that does not include its own header first, where the compiler sees it with nothing before it.

Linking cannot do this: all libraries' headers lie in the default include path. The check is first
shown a wrong line of each kind and must refuse it.
"""
import pathlib
import re
import sys

# Who may see whom among our own folders.
OURS = {
    "records": {"records"},
    "stats": {"stats"},
    "crops": {"crops", "schema"},
    "logbook": {"logbook", "records", "schema"},
    "analysis": {"analysis", "records", "stats", "crops"},
    "report": {"report", "analysis", "records"},
    "cli": {"cli", "logbook", "analysis", "report", "records", "crops", "schema"},
    "schema": {"schema"},
    "fmt.cpp": set(),
}
# Who may see which library. What is not listed here is the standard library, free to all.
LIBRARIES = {
    "SQLiteCpp/": {"logbook"},
    "sqlite3.h": {"logbook"},
    "boost/math/": {"stats"},
    "boost/": set(),
    "Eigen/": {"stats"},
    "fmt/": {"fmt.cpp", "crops", "logbook", "analysis", "report", "cli"},
    "nlohmann/": {"logbook", "report", "cli"},
    "CLI/": {"cli"},
}
# Heavy headers have one door each.
ONLY_IN = {
    "boost/math/distributions/": re.compile(r"lib/stats/distributions\w*\.cpp"),
    "CLI/": re.compile(r"cli/arguments\.cpp"),
}
INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]')


def room(path):
    parts = path.parts
    return parts[1] if parts[0] == "lib" else parts[0]


def wrong_arrows(path, text):
    here = room(path)
    for number, line in enumerate(text.splitlines(), 1):
        match = INCLUDE.match(line)
        if not match:
            continue
        target = match.group(1)
        where = f"{path}:{number}: "
        folder = target.split("/")[0]
        if folder in OURS and "/" in target and folder not in OURS[here]:
            yield f"{where}{here} may not see {folder} ({target})"
        for prefix, allowed in LIBRARIES.items():
            if target.startswith(prefix):
                if here not in allowed:
                    yield f"{where}{here} may not see {target}"
                break
        for prefix, door in ONLY_IN.items():
            if target.startswith(prefix) and not door.fullmatch(str(path)):
                yield f"{where}{target} has one door, and this file is not it"


def own_header_late(path, text, headers):
    """Whether a .cpp with a header of the same name includes another one before it."""
    own = path.with_suffix(".hpp")
    first = next((m.group(1) for m in map(INCLUDE.match, text.splitlines()) if m), "")
    return path.suffix == ".cpp" and own in headers and first != str(own).removeprefix("lib/")


def self_test():
    cases = [
        ("lib/stats/a.cpp", '#include "records/date.hpp"'),
        ("lib/stats/a.cpp", "#include <fmt/format.h>"),
        ("lib/stats/a.cpp", "#include <boost/math/distributions/beta.hpp>"),
        ("lib/logbook/a.cpp", '#include "stats/proportion.hpp"'),
        ("lib/report/a.cpp", '#include "logbook/find.hpp"'),
        ("lib/analysis/a.cpp", "#include <SQLiteCpp/SQLiteCpp.h>"),
        ("cli/a.cpp", "#include <CLI/CLI.hpp>"),
    ]
    for name, text in cases:
        if not list(wrong_arrows(pathlib.Path(name), text)):
            sys.exit(f"the check itself is broken: it lets {name} say {text}")
    late = pathlib.Path("lib/stats/a.cpp")
    if not own_header_late(late, '#include <span>\n#include "stats/a.hpp"', {late.with_suffix(".hpp")}):
        sys.exit("the check itself is broken: it lets a file include its own header late")


def main():
    root = pathlib.Path(sys.argv[1])
    self_test()
    files = [p for top in ("lib", "cli", "schema") for p in sorted((root / top).rglob("*.[ch]pp"))]
    if len(files) < 20:
        sys.exit(f"only {len(files)} files found below {root}")
    wrong = [w for p in files for w in wrong_arrows(p.relative_to(root), p.read_text())]
    headers = {p.relative_to(root) for p in files if p.suffix == ".hpp"}
    wrong += [f"{p.relative_to(root)}: its own header is not its first include" for p in files
              if own_header_late(p.relative_to(root), p.read_text(), headers)]
    print("\n".join(wrong) if wrong else f"{len(files)} files, every arrow points the right way")
    sys.exit(1 if wrong else 0)


main()
