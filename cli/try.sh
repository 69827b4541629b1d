#!/usr/bin/env bash
# Installs what is missing, builds Release into build/, and does the main job on the sample logs in
# a temporary logbook: today's list, a count, a summary, a comparison, an old lot's verdict.
set -euo pipefail
cd "$(dirname "$0")/.."
. cli/setup.sh
need_packages "${build_packages[@]}"

echo "== building into build/ (Release)"
[ -f build/CMakeCache.txt ] || cmake -G Ninja -B build -DPLUMULE_TESTS=OFF >/dev/null
cmake --build build --target plumule

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export PLUMULE_LOG=$folder/plumule.db
plumule() {
  echo
  echo "\$ plumule $*"
  build/cli/plumule "$@" --today 2026-05-10
}

echo "== the main job, in a temporary logbook, as of Sunday 10 May 2026"
plumule init
for log in sample-logs/*.csv; do plumule import "$log"; done
plumule today
plumule count C1=10 C2+1 L2=same
plumule summary SOAK-26 --by treatment
plumule compare SOAK-26
plumule viability ONI-22
echo
echo "== done. The command is build/cli/plumule; plumule demo makes this logbook to keep."
