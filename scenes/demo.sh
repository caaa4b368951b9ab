#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# From a fresh Debian 12 to the first pictures: installs what is missing, builds, traces the examples.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

bash scenes/install.sh build
bash scenes/build.sh build -DDISHWRIGHT_TESTS=OFF

for scene in griddle-trough kettle-bowl; do
  build/dishwright trace "scenes/$scene.toml" --out "out/$scene" > /dev/null
done
build/dishwright trace scenes/kettle-dish.toml --out out/kettle-dish

cat <<END

Pictures and numbers (map.png, map.csv, figures.json):
  $PWD/out/kettle-dish      the dish that boils a kettle, shown above
  $PWD/out/griddle-trough   a trough that warms a steel bar
  $PWD/out/kettle-bowl      the same width as a spherical bowl
Next: copy scenes/kettle-dish.toml, change a number, and run
  build/dishwright trace YOUR-FILE.toml
Is a built dish good enough? From depth readings:
  build/dishwright survey scenes/kettle-readings.csv --scene scenes/kettle-dish.toml

Now a page for a browser is made, with the program itself in it. That takes some minutes more; to stop here is fine (Ctrl-C).
END
if bash scenes/page.sh; then
  build/dishwright page scenes/kettle-dish.toml --out out/kettle-dish.html
else
  echo "The page's engine could not be built; all else works. Later: bash scenes/page.sh, then build/dishwright page scenes/kettle-dish.toml"
fi
