#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Everything that must hold, on a fresh Debian 12: formatting, build, tests, tidy, and the sanitized build, which is also the one for
# processors without AVX2.
# Usage: tests/run.sh [--quick | --full]
#   --quick  formatting, build and tests
#   --full   the long statistics whole, the static analyser, 60 s of each fuzz program (10 s otherwise)
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1

how=usual
case "${1:-}" in
  "") ;;
  --quick) how=quick ;;
  --full) how=full; export DISHWRIGHT_FULL=1 ;;
  *) echo "usage: tests/run.sh [--quick | --full]" >&2; exit 2 ;;
esac

passed=0
failed=0
parts=$(mktemp) # "SECONDS NAME" a line
trap 'rm -f "$parts"' EXIT

# Runs one check by name; counts it.
check() {
  local name=$1 start=$SECONDS outcome=0
  shift
  echo "== $name"
  "$@" || outcome=1
  echo "$((SECONDS - start)) $name" >> "$parts"
  if [ "$outcome" -eq 0 ]; then
    passed=$((passed + 1))
    echo "   passed in $((SECONDS - start)) s"
  else
    failed=$((failed + 1))
    echo "   FAILED: $name"
  fi
  return "$outcome"
}

# Runs the tests of a build folder; adds their test cases to the counts.
run_tests() {
  local folder=$1 log=$1/Testing/Temporary/LastTest.log outcome=0 good bad
  ctest --test-dir "$folder" --output-on-failure --no-tests=error --parallel "$(nproc)" || outcome=1
  # doctest closes each program with "[doctest] test cases:  9 |  8 passed | 1 failed | 0 skipped", a fuzz program with
  # "1234 inputs, 0 faults": one case.
  read -r good bad < <(awk '/^\[doctest\] test cases:/ { good += $6; bad += $9 }
    /^[0-9]+ inputs, [0-9]+ faults$/ { if ($3 == 0) good++; else bad++ }
    END { print good + 0, bad + 0 }' "$log")
  # A program that died without its closing line is one failure.
  [ "$outcome" -eq 0 ] || [ "$bad" -gt 0 ] || bad=1
  awk -v folder="$folder" '/ Testing: / { name = $3 } /^Test time = / { print $4, folder " " name }' "$log" >> "$parts"
  passed=$((passed + good))
  failed=$((failed + bad))
  echo "   $folder: $good test cases passed, $bad failed"
}

formatting() {
  find src tests -name '*.h' -o -name '*.cpp' | sort | xargs clang-format --dry-run -Werror
}

tidy() {
  if [ "$how" = full ]; then python3 tests/tidy/tidy.py build --full; else python3 tests/tidy/tidy.py build; fi
}

# Sanitized at -O1: the checks are the point, and it compiles twice as fast. (gcc 12 misjudges initialisation here.)
sanitized_build() {
  bash scenes/build.sh build-sanitize -DDISHWRIGHT_TESTS=ON -DDISHWRIGHT_BENCHMARKS=OFF -DDISHWRIGHT_SANITIZE=ON \
    -DDISHWRIGHT_SANITIZE_ALL="$([ "$how" = full ] && echo ON || echo OFF)" -DDISHWRIGHT_PROCESSOR=x86-64 -DCMAKE_CXX_FLAGS_RELEASE="-O1 -g1" -DCMAKE_CXX_FLAGS="-Wno-maybe-uninitialized"
}

# The engine as WebAssembly against the program that was just built; the page in Debian's Chromium.
browser_engine() {
  node --test tests/page/browser/calls.js || return
  # Two halves side by side.
  local count=100
  [ "$how" != full ] || count=200
  node tests/page/browser/compare.js build-browser/engine.js build/dishwright "$count" 0 2 &
  local half=$!
  node tests/page/browser/compare.js build-browser/engine.js build/dishwright "$count" 1 2
  local outcome=$?
  wait "$half" && return "$outcome"
}
# Tests of the parts that the engine is made of, as they run on the machine, once more in node.
browser_parts() { node build-browser/engine_tests.js --no-colors --minimal --no-intro; }
browser_page() { node --test tests/page/browser/*_test.js; }

all() {
  check "packages" bash scenes/install.sh build test || return
  check "formatting" formatting
  check "build" bash scenes/build.sh build -DDISHWRIGHT_TESTS=ON -DDISHWRIGHT_BENCHMARKS=OFF || return
  run_tests build
  [ "$how" != quick ] || return
  if check "engine and page for a browser" bash scenes/page.sh test; then
    check "shape, scene, quadrature, wave and tally inside WebAssembly" browser_parts
    check "engine in WebAssembly against the program" browser_engine
    check "page in a browser" browser_page
  fi
  check "tidy" tidy
  check "build with address and undefined-behaviour sanitizers, for a plain x86-64 processor" sanitized_build && run_tests build-sanitize
}

all
echo "Slowest parts:"
sort -rn "$parts" | head -10 | awk '{ seconds = $1; $1 = ""; printf "%8.1f s %s\n", seconds, $0 }'
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
