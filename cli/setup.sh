# Sourced by cli/try.sh and tests/run.sh: installs the Debian packages named to it that are missing.
# "a|b" means that either will do (Debian's two Boosts exclude each other).

need_packages() {
  local missing=() want either have
  for want in "$@"; do
    have=no
    for either in ${want//|/ }; do
      dpkg-query -W -f='${db:Status-Status}' "$either" 2>/dev/null | grep -qx installed && have=yes
    done
    [ $have = yes ] || missing+=("${want%%|*}")
  done
  [ ${#missing[@]} -gt 0 ] || return 0
  echo "== installing from Debian: ${missing[*]}"
  local root=()
  if [ "$(id -u)" -ne 0 ]; then
    echo "   (you are not root, so this asks sudo)"
    root=(sudo)
  fi
  "${root[@]}" apt-get update -qq
  DEBIAN_FRONTEND=noninteractive "${root[@]}" apt-get install -y -qq --no-install-recommends \
    "${missing[@]}" >/dev/null
}

build_packages=(g++ cmake ninja-build libsqlitecpp-dev libsqlite3-dev "libboost-dev|libboost1.81-dev"
  libfmt-dev libxxhash-dev libcli11-dev nlohmann-json3-dev libeigen3-dev)
test_packages=(doctest-dev pkg-config python3 python3-jsonschema sqlite3)
check_packages=(clang-14 libclang-rt-14-dev clang-format-14 clang-tidy-22 clang-22)
