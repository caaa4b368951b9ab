// SPDX-License-Identifier: MIT
// --method and the key trace.method as a user meets them.
#include <doctest/doctest.h>

#include "command/hot_plate.h"
#include "command/shell.h"

using namespace dishwright::testing;
using nlohmann::json;

TEST_CASE(
    "--method quadrature: refused in words for a nearly perfect dish, taken for a pot and a disk; auto takes what applies") {
  const Shell shell;
  const std::string trace = R"("$DW" trace "$SCENES/kettle-dish.toml" --set trace.paths=20000 )";
  const std::string smooth = trace + "--set 'reflector.dish.slope_error=0.01 mrad' ";
  const Ran refused = shell.run(smooth + "--method quadrature");
  CHECK(refused.code == 2);
  CHECK(refused.out.empty());
  CHECK(holds(refused.err, "method quadrature does not apply to this project"));
  CHECK(holds(refused.err, "the slope_error of dish is far smaller than the sun's disc"));
  CHECK(holds(refused.err, "--method rays"));
  CHECK(shell.files().empty());
  const Ran by_key = shell.run(smooth + "--set trace.method=quadrature --json");
  CHECK(by_key.code == 2);
  const Ran traced = shell.run(smooth + "--method auto --json");
  REQUIRE(traced.code == 0);
  CHECK(json::parse(traced.out)["method"] == "rays");
  const Ran pot = shell.run(trace + "--method auto --json");
  REQUIRE(pot.code == 0);
  CHECK(json::parse(pot.out)["method"] == "quadrature");

  shell.write("disk.toml", hot_plate("6 in", "method = \"auto\"\n"));
  const Ran done = shell.run(R"("$DW" trace disk.toml --json)");
  REQUIRE(done.code == 0);
  const json figures = json::parse(done.out);
  CHECK(figures["method"] == "quadrature");
  CHECK(figures["targets"]["plate"]["intercept"]["value"].get<double>() > 0.9999);
  CHECK(json::parse(shell.run(R"("$DW" trace disk.toml --json --method rays)").out)["method"] == "rays");
  const Ran text = shell.run(R"("$DW" trace disk.toml --verbose)");
  REQUIRE(text.code == 0);
  CHECK(holds(text.out, "Nothing here is chance"));
  CHECK(holds(text.out, "places on the mirror"));
  CHECK(shell.run(R"("$DW" trace disk.toml --method magic)").code == 2);
}
