#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Draws the gallery again: renders/SCENE.png for every example, from the program as it is now.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

bash scenes/install.sh build
bash scenes/build.sh build -DDISHWRIGHT_TESTS=OFF

mkdir -p renders
for file in scenes/*.toml; do
  scene=$(basename "$file" .toml)
  build/dishwright trace "$file" --out "out/$scene" > /dev/null
  cp "out/$scene/map.png" "renders/$scene.png"
  echo "renders/$scene.png"
done
