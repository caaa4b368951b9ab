// SPDX-License-Identifier: MIT
// What the wave integral cannot do is told before any work, at the place of the key in the file.
#include <doctest/doctest.h>

#include "command/refused.h"
#include "command/wave_files.h"

using namespace dishwright::testing;

TEST_CASE("a dish of too many wavelengths is refused where its frequency stands") {
  const Shell shell;
  // The way over the mirror differs by 20 m · sin 20° from rim to rim: 2000 wavelengths, with 2.5 places for each, squared.
  const std::string list = "frequency = [\"1 GHz\", \"90 GHz\"]", aim = "aim_error = \"20 deg\"\n";
  shell.write("big.toml", radio_dish(list + "\n" + aim, "10 m", "20 m"));
  const std::string place = "big.toml:2:13: error: radio.frequency = [\"1 GHz\", \"90 GHz\"]: the wave sum needs";
  check_refused(shell, "trace big.toml", place);
  check_refused(shell, "trace big.toml --json --set 'radio.frequency=90 GHz'",
                "error: radio.frequency = \"90 GHz\": the wave sum needs");
  check_refused(shell, "trace big.toml --json --set 'radio.frequency=90 GHz'", "--set radio.frequency=90 GHz\n");
  check_refused(shell, "tolerance big.toml", place);
  check_refused(shell, "compare big.toml --shape paraboloid,sphere", place);
  check_refused(shell, "sweep big.toml --vary 'radio.frequency=1 GHz:90 GHz:3'",
                "at point 2 of the sweep, radio.frequency=45.5 GHz: radio.frequency = \"45.5 GHz\": the wave sum needs");
  shell.write("loud.toml", "# A line before.\n" + sound_dish("frequency = \"20 kHz\"\n" + aim));
  check_refused(shell, "trace loud.toml --set 'reflector.dish.width=80 m' --set 'reflector.dish.focal_length=40 m'",
                "loud.toml:3:13: error: sound.frequency = \"20 kHz\": the wave sum needs");
}

TEST_CASE("a feed that cannot be is refused where it stands") {
  const Shell shell;
  // The focus of a dish as deep as this sees the rim at 2 atan(width/4f) = 128 deg.
  shell.write("deep.toml", radio_dish("frequency = \"10 GHz\"\nfeed = { kind = \"edge\", taper = \"-10 dB\" }", "3 in", "24 in"));
  for (const char* command : {"trace deep.toml", "tolerance deep.toml"})
    check_refused(shell, command, "deep.toml:3:8: error: radio.feed = { kind");
  check_refused(shell, "sweep deep.toml --vary 'radio.aim_error=0 deg:1 deg:2'", "deep.toml:3:8: error: at point 1 of the sweep");
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
