#!/usr/bin/env bash
# build.sh [CMAKE-OPTION...]: copies lib/stats and its tests to build/alone, where nothing else of
# the project is, and builds them there. Options go to cmake, such as
# -C .../tests/build-kinds/sanitize.cmake. Another build of the same kind may use the objects
# (PLUMULE_STATS_OBJECTS) instead of compiling the room again.
set -euo pipefail
cd "$(dirname "$0")/../../.."
alone=build/alone
rm -rf "$alone"
mkdir -p "$alone/lib" "$alone/tests"
cp -r lib/library.cmake lib/stats "$alone/lib"
cp -r tests/programs.cmake tests/support tests/stats tests/data tests/reference "$alone/tests"
cmake -G Ninja -DCMAKE_BUILD_TYPE=Debug "$@" -S "$alone/tests/stats/alone" -B "$alone/build" >/dev/null
cmake --build "$alone/build"
