// SPDX-License-Identifier: MIT
// `dishwright sweep` and `dishwright tolerance` as a user runs them.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "command/hot_plate.h"
#include "command/refused.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {}  // namespace

TEST_CASE("sweep --json: ends exact, SI units, figures of a trace") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  const Ran ran = shell.run("\"$DW\" sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:5' --method rays --json");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  CHECK(shell.files() == std::set<std::string>{"plate.toml"});
  const json all = json::parse(ran.out);
  CHECK(all["complete"] == true);
  REQUIRE(all["vary"].size() == 1);
  CHECK(all["vary"][0]["key"] == "sun.aim_error");
  CHECK(all["vary"][0]["to"]["unit"] == "rad");
  CHECK(all["vary"][0]["to"]["value"].get<double>() == dishwright::testing::approx(4 * std::numbers::pi / 180));
  REQUIRE(all["points"].size() == 5);
  double before = 2;
  for (const json& point : all["points"]) {
    const double share = point["figures"]["intercept"]["value"];
    CHECK(share < before);
    before = share;
    CHECK(point["method"] == "rays");
  }
  // A point is the trace with that value: the same figure, bit for bit.
  const Ran one = shell.run("\"$DW\" trace plate.toml --json --set 'sun.aim_error=2 deg'");
  CHECK(json::parse(one.out)["targets"]["plate"]["intercept"] == all["points"][2]["figures"]["intercept"]);
}

TEST_CASE("sweep writes its files; two keys make a grid; quadrature says so") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  const Ran line = shell.run(
      "\"$DW\" sweep plate.toml --vary 'target.plate.offset.z=-1 in:1 in:3' --figure intercept --figure spot_width_90 --verbose");
  CAPTURE(line.err);
  REQUIRE(line.code == 0);
  CHECK(holds(line.out, "mirror quadrature"));
  for (const char* file : {"sweep.json", "sweep.csv", "sweep-intercept.png", "sweep-intercept.svg", "sweep-spot_width_90.png"})
    CHECK(shell.files().count(std::string("out/plate-sweep/") + file) == 1);
  const json all = json::parse(shell.run("cat out/plate-sweep/sweep.json").out);
  CHECK(all["points"][0]["at"][0]["value"].get<double>() == dishwright::testing::approx(-0.0254));
  CHECK(all["points"][1]["figures"]["intercept"]["value"] > all["points"][0]["figures"]["intercept"]["value"]);
  const Ran grid = shell.run(
      "\"$DW\" sweep plate.toml --vary 'sun.aim_error=0 deg:2 deg:3' --vary 'reflector.dish.slope_error=2 mrad:8 mrad:2' --json "
      "--out g");
  CAPTURE(grid.err);
  REQUIRE(grid.code == 0);
  CHECK(json::parse(grid.out)["points"].size() == 6);
  CHECK(json::parse(grid.out)["points"][1]["at"][1]["value"].get<double>() == dishwright::testing::approx(8e-3));
}

TEST_CASE("sweep reads its file once: what becomes of it afterwards changes no point" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  const std::string sweep =
      "\"$DW\" sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:20' --method rays --set trace.paths=200000 --json ";
  const Ran undisturbed = shell.run(sweep);
  REQUIRE(undisturbed.code == 0);
  const Ran disturbed = shell.run(sweep + "& sleep 0.3; sed -i 's/850/400/' plate.toml; wait $!");
  CAPTURE(disturbed.err);
  CHECK(disturbed.code == 0);
  CHECK(disturbed.out == undisturbed.out);
  shell.write("plate.toml", hot_plate("3 in"));
  CHECK(shell.run(sweep + "& sleep 0.3; rm plate.toml; mkfifo plate.toml; wait $!").out == undisturbed.out);
}

TEST_CASE("sweep refuses what cannot vary, and writes nothing") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  check_refused(shell, "sweep plate.toml --vary 'sun.aim=0 deg:4 deg:5'", "write sun.aim_error");
  check_refused(shell, "sweep plate.toml --vary 'sun.disc=0:4:5'", "holds words");
  check_refused(shell, "sweep plate.toml --vary 'title=0:4:5'", "title");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=1 deg:1 deg:5'", "both ends are the same");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0:4:5'", "has no unit");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:1'", "at least 2");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:1000000000'", "too many");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:200' --vary 'sun.beam=1 W/m2:2 W/m2:200'", "too many");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg'", "KEY=FROM:TO:COUNT");
  check_refused(shell, "sweep plate.toml --vary 'target.plate.offset=0 in:4 in:3'", "offset.x");
  check_refused(shell, "sweep plate.toml --vary 'target.plate.at.x=0 in:4 in:3'", "offset");
  check_refused(shell, "sweep plate.toml --vary 'trace.paths=100:101:3'", "whole");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0 deg:200 deg:5'", "at point 3 of the sweep");
  check_refused(shell, "sweep plate.toml --vary 'target.plate.offset.z=0 in:-24 in:3'", "touches");
  check_refused(shell, "sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:3' --figure heat", "heat");
  check_refused(shell, "sweep plate.toml", "--vary");
}

