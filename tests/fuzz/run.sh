#!/usr/bin/env bash
# tests/fuzz/run.sh MINUTES [TARGET...]: every fuzz target (or these) for an equal share of so many
# minutes, sanitizers on, one after the other on one core. What is new and of use goes to
# build/fuzz/corpus, from which the next run goes on; what breaks stops the run and is kept.
set -euo pipefail
cd "$(dirname "$0")/../.."
minutes=${1:?tests/fuzz/run.sh MINUTES [TARGET...]}
shift
targets=("$@")
if [ ${#targets[@]} = 0 ]; then
  for source in tests/fuzz/*_fuzz.cpp; do targets+=("$(basename "$source" _fuzz.cpp)"); done
fi
cmake -C tests/build-kinds/fuzz.cmake -G Ninja -B build/fuzz -DPLUMULE_TESTS=ON >/dev/null
nice cmake --build build/fuzz --target "${targets[@]/%/_fuzz}" -- ${JOBS:+-j "$JOBS"} >&2

seconds=$((minutes * 60 / ${#targets[@]}))
total=0
TIMEFORMAT='%U %S'
for target in "${targets[@]}"; do
  found=build/fuzz/corpus/$target
  mkdir -p "$found"
  log=build/fuzz/$target.log
  # No choice of seeds by how rare they are: it costs more than a run. Short stacks of allocations.
  time (ASAN_OPTIONS=malloc_context_size=4 nice -n 19 "build/fuzz/tests/fuzz/${target}_fuzz" \
    -max_total_time="$seconds" -max_len=4096 -entropic=0 -timeout=20 -print_final_stats=1 \
    -artifact_prefix="build/fuzz/$target-" "$found" "tests/fuzz/corpus/$target" \
    $([ "$target" = flat_log ] && echo sample-logs) >"$log" 2>&1) 2>"$log.time" ||
    { tail -40 "$log"; exit 1; }
  runs=$(awk '/stat::number_of_executed_units/ {print $2}' "$log")
  total=$((total + runs))
  awk -v name="$target" -v runs="$runs" '{
    printf "%-12s %12d runs, %d a second of the processor\n", name, runs, runs / ($1 + $2) }' "$log.time"
done
printf '%-12s %12d runs\n' "in all" "$total"
