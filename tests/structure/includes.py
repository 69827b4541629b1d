#!/usr/bin/env python3
"""Refuses a source of lib, cli or schema that names what a header of the parsed ones declares
(lib/library.cmake) and includes that header nowhere, neither itself nor through our own headers.

Compilers cannot tell: they are given the parsed headers before any line of a file, so a forgotten
include would fail only where a guest, or a compiler cache, parses the file whole. The check is first
shown a file that forgets one, and must refuse it.
"""
import pathlib
import re
import sys

# The common names of each parsed header. Others of them come with these in nearly every file.
DECLARES = {
    "algorithm": """all_of any_of clamp copy copy_if count_if equal fill find find_if lower_bound max
        max_element min min_element minmax none_of nth_element partial_sort remove_if replace reverse
        rotate sort stable_sort transform unique upper_bound""",
    "array": "array to_array",
    "cmath": """abs acos asin asinh atan cbrt ceil copysign cos cosh erf erfc exp expm1 fabs floor fmod
        frexp hypot isfinite isinf isnan ldexp lgamma llround log log10 log1p log2 lround modf nextafter
        pow remainder round sin sinh sqrt tan tanh tgamma trunc""",
    "functional": "bind_front function greater invoke less plus reference_wrapper",
    "map": "map multimap",
    "memory": "make_shared make_unique shared_ptr unique_ptr weak_ptr",
    "optional": "nullopt optional",
    "set": "multiset set",
    "span": "span",
    "string": "getline stod stoi stoll string to_string",
    "string_view": "string_view",
    "vector": "vector",
}
STD = {name: header for header, names in DECLARES.items() for name in names.split()}
LIBRARIES = {"fmt": "fmt/format.h", "nlohmann": "nlohmann/json.hpp"}
# What includes the wanted header by its own contract.
GIVES = {
    "algorithm": {"ranges"},
    "string": {"fmt/format.h", "nlohmann/json.hpp", "sstream", "filesystem"},
    "string_view": {"string", "fmt/format.h"},
    "vector": {"nlohmann/json.hpp"},
    "fmt/format.h": {"fmt/core.h", "fmt/ranges.h"},
    "nlohmann/json.hpp": {"nlohmann/json_fwd.hpp"},
}
INCLUDE = re.compile(r'^\s*#\s*include\s*[<"]([^>"]+)[>"]', re.M)
NOT_CODE = re.compile(r'//[^\n]*|"(?:\\.|[^"\\\n])*"')
NAMED = re.compile(r"\b(std|fmt|nlohmann)::(?:ranges::)?(\w+)")


class Sources:
    def __init__(self, texts):
        self.texts = texts
        self.reached = {}

    def own(self, include):
        return next((p for p in (f"lib/{include}", include) if p in self.texts), None)

    def reach(self, path):
        """The headers of others that the file includes, also through ours."""
        if path not in self.reached:
            self.reached[path] = set()  # our headers include one another in no ring
            found = set()
            for include in INCLUDE.findall(self.texts[path]):
                ours = self.own(include)
                found |= self.reach(ours) if ours else {include}
            self.reached[path] = found
        return self.reached[path]

    def forgotten(self):
        for path, text in self.texts.items():
            has = self.reach(path)
            wanted = {}
            for space, name in NAMED.findall(NOT_CODE.sub("", text)):
                header = STD.get(name) if space == "std" else LIBRARIES[space]
                if header and header not in has and not GIVES.get(header, set()) & has:
                    wanted.setdefault(header, f"{space}::{name}")
            for header, name in wanted.items():
                yield f"{path}: {name} is named, and <{header}> is not included"


def main():
    shown = Sources({
        "lib/a.hpp": "#include <string>\n",
        "lib/a.cpp": '#include "a.hpp"\nstd::string a; // std::map\nstd::string_view b = "std::set";\n',
        "lib/b.cpp": '#include "a.hpp"\nstd::vector<int> b = std::ranges::find(c);\n',
    })
    seen = list(shown.forgotten())
    if len(seen) != 2 or any("lib/b.cpp" not in line for line in seen):
        sys.exit(f"the check itself fails: it refused {seen}")

    root = pathlib.Path(sys.argv[1])
    files = [p for folder in ("lib", "cli", "schema") for p in root.glob(f"{folder}/**/*.[ch]pp")]
    if len(files) < 100:
        sys.exit(f"only {len(files)} files found under {root}")
    wrong = list(Sources({str(p.relative_to(root)): p.read_text() for p in files}).forgotten())
    print("\n".join(wrong))
    print(f"{len(files)} files, {len(wrong)} forgotten includes")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
