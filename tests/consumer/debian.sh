#!/usr/bin/env bash
# consumer/debian.sh BUILD: makes the Debian packages of BUILD, unpacks them into an empty folder,
# and uses the command and the library from there. Nothing is installed on the machine.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cpack --config "$1/CPackConfig.cmake" -B "$work/made" >"$work/log" || { cat "$work/log"; exit 1; }
for package in "$work"/made/*.deb; do dpkg-deb --extract "$package" "$work/root"; done

field() { dpkg-deb --field "$work/made/$1"_*.deb "$2"; }
expect() { [ "$2" = "$3" ] || { echo "$1 is '$2', not '$3'"; exit 1; }; }
expect "what the command depends on" "$(field plumule Depends)" ""
expect "what the library depends on" "$(field libplumule-dev Depends)" \
  "libsqlitecpp-dev (>= 3.2), libsqlite3-dev"

export HOME=$work XDG_DATA_HOME=$work
(cd "$work" && "$work/root/usr/bin/plumule" demo >/dev/null)
"$here/run.sh" "$work/root/usr"
