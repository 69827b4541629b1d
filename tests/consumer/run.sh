#!/usr/bin/env bash
# consumer/run.sh PREFIX: what a guest does with the library installed in PREFIX, with nothing of the
# tree on the include path. Builds this project against it and runs it, then the same and a worked
# example by pkg-config. $CXX and $CXXFLAGS are those of the library.
set -euo pipefail
prefix=$(realpath "$1")
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cp "$here"/*.cpp "$here/CMakeLists.txt" "$work"
cmake -G Ninja -S "$work" -B "$work/build" -DCMAKE_PREFIX_PATH="$prefix" >/dev/null
cmake --build "$work/build"
"$work/build/interval"
"$work/build/keep"

PKG_CONFIG_PATH=$(find "$prefix" -name plumule.pc -printf %h)
export PKG_CONFIG_PATH
by_pkg_config() {  # PACKAGE SOURCE
  local flags
  read -ra flags <<<"${CXXFLAGS:-} -std=c++20 $2 $(pkg-config --cflags --libs "$1")"
  "${CXX:-g++}" -o "$work/program" "${flags[@]}"
  LD_LIBRARY_PATH=$(pkg-config --variable=libdir "$1") "$work/program"
}
by_pkg_config plumule-stats "$here/interval.cpp"
by_pkg_config plumule "$here/keep.cpp"
cd "$prefix/share/doc/libplumule-dev"
by_pkg_config plumule examples/best_soak.cpp
