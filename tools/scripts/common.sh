# shellcheck shell=bash
# Functions that the scripts in tools/ share. Source this file.

repository=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)

# fail SENTENCE: says what is wrong and what would help, and stops.
fail() {
  echo "${0##*/}: $*" >&2
  exit 1
}

# need_disk FOLDER MEGABYTES
need_disk() {
  local free
  free=$(df -Pk "$1" | awk 'NR == 2 {print int($4 / 1024)}')
  ((free >= $2)) || fail "only $free MB are free on the disk of $1, $2 MB are needed"
}

# missing_packages LIST…: those of the lists in tools/scripts/packages that are not installed.
missing_packages() {
  local name wanted=()
  for list in "$@"; do
    while read -r name; do wanted+=("$name"); done < <(grep -v '^#' "$repository/tools/scripts/packages/$list")
  done
  command -v npm >/dev/null || wanted+=(nodejs npm)
  for name in "${wanted[@]}"; do
    [[ $(dpkg-query -W -f '${db:Status-Status}' "$name" 2>/dev/null) == installed ]] || echo "$name"
  done
}

# install_packages LIST…: does nothing, and needs neither root nor network, when all are there.
install_packages() {
  command -v dpkg-query >/dev/null || fail "this system has no Debian packages; Debian 12 is what this is built and tested on"
  local missing log=$repository/build/packages.log as_root=()
  mapfile -t missing < <(missing_packages "$@")
  ((${#missing[@]})) || return 0

  local system
  system=$(. /etc/os-release && echo "${ID:-unknown} ${VERSION_ID:-}")
  [[ $system == "debian 12" ]] || fail "this system is $system; packages are installed for Debian 12 only, and these are missing: ${missing[*]}"
  if ((EUID != 0)); then
    command -v sudo >/dev/null || fail "installing packages needs root or sudo, and these are missing: ${missing[*]}"
    as_root=(sudo)
  fi
  need_disk / 3000
  mkdir -p "$repository/build"
  echo "Installing ${#missing[@]} Debian packages and what they need (log: build/packages.log)" >&2
  local apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -o Acquire::Retries=3 -o Acquire::http::Timeout=30)
  { "${apt[@]}" update && "${apt[@]}" install -y --no-install-recommends "${missing[@]}"; } >"$log" 2>&1 </dev/null ||
    fail "the Debian packages could not be installed, is there a network? ($(grep -m 1 -E '^(W: Failed|E:)' "$log" || tail -n 1 "$log"))"
}

# npm_ci FOLDER: installs exactly what the folder's lock file says; runs no package's scripts.
npm_ci() {
  (cd "$1" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error --fetch-retry-maxtimeout=10000 >npm.log 2>&1) ||
    fail "npm could not fetch the packages of $1, is there a network? (log: $1/npm.log)"
}

# What one checkout has compiled serves another in another folder: paths below the checkout are told to ccache as relative ones.
export CCACHE_BASEDIR=$repository CCACHE_NOHASHDIR=1
export CCACHE_SLOPPINESS=pch_defines,time_macros,include_file_mtime,include_file_ctime

# count_compilations: ccache counts hits from here on.
count_compilations() {
  if command -v ccache >/dev/null; then ccache --zero-stats >/dev/null; fi
}

# can_build PRESET: whether this user may write what a build writes: another user's checkout can be run, not built.
can_build() {
  local path
  for path in "$repository/build/.lock" "$repository/build/$1" "$repository/build/$1.log"; do
    while [[ ! -e $path ]]; do path=$(dirname "$path"); done
    [[ -w $path ]] || return 1
  done
}

fail_to_build() {
  fail "this user may not write into $repository/build, and the program there is older than its sources or missing;" \
    "let its owner run tools/start, or clone the repository for yourself"
}

# is_built PROGRAM: whether it is there and no source is newer.
is_built() {
  [[ -x $1 ]] || return 1
  local newer
  newer=$(cd "$repository" && find CMakeLists.txt sim models plots tools scenarios -name node_modules -prune -o -type f -newer "$1" \
    -regex '.*\(CMakeLists.txt\|package.*\.json\|\.\(cpp\|hpp\|tsx?\|css\|html\|cmake\|toml\|csv\)\)' -print -quit)
  [[ -z $newer ]]
}

# build PRESET TARGET [CMAKE OPTIONS]: configures and builds what has changed; one build at a time.
build() {
  local preset=$1 target=$2
  shift 2
  can_build "$preset" || fail_to_build
  mkdir -p "$repository/build"
  need_disk "$repository/build" 1000
  (
    flock 9
    cd "$repository"
    cmake --preset "$preset" "$@" >"build/$preset.log" 2>&1 || {
      cat "build/$preset.log" >&2
      fail "the build could not be set up, see above"
    }
    cmake --build "build/$preset" --target "$target" || fail "the build failed, see above"
  ) 9>"$repository/build/.lock"
}
