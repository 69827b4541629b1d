#!/usr/bin/env bash
# run.sh [CMAKE-OPTION...]: builds lib/stats and its tests where nothing else of the project is
# (build.sh), and passes the tests.
set -euo pipefail
cd "$(dirname "$0")/../../.."
tests/stats/alone/build.sh "$@"
ctest --test-dir build/alone/build --output-on-failure --no-tests=error
