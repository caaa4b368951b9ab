#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Draws the gallery again: renders/SCENE.png for every example and the sheets of a comparison, from the program as it is now.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

bash scenes/install.sh build test # test: pages into pictures
bash scenes/build.sh build -DDISHWRIGHT_TESTS=OFF

mkdir -p renders
for file in scenes/*.toml; do
  scene=$(basename "$file" .toml)
  if [ "$scene" = three-uses ]; then # several sources, one sheet for print
    build/dishwright trace "$file" --as all --out "out/$scene" > /dev/null
    pdftoppm -png -singlefile -r 110 "out/$scene/three-uses.pdf" "renders/$scene"
    echo "renders/$scene.png"
    continue
  fi
  build/dishwright trace "$file" --out "out/$scene" > /dev/null
  if [ -f "out/$scene/pattern.png" ]; then # sound or radio: several sheets
    for sheet in map pattern gain card; do
      [ -f "out/$scene/$sheet.png" ] || continue
      cp "out/$scene/$sheet.png" "renders/$scene-$sheet.png"
      echo "renders/$scene-$sheet.png"
    done
    continue
  fi
  cp "out/$scene/map.png" "renders/$scene.png"
  echo "renders/$scene.png"
done

# The five ways to make one dish: maps on one scale, maps each on its own scale, and how wide a plate each needs.
build/dishwright compare scenes/five-shapes.toml --shape paraboloid,sphere,cone,facets,petals --out out/five-shapes-compare > /dev/null
for sheet in maps maps-each share; do
  cp "out/five-shapes-compare/$sheet.png" "renders/five-shapes-$sheet.png"
  echo "renders/five-shapes-$sheet.png"
done

# Why the spot blurs: the kettle dish with one thing going wrong, in steps.
# Usage: series NAME SHEET 'SECTION|KEY = VALUE:LABEL' …; SHEET: maps (one scale) or maps-each. The key may be one that the file does not have.
series() {
  local name=$1 sheet=$2 folder files=() step setting label
  shift 2
  folder=$(mktemp -d)
  for step in "$@"; do
    setting=${step%%:*}
    label=${step#*:}
    local section=${setting%%|*} line=${setting#*|}
    awk -v section="[$section]" -v line="$line" -v title="$label" '
      BEGIN { key = line; sub(/ *=.*/, "", key) }
      /^title/ { print "title = \"" title "\""; next }
      $0 ~ /^\[/ { here = ($0 ~ "^\\" section) }
      here && $1 == key { next }
      { print }
      index($0, section) == 1 { print line }' scenes/kettle-dish.toml > "$folder/${#files[@]}.toml"
    files+=("$folder/${#files[@]}.toml")
  done
  build/dishwright compare "${files[@]}" --out "out/$name" > /dev/null
  cp "out/$name/$sheet.png" "renders/$name.png"
  rm -r "$folder"
  echo "renders/$name.png"
}
series blur-aim maps 'sun|aim_error = "0 deg":aimed true' 'sun|aim_error = "1 deg":aim off by 1 deg' \
  'sun|aim_error = "2 deg":aim off by 2 deg' 'sun|aim_error = "4 deg":aim off by 4 deg'
series blur-surface maps-each 'reflector.dish|slope_error = "0 mrad":perfect skin' 'reflector.dish|slope_error = "5 mrad":skin 5 mrad rms' \
  'reflector.dish|slope_error = "10 mrad":skin 10 mrad rms' 'reflector.dish|slope_error = "20 mrad":skin 20 mrad rms'
series blur-place maps-each 'target.kettle|offset = ["0 in", "0 in", "-2 in"]:2 in too near' 'target.kettle|offset = ["0 in", "0 in", "0 in"]:at the focus' \
  'target.kettle|offset = ["0 in", "0 in", "2 in"]:2 in too far'
series blur-sag maps 'reflector.dish|sag_x = 0:true' 'reflector.dish|sag_x = 0.04:4 % longer along x' \
  'reflector.dish|sag_x = 0.08:8 % longer along x' 'reflector.dish|twist = "1 deg":twisted by 1 deg'
