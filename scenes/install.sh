#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Installs the Debian packages that are missing. Usage: install.sh build   or   install.sh build test browser
set -euo pipefail

build=(
  build-essential ccache cmake ninja-build pkg-config
  libembree-dev libeigen3-dev libtbb-dev libxsimd-dev libboost-dev libfmt-dev
  libopenimageio-dev libpng-dev libcairo2-dev libpango1.0-dev fonts-dejavu-core
  libtomlplusplus-dev libcli11-dev nlohmann-json3-dev liberfa-dev
)
browser=(emscripten)  # the engine as WebAssembly, for pages; 0.8 GB
npm=(npm)  # where no other npm is there already
browser_test=(chromium)
test=(
  doctest-dev librapidcheck-dev libbenchmark-dev libudunits2-dev
  clang-14 clang-format clang-tidy-14 libclang-14-dev llvm-14-dev python3 poppler-utils
  dpkg-dev file gzip mandoc python3-ephem
)

wanted=()
for set_name in "$@"; do
  case "$set_name" in
    build) wanted+=("${build[@]}") ;;
    test) wanted+=("${test[@]}") ;;
    browser) wanted+=("${browser[@]}") ;;
    npm) wanted+=("${npm[@]}") ;;
    browser_test) wanted+=("${browser_test[@]}") ;;
    *) echo "install.sh: no set of packages is called '$set_name'; write build, test, browser, npm or browser_test" >&2; exit 2 ;;
  esac
done

if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
  echo "This is not Debian. Install what matches these packages of Debian 12, then build with CMake:" >&2
  echo "  ${wanted[*]}" >&2
  exit 1
fi

missing=()
for package in "${wanted[@]}"; do
  status=$(dpkg-query --show --showformat='${db:Status-Status}' "$package" 2>/dev/null || true)
  [ "$status" = installed ] || missing+=("$package")
done
[ "${#missing[@]}" -gt 0 ] || exit 0

as_root=(env)
if [ "$(id -u)" -ne 0 ]; then
  # Ask for a password only where somebody can type one.
  if command -v sudo >/dev/null && { [ -t 0 ] || sudo -n true 2>/dev/null; }; then
    as_root=(sudo)
  else
    echo "These packages are missing, and installing them needs the administrator. Ask for:" >&2
    echo "  apt-get install ${missing[*]}" >&2
    exit 1
  fi
fi

# One line a stage; what apt-get says only where it fails.
log=$(mktemp)
trap 'rm -f "$log"' EXIT
stage() {
  echo "$1" >&2
  shift
  "${as_root[@]}" "$@" > "$log" 2>&1 && return
  cat "$log" >&2
  echo "install.sh: this failed: $*" >&2
  exit 1
}
stage "Asking which packages there are" apt-get update -qq
stage "Installing ${#missing[@]} packages; the first time takes a minute or two" \
  env DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends "${missing[@]}"
