#!/usr/bin/env bash
# run.sh [COUNT [SEED]]: see run.py. By hand, not with the tests: some two hours for 300 changes.
set -euo pipefail
cd "$(dirname "$0")/../.."
. cli/setup.sh
need_packages "${build_packages[@]}" "${test_packages[@]}"
exec /usr/bin/python3 tests/mutation/run.py "$@"
