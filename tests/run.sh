#!/usr/bin/env bash
# Installs what is missing, builds Release into build/ and passes every test. On a fresh Debian 12
# nothing else is needed. `tests/run.sh --accept` rewrites the expected screens instead of comparing.
set -euo pipefail
cd "$(dirname "$0")/.."
. cli/setup.sh
need_packages "${build_packages[@]}" "${test_packages[@]}"

echo "== building into build/ (Release, warnings are errors)"
cmake -G Ninja -B build -DPLUMULE_TESTS=ON >/dev/null
cmake --build build

if [ "${1:-}" = --accept ]; then
  /usr/bin/python3 tests/screens/readme.py --plumule build/cli/plumule --accept
  exec /usr/bin/python3 tests/screens/run.py --plumule build/cli/plumule --accept
fi
echo "== running the tests"
ctest --test-dir build --output-on-failure --no-tests=error -j "$(nproc)"
