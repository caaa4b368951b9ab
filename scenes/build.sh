#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Builds into a folder of the tree. Usage: build.sh FOLDER [cmake options] [-- ninja options and targets]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

folder=$1
shift
options=()
while [ "$#" -gt 0 ] && [ "$1" != "--" ]; do
  options+=("$1")
  shift
done
[ "$#" -eq 0 ] || shift

# A folder that was set up with another generator keeps it.
[ -f "$folder/CMakeCache.txt" ] || options+=(-G Ninja)

log=$(mktemp)
trap 'rm -f "$log"' EXIT
if ! cmake -S . -B "$folder" -DCMAKE_BUILD_TYPE=Release "${options[@]}" > "$log" 2>&1; then
  cat "$log" >&2
  exit 1
fi
[ -f "$folder/.ninja_log" ] || echo "Building into $folder/; the first time takes some minutes" >&2
if [ -t 2 ]; then
  cmake --build "$folder" --parallel "$(nproc)" -- "$@" >&2
elif ! cmake --build "$folder" --parallel "$(nproc)" -- "$@" > "$log" 2>&1; then
  cat "$log" >&2
  exit 1
fi
