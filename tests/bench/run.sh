#!/bin/sh
# Prints how the logbook compares with the sqlite3 shell in speed, size and memory, as ratios within
# one run. Takes a Release build of the command; asserts nothing.
#   tests/bench/run.sh [path to plumule] [sowings, 80000] [rounds, 3]
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
plumule=${1:-$top/build/cli/plumule}
[ $# -gt 0 ] && shift
for tool in "$plumule" sqlite3 python3; do
  command -v "$tool" >/dev/null || { echo "bench: $tool is missing" >&2; exit 1; }
done
exec python3 "$top/tests/bench/bench.py" "$plumule" "$@"
