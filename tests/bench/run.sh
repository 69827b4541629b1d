#!/usr/bin/env bash
# Prints how the project compares with general tools in speed, size and memory, as ratios within one
# run. Takes Release builds; asserts nothing of time.
#   tests/bench/run.sh [path to plumule] [sowings, 80000] [rounds, 3]    the logbook: sqlite3 shell
#   tests/bench/run.sh --peers [build folder] [trials, 200] [rounds, 3]  the statistics: R
#   tests/bench/run.sh --large [path to plumule]      memory over ten million counts (minutes, 1 GB)
set -euo pipefail
top=$(cd "$(dirname "$0")/../.." && pwd)
case ${1:-} in
  --peers)
    shift
    build=${1:-$top/build}
    [ $# -gt 0 ] && shift
    . "$top/cli/setup.sh"
    need_packages r-base-core r-cran-survival python3
    cmake --build "$build" --target peers >/dev/null
    exec python3 "$top/tests/bench/peers.py" "$build/tests/bench/peers" "$@"
    ;;
  --large)
    shift
    bench=large.py
    tools="python3"
    ;;
  *)
    bench=bench.py
    tools="sqlite3 python3"
    ;;
esac
plumule=${1:-$top/build/cli/plumule}
[ $# -gt 0 ] && shift
for tool in "$plumule" $tools; do
  command -v "$tool" >/dev/null || { echo "bench: $tool is missing" >&2; exit 1; }
done
exec python3 "$top/tests/bench/$bench" "$plumule" "$@"