series blur-waves maps 'reflector.dish|dirt = 0:true' 'reflector.dish|waviness = { amplitude = "1/64 in", period = "6 in" }:waves 1/32 in high' \
  'reflector.dish|waviness = { amplitude = "1/32 in", period = "6 in" }:waves 1/16 in high' \
  'reflector.dish|scallop = { ribs = 12, depth = "1/4 in" }:12 ribs, hangs 1/4 in'

# What a wave sees of a curve: focal maps of three shapes at three frequencies, on one scale of dB.
build/dishwright compare scenes/bird-song-dish.toml --shape paraboloid,sphere,facets --set 'sound.frequency=[500 Hz, 2 kHz, 8 kHz]' \
  --out out/sound-shapes > /dev/null
build/dishwright compare scenes/balloon-dish.toml --shape paraboloid,sphere,facets --set 'radio.frequency=[1 GHz, 4 GHz, 10 GHz]' \
  --out out/radio-shapes > /dev/null
for medium in sound radio; do
  cp "out/$medium-shapes/maps.png" "renders/$medium-shapes.png"
  echo "renders/$medium-shapes.png"
done

# The form for depth readings and the verdict on them.
build/dishwright survey --form scenes/kettle-dish.toml --out out/measuring-form > /dev/null
pdftoppm -png -singlefile -r 80 out/measuring-form/readings-form.pdf renders/measuring-form
build/dishwright survey scenes/kettle-readings.csv --scene scenes/kettle-dish.toml --frequency "10.4 GHz" --out out/measuring-verdict \
  > /dev/null || [ $? = 1 ] # 1: it will not do for radio
pdftoppm -png -singlefile -r 90 out/measuring-verdict/verdict.pdf renders/measuring-verdict
for sheet in form verdict; do echo "renders/measuring-$sheet.png"; done

# Where to point it, true to size.
build/dishwright aim scenes/kettle-yard.toml --parked 'face up' --out out/kettle-yard-aim > /dev/null
pdftoppm -png -singlefile -r 90 out/kettle-yard-aim/aim-card.pdf renders/kettle-yard-aim
pdftoppm -png -singlefile -r 90 out/kettle-yard-aim/burn-track.pdf renders/kettle-yard-burn
build/dishwright trace scenes/kettle-dish.toml --out out/kettle-keep-clear > /dev/null
pdftoppm -png -singlefile -r 90 out/kettle-keep-clear/keep-clear.pdf renders/kettle-keep-clear
for sheet in yard-aim yard-burn keep-clear; do echo "renders/kettle-$sheet.png"; done

# How long until it boils, and a log beside it.
build/dishwright heat scenes/kettle-boil.toml --out out/kettle-boil-heat > /dev/null
cp out/kettle-boil-heat/heat.png renders/kettle-boil-heat.png
build/dishwright heat scenes/kettle-boil.toml --log scenes/kettle-log.csv --set 'load.volume=8 L' --set 'target.kettle.width=10 in' \
  --set 'target.kettle.height=8 in' --set 'load.vessel_mass=4 lb' --set load.minutes=100 --out out/kettle-log > /dev/null
cp out/kettle-log/heat.png renders/kettle-log.png
for sheet in boil-heat log; do echo "renders/kettle-$sheet.png"; done

# How far each thing may go, and one sweep.
build/dishwright tolerance scenes/kettle-dish.toml --out out/kettle-dish-tolerance > /dev/null
build/dishwright sweep scenes/kettle-dish.toml --vary 'sun.aim_error=0 deg:8 deg:33' --out out/kettle-dish-sweep > /dev/null
build/dishwright sweep scenes/kettle-dish.toml --vary 'sun.aim_error=0 deg:8 deg:9' --vary 'reflector.dish.slope_error=0 mrad:40 mrad:9' \
  --out out/kettle-dish-grid > /dev/null
cp out/kettle-dish-tolerance/tolerance.png renders/kettle-dish-tolerance.png
cp out/kettle-dish-sweep/sweep-intercept.png renders/kettle-dish-sweep.png
cp out/kettle-dish-grid/sweep-intercept.png renders/kettle-dish-grid.png

# The page, where its engine and a browser are there (scenes/page.sh test).
if [ -f build/page.html ] && command -v chromium > /dev/null; then
  node tests/page/browser/pictures.js renders
  echo "renders/page.png"
  echo "renders/page-survey.png"
fi
