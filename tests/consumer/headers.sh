#!/usr/bin/env bash
# consumer/headers.sh PREFIX: each header installed in PREFIX compiles alone, with nothing else on
# the include path. Of the standard library, which all of them share, the text is parsed once.
set -euo pipefail
cd "$1/include"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
grep -rhoE '^#include <[a-z_]+>' plumule | sort -u >"$work/standard.hpp"
g++ -std=c++20 -x c++-header "$work/standard.hpp" -o "$work/standard.hpp.gch"
export work
alone() {
  g++ -std=c++20 -fsyntax-only -I. -include "$work/standard.hpp" -x c++ - <<<"#include <$1>"
}
export -f alone
find plumule -name '*.hpp' | xargs -P "$(nproc)" -I {} bash -c 'alone {}'
echo "$(find plumule -name '*.hpp' | wc -l) headers compile alone"
