# The steps that ./run, ./check and ./evidence share. Sourced by them, from the project's folder.

say() { printf '\n== %s\n' "$*"; }
die() { printf '\nfilmwright: %s\n' "$*" >&2; exit 1; }

# Runs a noisy command with its output in a log; shows the log's end only when it fails.
quietly() {
  local log="build/logs/$1.log"
  shift
  mkdir -p build/logs
  "$@" >"$log" 2>&1 </dev/null || { tail -40 "$log" >&2; die "'$*' failed; all of its output is in $log"; }
}

# Installs what packages.txt lists and the machine lacks.
install_packages() {
  local missing=() package condition command
  while read -r package condition command; do
    case "$package" in '' | '#'*) continue ;; esac
    [ "$condition" = unless ] && command -v "$command" >/dev/null && continue
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing+=("$package")
  done <packages.txt
  [ ${#missing[@]} -eq 0 ] && { echo "All packages are installed."; return; }
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || die "these packages are missing and sudo is not there to install them: ${missing[*]}"
    as_root=(sudo)
  fi
  echo "Installing ${#missing[@]} Debian packages (from packages.txt): ${missing[*]}"
  quietly apt-update "${as_root[@]}" apt-get update
  quietly apt-install "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install --yes --no-install-recommends --no-remove "${missing[@]}"
}

# A fingerprint of the web sources, so that the page is built again only when they changed. What the
# build itself generates does not count.
web_fingerprint() {
  (cd web && find . ../docs/formats/openapi.yaml \
    \( -path ./node_modules -o -path ./dist \) -prune -o -type f ! -name '*.gen.ts' -print0 2>/dev/null |
    LC_ALL=C sort -z | xargs -0 sha256sum | sha256sum)
}

install_web_packages() {
  local wanted
  wanted=$(sha256sum <web/package-lock.json)
  [ "$(cat web/node_modules/.filmwright 2>/dev/null)" = "$wanted" ] && return
  echo "Installing the page's npm packages."
  quietly npm-ci npm --prefix web ci
  printf '%s' "$wanted" >web/node_modules/.filmwright
}

build_web() {
  local now
  now=$(web_fingerprint)
  if [ -f web/dist/index.html ] && [ "$(cat build/web.fingerprint 2>/dev/null)" = "$now" ]; then
    echo "The web page is up to date."
    return
  fi
  install_web_packages
  echo "Building the web page."
  quietly web-build npm --prefix web run build
  mkdir -p build
  printf '%s' "$now" >build/web.fingerprint
}

# build_cpp PRESET TARGET...
build_cpp() {
  local preset=$1
  shift
  [ -f "build/$preset/build.ninja" ] || quietly "configure-$preset" cmake --preset "$preset"
  cmake --build --preset "$preset" --target "$@"
}
