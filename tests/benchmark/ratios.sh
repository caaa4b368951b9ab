#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Speed as ratios of one run: how near the tracer is to a bare loop, what a second thread gives, how many paths Sobol' points
# save, and what a user feels. Leave the machine alone while it runs. Nothing here passes or fails.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

bash scenes/install.sh build test
bash scenes/build.sh build -DDISHWRIGHT_TESTS=ON -DDISHWRIGHT_BENCHMARKS=ON -- dishwright dishwright_images dishwright_benchmark
exec /usr/bin/python3 tests/benchmark/ratios.py build
