#!/usr/bin/env python3
"""Reads every #include line of lib, cli and schema and refuses one that points the wrong way, between
rooms or between the sub-rooms of one, or at another room's header that is not public, a .cpp that
does not include its own header first, where the compiler sees it with nothing before it, a finding
that points at what may be gone before it, and a
folder that holds too many files.

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
    "bench": {"bench", "logbook", "records", "crops"},
    "analysis": {"analysis", "records", "stats", "crops"},
    "report": {"report", "analysis", "records"},
    "cli": {"cli", "bench", "logbook", "analysis", "report", "records", "crops", "schema"},
    "schema": {"schema"},
    "fmt.cpp": set(),
}
# And among the sub-rooms of a folder: each sees those named for it, and none sees out into a file
# that lies in the folder itself, unless "" is named.
ROOMS = {
    "stats": {
        "numeric": set(),
        "inference": {"numeric"},
        "proportions": {"inference", "numeric"},
        "trays": {"proportions", "inference", "numeric"},
        "ageing": {"trays", "inference", "numeric"},
        "sowing": {"ageing", "trays", "numeric"},
        "stand": {"trays", "proportions", "inference", "numeric"},
        "times": {"inference", "numeric"},
        "emerging": {"times", "ageing", "numeric"},
        "trials": {"times", "stand", "trays", "proportions", "inference", "numeric"},
    },
    "analysis": {
        "course": set(),
        "rho": {"course"},
        "summary": {"rho", "course"},
        "trial": {"course"},
        "comparison": {"trial", "summary", "rho", "course", ""},
        "lots": {"summary", "rho", "course"},
        "explain": set(),
        "": {"course"},
    },
    "report": {
        "parts": set(),
        "crops": {"parts", ""},
        "summary": {"parts", ""},
        "comparison": {"summary", "parts", ""},
        "viability": {"summary", "parts", ""},
        "": {"parts"},
    },
}
MOST_FILES = 40  # in one folder, beside its sub-rooms
# Who may see which library. What is not listed here is the standard library, free to all.
LIBRARIES = {
    "SQLiteCpp/": {"logbook"},
    "sqlite3.h": {"logbook"},
    "boost/math/": {"stats"},
    "boost/": set(),
    "Eigen/": {"stats"},
    "fmt/": {"fmt.cpp", "crops", "logbook", "bench", "analysis", "report", "cli"},
    "nlohmann/": {"logbook", "report", "cli"},
    "CLI/": {"cli"},
}
# Heavy headers have one door each.
ONLY_IN = {
    "boost/math/distributions/": re.compile(r"lib/stats/numeric/distributions\w*\.cpp"),
    "CLI/": re.compile(r"cli/options/arguments\.cpp"),
}
INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]')


def room(path):
    parts = path.parts
    return parts[1] if parts[0] == "lib" else parts[0]


def sub_room(parts):
    """The folder that a file lies in within its room: "" for the room itself."""
    return parts[1] if len(parts) > 2 else ""


def public_headers(root):
    """What each room offers to others: PUBLIC_HEADERS in its CMakeLists.txt, as it is included."""
    for listing in sorted(root.glob("lib/*/CMakeLists.txt")):
        offered = re.search(r"PUBLIC_HEADERS([^A-Z)]*)", listing.read_text())
        for header in offered.group(1).split() if offered else ():
            yield f"{listing.parent.name}/{header}"


def wrong_arrows(path, text, public):
    here = room(path)
    rooms, inner = ROOMS.get(here), sub_room(path.parts[1:])
    for number, line in enumerate(text.splitlines(), 1):
        match = INCLUDE.match(line)
        if not match:
            continue
        target = match.group(1)
        where = f"{path}:{number}: "
        folder = target.split("/")[0]
        if folder in OURS and "/" in target and folder not in OURS[here]:
            yield f"{where}{here} may not see {folder} ({target})"
        elif folder in OURS and folder not in ("schema", "cli") and target not in public:
            if folder != here:
                yield f"{where}{target} is not among the PUBLIC_HEADERS of {folder}"
            elif str(path).removeprefix("lib/") in public:
                yield f"{where}a public header may not see {target}, which is not public"
        if folder == here and rooms:
            other = sub_room(tuple(target.split("/")))
            if inner not in rooms or other not in rooms[inner] | {inner}:
                yield f"{where}{here}/{inner} may not see {target}"
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


# A data member, and what makes one point at another's: a pointer, a reference, a view.
MEMBER = re.compile(r"^ +(?!return|using|throw|//)[\w:<>,*& ]+[ >*&]\w+( = [^;()]+|\{\})?;")
POINTS = re.compile(r"[\w>]\s?[*&]|\bspan<|\bstring_view\b")
# The words of `explain` are constants of the program: they outlive every answer.
CONSTANTS = {"lib/analysis/explain/explanation.hpp"}


def points_elsewhere(path, text):
    """Members of findings (the headers of lib/analysis) that point at what somebody else owns."""
    if room(path) != "analysis" or path.suffix != ".hpp" or str(path) in CONSTANTS:
        return
    for number, line in enumerate(text.splitlines(), 1):
        declared = line.split("//")[0].rstrip()
        if MEMBER.match(declared) and POINTS.search(declared.split(" = ")[0]):
            yield f"{path}:{number}: a finding holds values, nothing that may be gone before it"


def self_test():
    cases = [
        ("lib/stats/a.cpp", '#include "records/date.hpp"'),
        ("lib/stats/a.cpp", "#include <fmt/format.h>"),
        ("lib/stats/trays/a.cpp", "#include <boost/math/distributions/beta.hpp>"),
        ("lib/stats/trays/a.cpp", '#include "stats/trials/claims.hpp"'),
        ("lib/stats/a.cpp", '#include "stats/trays/tray_aware.hpp"'),
        ("lib/logbook/a.cpp", '#include "stats/proportions/proportion.hpp"'),
        ("lib/report/a.cpp", '#include "logbook/record/find.hpp"'),
        ("lib/bench/a.cpp", '#include "analysis/due_today.hpp"'),
        ("lib/bench/a.cpp", "#include <nlohmann/json.hpp>"),
        ("lib/analysis/a.cpp", "#include <SQLiteCpp/SQLiteCpp.h>"),
        ("cli/a.cpp", "#include <CLI/CLI.hpp>"),
        ("cli/a.cpp", '#include "logbook/store/store.hpp"'),
        ("lib/logbook/logbook.hpp", '#include "logbook/store/store.hpp"'),
    ]
    for name, text in cases:
        if not list(wrong_arrows(pathlib.Path(name), text, {"logbook/logbook.hpp"})):
            sys.exit(f"the check itself is broken: it lets {name} say {text}")
    for member in ("  const records::History* history = nullptr;", "  std::span<const int> days;",
                   "  std::vector<const crops::Crop*> near;  // three", "  std::string_view name;",
                   "  const TrialLayout& layout_;"):
        if not list(points_elsewhere(pathlib.Path("lib/analysis/a.hpp"), member)):
            sys.exit(f"the check itself is broken: it lets a finding hold {member.strip()}")
    for plain in ("  std::string name;", "  double p() const;", "  int units = 0;  // a & b"):
        if list(points_elsewhere(pathlib.Path("lib/analysis/a.hpp"), plain)):
            sys.exit(f"the check itself is broken: it lets no finding hold {plain.strip()}")
    late = pathlib.Path("lib/stats/a.cpp")
    if not own_header_late(late, '#include <span>\n#include "stats/a.hpp"', {late.with_suffix(".hpp")}):
        sys.exit("the check itself is broken: it lets a file include its own header late")


def crowded(root):
    for top in ("lib", "cli", "schema", "tests", "sample-logs"):
        for folder in [root / top, *(p for p in sorted((root / top).rglob("*")) if p.is_dir())]:
            count = sum(1 for p in folder.iterdir() if p.is_file())
            if count > MOST_FILES:
                yield f"{folder.relative_to(root)}: {count} files, more than {MOST_FILES}"


def main():
    root = pathlib.Path(sys.argv[1])
    self_test()
    files = [p for top in ("lib", "cli", "schema") for p in sorted((root / top).rglob("*.[ch]pp"))]
    if len(files) < 20:
        sys.exit(f"only {len(files)} files found below {root}")
    public = set(public_headers(root))
    if len(public) < 20:
        sys.exit(f"only {len(public)} public headers found below {root}")
    wrong = [w for p in files for w in wrong_arrows(p.relative_to(root), p.read_text(), public)]
    wrong += [w for p in files for w in points_elsewhere(p.relative_to(root), p.read_text())]
    headers = {p.relative_to(root) for p in files if p.suffix == ".hpp"}
    wrong += [f"{p.relative_to(root)}: its own header is not its first include" for p in files
              if own_header_late(p.relative_to(root), p.read_text(), headers)]
    wrong += crowded(root)
    print("\n".join(wrong) if wrong else f"{len(files)} files, every arrow points the right way")
    sys.exit(1 if wrong else 0)


main()
