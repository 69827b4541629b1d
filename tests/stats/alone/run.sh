#!/usr/bin/env bash
# run.sh [CMAKE-OPTION...]: copies lib/stats and its tests to a place where nothing else of the
# project is, then builds them and passes the tests there. Options go to cmake, such as
# -C .../tests/build-kinds/sanitize.cmake.
set -euo pipefail
cd "$(dirname "$0")/../../.."
alone=$(mktemp -d)
trap 'rm -rf "$alone"' EXIT
mkdir "$alone/lib" "$alone/tests"
cp -r lib/library.cmake lib/stats "$alone/lib"
cp -r tests/programs.cmake tests/support tests/stats tests/data tests/reference "$alone/tests"
cmake -G Ninja -DCMAKE_BUILD_TYPE=Debug "$@" -S "$alone/tests/stats/alone" -B "$alone/build" >/dev/null
cmake --build "$alone/build"
ctest --test-dir "$alone/build" --output-on-failure --no-tests=error
