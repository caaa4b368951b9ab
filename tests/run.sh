#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Everything that must hold, on a fresh Debian 12: builds, tests, sanitizers, the plain x86-64 build, formatting, tidy.
# Usage: tests/run.sh [--quick]     --quick leaves out the sanitizers, the plain build and tidy
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1

quick=no
case "${1:-}" in
  "") ;;
  --quick) quick=yes ;;
  *) echo "usage: tests/run.sh [--quick]" >&2; exit 2 ;;
esac

passed=0
failed=0

# Runs one check by name; counts it.
check() {
  local name=$1
  shift
  echo "== $name"
  local start=$SECONDS
  if "$@"; then
    passed=$((passed + 1))
    echo "   passed in $((SECONDS - start)) s"
  else
    failed=$((failed + 1))
    echo "   FAILED: $name"
    return 1
  fi
}

# Runs the test programs of a build folder; adds their test cases to the counts.
run_tests() {
  local folder=$1 outcome=0 good bad
  ctest --test-dir "$folder" --output-on-failure --no-tests=error --parallel "$(nproc)" || outcome=1
  # doctest closes each program with "[doctest] test cases:  9 |  8 passed | 1 failed | 0 skipped".
  read -r good bad < <(awk '/^\[doctest\] test cases:/ { good += $6; bad += $9 } END { print good + 0, bad + 0 }' \
    "$folder/Testing/Temporary/LastTest.log")
  # A program that died without its closing line is one failure.
  [ "$outcome" -eq 0 ] || [ "$bad" -gt 0 ] || bad=1
  passed=$((passed + good))
  failed=$((failed + bad))
  echo "   $folder: $good test cases passed, $bad failed"
}

formatting() {
  find src tests -name '*.h' -o -name '*.cpp' | sort | xargs clang-format --dry-run -Werror
}

tidy() {
  find src -name '*.cpp' | sort |
    xargs --max-args=1 --max-procs="$(nproc)" clang-tidy -p build --quiet --warnings-as-errors='*' 2> build/tidy.log
}

# Sanitized at -O1: the checks are the point, and it compiles twice as fast. (gcc 12 misjudges initialisation here.)
sanitized_build() {
  bash scenes/build.sh build-sanitize -DDISHWRIGHT_TESTS=ON -DDISHWRIGHT_BENCHMARKS=OFF -DDISHWRIGHT_SANITIZE=ON \
    -DCMAKE_CXX_FLAGS_RELEASE="-O1 -g1" -DCMAKE_CXX_FLAGS="-Wno-maybe-uninitialized"
}

# What processors without AVX2 get: it must compile and give an answer.
plain_build() {
  bash scenes/build.sh build-plain -DDISHWRIGHT_TESTS=OFF -DDISHWRIGHT_PROCESSOR=x86-64 -- dishwright dishwright_images &&
    build-plain/dishwright trace scenes/kettle-dish.toml --json --set trace.paths=20000 > /dev/null
}

all() {
  check "packages" bash scenes/install.sh build test || return
  check "formatting" formatting
  check "build" bash scenes/build.sh build -DDISHWRIGHT_TESTS=ON || return
  run_tests build
  [ "$quick" = no ] || return
  check "build for a plain x86-64 processor" plain_build
  check "tidy" tidy
  check "build with address and undefined-behaviour sanitizers" sanitized_build && run_tests build-sanitize
}

all
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
