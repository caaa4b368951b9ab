// SPDX-License-Identifier: MIT
// The two copies of the hot loops, for AVX2 and for AVX-512: the same digits (docs/decisions/0032). On a processor without AVX-512, and
// in a build with one copy, both runs are the same program.
#include <doctest/doctest.h>

#include <string>

#include "command/shell.h"

using namespace dishwright::testing;

TEST_CASE("wide lanes change no digit") {
  const Shell shell;
  const std::string few = " --json --set trace.paths=40000 --threads 1";
  const auto same = [&](const std::string& what) {
    const Ran wide = shell.run("\"$DW\" " + what + few), narrow = shell.run("DISHWRIGHT_LANES=narrow \"$DW\" " + what + few);
    CAPTURE(what);
    CAPTURE(wide.err);
    REQUIRE(wide.code == 0);
    CHECK(wide.out == narrow.out);
  };
  const std::string folder = "trace \"$SCENES/";
  same(folder + "kettle-dish.toml\" --set 'sun.aim_error=3 deg'");
  same(folder + "kettle-bowl.toml\"");
  same(folder + "griddle-trough.toml\" --set 'sun.aim_error=2 deg'");
  same(folder + "yard-lamp.toml\"");
  same(folder + "kettle-as-built.toml\"");
}
