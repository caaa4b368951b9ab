// SPDX-License-Identifier: MIT
// What the wave integral cannot do is told before any work, at the place of the key in the file.
#include <doctest/doctest.h>

#include "command/refused.h"
#include "command/wave_files.h"

using namespace dishwright::testing;

TEST_CASE("a dish of too many wavelengths is refused where its frequency stands") {
  const Shell shell;
  // (width/wavelength)² grows to some 10^9: 20 m at 1 THz would be 67 000 wavelengths.
  shell.write("big.toml", radio_dish("frequency = [\"1 GHz\", \"900 GHz\"]", "10 m", "20 m"));
  check_refused(shell, "trace big.toml", "big.toml:2:13: error: radio.frequency = ");
  check_refused(shell, "trace big.toml", "places on the mirrors");
  check_refused(shell, "trace big.toml --json --set 'radio.frequency=900 GHz'", "--set radio.frequency=900 GHz");
  check_refused(shell, "tolerance big.toml", "big.toml:2:13: error: radio.frequency = ");
  check_refused(shell, "compare big.toml --shape paraboloid,sphere", "big.toml:2:13: error: radio.frequency = ");
  check_refused(shell, "sweep big.toml --vary 'radio.frequency=1 GHz:900 GHz:3'", "at point 2 of the sweep");
  shell.write("loud.toml", "# a line\n" + sound_dish("frequency = \"200 kHz\""));
  check_refused(shell, "trace loud.toml --set 'reflector.dish.width=20 m' --set 'reflector.dish.focal_length=10 m'",
                "loud.toml:3:13: error: sound.frequency = \"200 kHz\": the wave sum needs");
}

TEST_CASE("a feed that cannot be is refused where it stands") {
  const Shell shell;
  // The focus of a dish as deep as this sees the rim at 2 atan(width/4f) = 128 deg.
  shell.write("deep.toml", radio_dish("frequency = \"10 GHz\"\nfeed = { kind = \"edge\", taper = \"-10 dB\" }", "3 in", "24 in"));
  for (const char* command : {"trace deep.toml", "tolerance deep.toml", "compare deep.toml --shape paraboloid,sphere",
                              "sweep deep.toml --vary 'radio.aim_error=0 deg:1 deg:2'"})
    check_refused(shell, command, "deep.toml:3:8: error: ");
}

TEST_CASE("frequencies that cannot stand side by side are refused where the second file has them") {
  const Shell shell;
  shell.write("a.toml", radio_dish("frequency = \"10 GHz\"", "10 in", "24 in"));
  shell.write("b.toml", radio_dish("\nfrequency = \"11 GHz\"", "10 in", "24 in"));
  check_refused(shell, "compare a.toml b.toml", "b.toml:3:13: error: radio.frequency = \"11 GHz\": ");
  shell.write("list.toml", radio_dish("frequency = [\"10 GHz\", \"11 GHz\"]", "10 in", "24 in"));
  check_refused(shell, "sweep list.toml --vary 'radio.aim_error=0 deg:1 deg:2'",
                "list.toml:2:13: error: radio.frequency = [\"10 GHz\", \"11 GHz\"]: 2 frequencies");
}
