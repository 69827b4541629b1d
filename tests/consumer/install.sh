#!/usr/bin/env bash
# consumer/install.sh BUILD PREFIX: installs BUILD in PREFIX, uses the command from there, and looks
# for what comes beside it and the library.
set -euo pipefail
rm -rf "$2"
cmake --install "$1" --prefix "$2" >/dev/null
"$2/bin/plumule" reckon 7/10 >/dev/null
cd "$2/share"
for file in man/man1/plumule.1 bash-completion/completions/plumule \
  zsh/vendor-completions/_plumule fish/vendor_completions.d/plumule.fish \
  plumule/json/compare.json doc/plumule/copyright doc/libplumule-dev/copyright \
  doc/libplumule-dev/examples/two_treatments.cpp; do
  [ -s "$file" ] || { echo "$file was not installed"; exit 1; }
done
