// SPDX-License-Identifier: MIT
// `dishwright heat` as a user runs it.
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "refused.h"
#include "shell.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

const std::string boil = "\"$SCENES/kettle-boil.toml\" ";

double number_of(const json& quantity) { return quantity.at("value").get<double>(); }

}  // namespace

TEST_CASE("heat: JSON has power, minutes, stagnation and goal; the exit code says whether it is met") {
  const Shell shell;
  const Ran ran = shell.run("\"$DW\" heat " + boil + "--json");
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  const json all = json::parse(ran.out);
  const json traced = json::parse(shell.run("\"$DW\" trace " + boil + "--json").out);
  const double light = number_of(traced["targets"]["kettle"]["power"]) + number_of(traced["targets"]["kettle"]["direct_power"]);
  CHECK(std::abs(number_of(all["power"]) - 0.96 * light) < 1e-6 * light);
  CHECK(number_of(all["minutes"]["low"]) < number_of(all["minutes"]["best"]));
  CHECK(number_of(all["minutes"]["best"]) < number_of(all["minutes"]["high"]));
  // All of it at once without loss: 0.5 L and 0.544 kg of steel from 55 °F to boiling at 230 m, 99.24 °C, cannot take longer.
  const double least = (0.499 * 4186 + 0.5443 * 452) * (99.24 - 12.78) / number_of(all["power"]) / 60;
  CHECK(number_of(all["minutes"]["best"]) > least);
  CHECK(number_of(all["minutes"]["best"]) < 1.2 * least);
  CHECK(std::abs(number_of(all["boiling_point"]) - 273.15 - 99.24) < 0.1);
  CHECK(number_of(all["stagnation_temperature"]) > 500);
  CHECK(all["goal"]["holds"] == true);
  CHECK(shell.files().empty());
  const Ran no = shell.run("\"$DW\" heat " + boil + "--set load.minutes=2 --json");
  CHECK(no.code == 1);
  CHECK(json::parse(no.out)["goal"]["holds"] == false);
  const Ran never = shell.run("\"$DW\" heat " + boil + "--set load.stuff=steel --set 'load.wanted=1400 degC' --json");
  CHECK(never.code == 1);
  CHECK(json::parse(never.out)["minutes"]["best"].is_null());
  // Threads change no digit, and no [load] is needed in the file.
  CHECK(shell.run("\"$DW\" heat " + boil + "--json --threads 1").out == ran.out);
  CHECK(shell.run("\"$DW\" heat \"$SCENES/kettle-dish.toml\" --set 'load.volume=1 L' --set trace.paths=20000 --json").code == 0);
}

TEST_CASE("heat: the screen, the files, the log") {
  const Shell shell;
  const Ran ran = shell.run("\"$DW\" heat " + boil +
                            "--set 'load.volume=8 L' --set 'target.kettle.width=10 in' --set 'target.kettle.height=8 in' --log "
                            "\"$SCENES/kettle-log.csv\" --out o");
  INFO(ran.err);
  CHECK(ran.code <= 1);
  for (const char* file : {"o/heat-card.pdf", "o/heat.png", "o/heat.csv", "o/heat.json", "o/cooking-power.csv"})
    CHECK(shell.files().count(file) == 1);
  for (const char* words :
       {"What the band is drawn over", "cooking power", "rows lie within the band", "Never heat a closed container"})
    CHECK(holds(ran.out, words));
  const json all = json::parse(shell.run("cat o/heat.json").out);
  CHECK(all["log"]["counted"].get<int>() >= 2);
  CHECK(number_of(all["log"]["power_at_50_K"]) > 100);
}

TEST_CASE("heat: what it refuses") {
  const Shell shell;
  check_refused(shell, "heat \"$SCENES/kettle-dish.toml\"", "heat needs a [load]");
  check_refused(shell, "heat \"$SCENES/yard-lamp.toml\" --set 'load.volume=1 L'", "heat needs sunlight");
  check_refused(shell, "heat " + boil + "--log none.csv", "none.csv");
  shell.write("log.csv", "time [min],temperature [degC],beam [W/m2]\n0,20,800\n5,30,800\n3,40,800\n");
  check_refused(shell, "heat " + boil + "--log log.csv", "log.csv:4:1: error: time 3 is not behind that of line 3");
  shell.write("hot.csv", "time [min],temperature [degC],beam [W/m2]\n0,100,800\n5,100,800\n");
  check_refused(shell, "heat " + boil + "--log hot.csv", "as hot as wanted in its first row");
}
