#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Makes what `dishwright page` hands out: the engine as WebAssembly and the page around it, into build/page.html. Installs what is
# missing: Emscripten (0.8 GB) from Debian, one chart library from npm.
# Usage: page.sh [test]   with "test" also what the page's tests take from npm, and build-browser/engine_tests.js
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

packages=(browser) npm=(--omit=dev) tests=OFF
if [ "${1:-}" = test ]; then packages=(test browser browser_test) npm=() tests=ON; fi
command -v npm > /dev/null || packages+=(npm)
bash scenes/install.sh build "${packages[@]}"
bash scenes/build.sh build-browser -C src/page/browser/preset.cmake -DDISHWRIGHT_ENGINE_TESTS=$tests
log=$(mktemp)
trap 'rm -f "$log"' EXIT
(cd src/page/web && npm ci --no-fund --no-audit "${npm[@]}") > "$log" 2>&1 || { cat "$log" >&2; exit 1; }
mkdir -p build
node src/page/web/build.js build-browser/engine.js build/page.html
