#!/usr/bin/env bash
# consumer/run.sh BUILD: installs BUILD into a temporary place, builds this project against it with
# nothing else of the tree, and runs it; then the command, its manual page and completions.
set -euo pipefail
build=$1
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cmake --install "$build" --prefix "$work/prefix" >/dev/null
cp -r "$here" "$work/consumer"
cmake -G Ninja -S "$work/consumer" -B "$work/build" -DCMAKE_PREFIX_PATH="$work/prefix" >/dev/null
cmake --build "$work/build"
"$work/build/interval"
"$work/build/keep"
"$work/prefix/bin/plumule" reckon 7/10 >/dev/null
for file in share/man/man1/plumule.1 share/bash-completion/completions/plumule \
  share/zsh/vendor-completions/_plumule share/fish/vendor_completions.d/plumule.fish; do
  [ -s "$work/prefix/$file" ] || { echo "$file was not installed"; exit 1; }
done
echo "installed, found, built against and run"
