#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Draws the gallery again: renders/SCENE.png for every example and the sheets of a comparison, from the program as it is now.
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

# The five ways to make one dish: maps on one scale, maps each on its own scale, and how wide a plate each needs.
build/dishwright compare scenes/five-shapes.toml --shape paraboloid,sphere,cone,facets,petals --out out/five-shapes-compare > /dev/null
for sheet in maps maps-each share; do
  cp "out/five-shapes-compare/$sheet.png" "renders/five-shapes-$sheet.png"
  echo "renders/five-shapes-$sheet.png"
done