TEST_CASE("tolerance --json: limits by key, verdict and exit code" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  const Ran yes = shell.run("\"$DW\" tolerance plate.toml --json");
  CAPTURE(yes.err);
  REQUIRE(yes.code == 0);
  CHECK(shell.files() == std::set<std::string>{"plate.toml"});
  const json all = json::parse(yes.out);
  CHECK(all["wanted"]["value"] == 0.9);
  CHECK(all["holds"] == true);
  for (const char* key : {"slope_error", "aim_error", "offset_along", "offset_across", "focal_length_error", "petals", "tile"}) {
    CAPTURE(key);
    CHECK(all["limits"][key]["value"].get<double>() > 0);
  }
  CHECK(all["words"].size() == all["sides"].size());
  const Ran no = shell.run("\"$DW\" tolerance plate.toml --set 'reflector.dish.slope_error=15 mrad' --out t");
  CHECK(no.code == 1);
  CHECK(holds(no.out, " % at best "));
  CHECK(holds(no.out, "Or a disk "));
  for (const char* file : {"tolerance.txt", "tolerance.json", "tolerance.csv", "tolerance.pdf", "tolerance.png",
                           "tolerance-chart.png", "tolerance-chart.svg"})
    CHECK(shell.files().count(std::string("t/") + file) == 1);
  CHECK(json::parse(shell.run("cat t/tolerance.json").out)["holds"] == false);
  // The limit that was stated is the one: just inside holds, just outside does not.
  const double slope = all["limits"]["slope_error"]["value"].get<double>() * 1e3;
  const auto with = [&](double factor) {
    return shell
        .run("\"$DW\" tolerance plate.toml --json --set 'reflector.dish.slope_error=" + std::to_string(factor * slope) + " mrad'")
        .code;
  };
  CHECK(with(0.98) == 0);
  CHECK(with(1.02) == 1);
}

// The file's own value, wherever it comes from: the file, --set, the standard value of the key table, an entry of a list.
TEST_CASE("sweep knows the file's own value, and where 90 % end") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  const auto here = [&](const std::string& vary) {
    const json all = json::parse(shell.run("\"$DW\" sweep plate.toml --json --method quadrature --vary " + vary).out);
    return all["vary"][0].contains("here") ? all["vary"][0]["here"]["value"].get<double>() : std::nan("");
  };
  CHECK(here("'reflector.dish.slope_error=2 mrad:8 mrad:2'") == dishwright::testing::approx(4e-3));
  CHECK(here("'reflector.dish.slope_error=2 mrad:8 mrad:2' --set 'reflector.dish.slope_error=5 mrad'") ==
        dishwright::testing::approx(5e-3));
  CHECK(here("'sun.aim_error=0 deg:1 deg:2'") == 0);
  CHECK(here("'target.plate.offset.z=0 in:1 in:2'") == 0);
  CHECK(here("'target.plate.offset.z=0 in:1 in:2' --set 'target.plate.offset=[0 in,0 in,0.5 in]'") ==
        dishwright::testing::approx(0.0127));
  CHECK(here("'reflector.dish.reflectance=0.5:1:2'") == dishwright::testing::approx(0.86));
  CHECK(here("'target.plate.width=2 in:4 in:2'") == dishwright::testing::approx(3 * 0.0254));
  // 90 % end where the trace says so, as near as a straight line between points 0.2 deg apart.
  const json all = json::parse(shell.run("\"$DW\" sweep plate.toml --json --vary 'sun.aim_error=0 deg:4 deg:21'").out);
  REQUIRE(all["edges_of_90"].size() == 1);
  CHECK(all["edges_of_90"][0]["ends"] == true);
  const double ends = all["edges_of_90"][0]["at"]["value"].get<double>() * 180 / std::numbers::pi;
  const json there = json::parse(
      shell.run("\"$DW\" trace plate.toml --json --set trace.paths=400000 --set 'sun.aim_error=" + std::to_string(ends) + " deg'")
          .out);
  CHECK(std::abs(there["targets"]["plate"]["intercept"]["value"].get<double>() - 0.9) < 0.01);
}

TEST_CASE("tolerance refuses shares that cannot be asked for, lamps and unknown targets") {
  const Shell shell;
  shell.write("plate.toml", hot_plate("3 in"));
  check_refused(shell, "tolerance plate.toml --wanted 0", "more than 0 %");
  check_refused(shell, "tolerance plate.toml --wanted '120 %'", "less than 100 %");
  check_refused(shell, "tolerance plate.toml --wanted much", "not a share");
  check_refused(shell, "tolerance plate.toml --target pan", "plate");
  const std::string sun = "[sun]\nbeam = \"850 W/m2\"\n";
  std::string lamp = hot_plate("3 in");
  lamp.replace(lamp.find(sun), sun.size(),
               "[lamp]\nshape = \"ball\"\nwidth = \"1 in\"\nat = [\"0 in\", \"0 in\", \"20 in\"]\npower = \"60 W\"\n");
  shell.write("lamp.toml", lamp);
  check_refused(shell, "tolerance lamp.toml", "needs sunlight");
}
