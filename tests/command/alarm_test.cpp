// SPDX-License-Identifier: MIT
// A change alarm: many runs give the figures that they gave before the house was drawn again (own output, no truth). Counted by
// chance, a figure may move where another processor rounds one path to the other side of an edge; DISHWRIGHT_EXACT=1 asks for
// every digit.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "approx.h"
#include "shell.h"

using namespace dishwright;

namespace {

std::filesystem::path alarm_folder() { return testing::source_folder() / "tests/command/alarm"; }

/// The number at a place such as "/targets/kettle/power" of the JSON.
double figure_in(const nlohmann::json& json, const std::string& place) {
  const nlohmann::json& found = json.at(nlohmann::json::json_pointer(place));
  return found.is_object() ? found.at("value").get<double>() : found.get<double>();
}

}  // namespace

TEST_CASE("figures of every shape, target, kind of source and command are what they were" * doctest::test_suite("slow")) {
  const testing::Shell shell;
  const bool exact = std::getenv("DISHWRIGHT_EXACT") != nullptr;  // NOLINT(concurrency-mt-unsafe)
  std::filesystem::copy(alarm_folder(), shell.here(), std::filesystem::copy_options::recursive);
  std::ifstream lines(alarm_folder() / "alarm_figures.txt");
  nlohmann::json json;
  int runs = 0, figures = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line[0] == '#') continue;
    const std::string rest = line.substr(2);
    if (line[0] == '>') {
      const std::string arguments = rest.substr(rest.find(' ') + 1);
      INFO(rest);
      const testing::Ran ran = shell.run("\"$DW\" " + arguments);
      INFO(ran.err);
      json = nlohmann::json::parse(ran.out, nullptr, false);
      REQUIRE_FALSE(json.is_discarded());
      ++runs;
    } else if (line[0] == '=') {
      CHECK(json.at("scene_digest") == rest);
    } else {
      CAPTURE(line);
      const std::size_t space = line.find(' ');
      const double was = std::stod(line.substr(space + 1)), is = figure_in(json, line.substr(0, space));
      CHECK((exact ? is == was : is == testing::approx(was).epsilon(1e-3)));
      ++figures;
    }
  }
  // All that the file holds.
  CHECK(runs == 47);
  CHECK(figures == 681);
}
