// SPDX-License-Identifier: MIT
// Options that would do nothing are refused; so are values given twice and values of the wrong kind.
#include <doctest/doctest.h>

#include "command/hot_plate.h"
#include "command/refused.h"
#include "command/wave_files.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

const std::string plate = "plate.toml ";

void prepare(const Shell& shell) {
  shell.write("plate.toml", hot_plate("3 in"));
  shell.write("readings.csv",
              "ring [in],clock [h],depth [in]\n0,12,6\n8,12,5.333\n8,3,5.333\n8,6,5.333\n8,9,5.333\n16,12,3.333\n16,3,3.333\n"
              "16,6,3.333\n16,9,3.333\n24,12,0\n24,3,0\n24,6,0\n24,9,0\n");
}

}  // namespace

TEST_CASE("options that do nothing where they stand") {
  const Shell shell;
  prepare(shell);
  check_refused(shell, "trace " + plate + "--replay 1 --out d", "--out does nothing with --replay");
  check_refused(shell, "trace " + plate + "--replay 1 --method quadrature", "--method does nothing with --replay");
  check_refused(shell, "trace " + plate + "--json --units us", "--units does nothing with --json");
  check_refused(shell, "trace " + plate + "--json --replay 1 --units us", "--units does nothing with --json");
  check_refused(shell, "compare " + plate + "--shape sphere,flat --json --units us", "--units does nothing with --json");
  check_refused(shell, "sweep " + plate + "--vary 'sun.aim_error=0 deg:1 deg:2' --json --units us", "--units does nothing");
  check_refused(shell, "survey readings.csv --json --units us", "--units does nothing with --json");
  check_refused(shell, "survey --found --width 16ft --depth 5ft --json --units us", "--units does nothing with --json");
  for (const char* option : {"--width 4ft", "--depth 1ft", "--height 5ft", "--length 5ft", "--tape 1mm"})
    check_refused(shell, std::string("survey readings.csv ") + option, "does nothing for points");
  check_refused(shell, "survey readings.csv --wanted 80%", "--wanted does nothing without --scene");
  check_refused(shell, "survey readings.csv --points-in mm", "--points-in does nothing for a table");
  check_refused(shell, "survey readings.csv --json --paper a4", "--paper does nothing with --json alone");
  for (const char* option : {"--focal-length 2ft", "--wanted 80%", "--frequency 1GHz", "--outside", "--skin 1mm",
                             "--points-in mm", "--keep-all", "--depth 1ft", "--height 2ft", "--tape 1mm"})
    check_refused(shell, std::string("survey --form --width 4ft ") + option, "does nothing with --form");
  for (const char* option : {"--shape sphere", "--width 4ft", "--length 5ft"})
    check_refused(shell, "survey --form " + plate + option, "does nothing beside a project file");
  check_refused(shell, "survey --form " + plate + "--scene plate.toml", "two project files");
  check_refused(shell, "survey --form --width 4ft --set sun.beam=1kW/m2", "--set does nothing without a project file");
  check_refused(shell, "survey --form --width 4ft --length 5ft", "--length does nothing for a round dish");
  for (const char* option : {"--scene plate.toml", "--shape sphere", "--focal-length 2ft", "--wanted 80%", "--frequency 1GHz",
                             "--outside", "--skin 1mm", "--points-in mm", "--keep-all", "--length 5ft", "--paper a4", "--out d"})
    check_refused(shell, std::string("survey --found --width 16ft --depth 5ft ") + option, "does nothing with --found");
}

TEST_CASE("the same options where they do something") {
  const Shell shell;
  prepare(shell);
  CHECK(shell.run("\"$DW\" trace plate.toml --json --units si").code == 0);
  CHECK(shell.run("\"$DW\" trace plate.toml --json --units us --out d").code == 0);
  CHECK(shell.run("\"$DW\" trace plate.toml --replay 1 --method rays --units si").code == 0);
  CHECK(shell.run("\"$DW\" survey --form --shape trough --width 4ft --length 5ft --out f").code == 0);
}

TEST_CASE("options of light for waves, and of waves for light") {
  const Shell shell;
  prepare(shell);
  const std::string bird = "\"$SCENES/bird-song-dish.toml\" ";
  check_refused(shell, "trace " + bird + "--method rays", "--method rays is for light");
  check_refused(shell, "trace " + bird + "--replay 1", "rays do not follow sound");
  check_refused(shell, "compare " + bird + "--shape paraboloid,sphere --best-position", "--best-position is for light");
  check_refused(shell, "tolerance " + bird + "--wanted 80%", "--wanted is for light");
  check_refused(shell, "tolerance " + plate + "--loss '1 dB'", "--loss is for sound and radio");
  REQUIRE(shell.run("grep -v '^slope' \"$SCENES/three-uses.toml\" | sed '/^\\[sun\\]/,/^$/d' > two.toml").code == 0);
  check_refused(shell, "trace two.toml --as all --method rays", "--method rays is for light");
}

TEST_CASE("a value given twice") {
  const Shell shell;
  prepare(shell);
  check_refused(shell, "trace " + plate + "--out a --out b", "--out was given more than once");
  check_refused(shell, "trace " + plate + "--threads 1 --threads 2", "--threads was given more than once");
  check_refused(shell, "trace " + plate + "--replay 1 --replay 2", "--replay was given more than once");
  check_refused(shell, "tolerance " + plate + "--target a --target b", "--target was given more than once");
  const std::string sweep = "sweep " + plate + "--vary 'sun.aim_error=0 deg:1 deg:2' ";
  check_refused(shell, sweep + "--figure power --figure power", "--figure power was given twice");
  // Two figures: both are shown and drawn.
  const Ran both = shell.run("\"$DW\" " + sweep + "--figure intercept --figure peak_irradiance --out d");
  CAPTURE(both.err);
  CHECK(both.code == 0);
  CHECK(holds(both.out, "share"));
  CHECK(holds(both.out, "peak"));
  for (const char* file : {"d/sweep-intercept.png", "d/sweep-peak_irradiance.png"}) CHECK(shell.files().count(file) == 1);
}

TEST_CASE("values of another kind than the option's") {
  const Shell shell;
  prepare(shell);
  const std::string bird = "tolerance \"$SCENES/bird-song-dish.toml\" ";
  check_refused(shell, bird + "--loss '1 dBm'", "is a power in dBm, not a level");
  check_refused(shell, bird + "--loss '1 in'", "is a length, not a level");
  check_refused(shell, bird + "--loss 1", "has no unit");
  check_refused(shell, bird + "--loss '50 %'", "is a pure number, not a level");
  check_refused(shell, bird + "--loss '-1 dB'", "no such loss");
  check_refused(shell, "tolerance " + plate + "--wanted '3 dB'", "is a level, not a pure number");
  check_refused(shell, "tolerance " + plate + "--wanted 10^1", "power or a product");
  check_refused(shell, "sweep " + plate + "--vary 'sun.aim_error=0 deg:1 in:3'", "is a length, not an angle");
  check_refused(shell, "sweep " + plate + "--vary 'sun.aim_error=0 in:1 deg:3'", "is a length, not an angle");
  check_refused(shell, "survey readings.csv --frequency '10 in'", "is a length, not a frequency");
  check_refused(shell, "survey readings.csv --skin '1 deg' --outside", "is an angle, not a length");
  check_refused(shell, "survey readings.csv --focal-length 10^2in", "power or a product");
  check_refused(shell, "survey --found --width 16ft --depth 5ft --tape '-1 in'", "--tape");
}
