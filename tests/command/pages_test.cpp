// SPDX-License-Identifier: MIT
// The commands of README.md and docs/ work, and every figure there is what they print. pages_waves_test.cpp has the dearest
// page, so that both cores have something to do.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>
#include <stdexcept>

#include "approx.h"
#include "command/page_figures.h"
#include "folders.h"
#include "test_files.h"

using namespace dishwright::testing;
namespace fs = std::filesystem;

TEST_CASE("README.md says what its commands print" * doctest::test_suite("slow")) { check_page("README.md"); }
TEST_CASE("flaws.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/flaws.md"); }
TEST_CASE("measuring.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/measuring.md"); }
TEST_CASE("shapes.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/shapes.md"); }
TEST_CASE("tolerance.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/tolerance.md"); }

TEST_CASE("heat.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/heat.md"); }
TEST_CASE("sky.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/sky.md"); }
TEST_CASE("safety.md has figures of its sources alone" * doctest::test_suite("slow")) { check_page("docs/safety.md"); }
TEST_CASE("speed.md has times without units, of which no command prints any") { check_page("docs/speed.md"); }
TEST_CASE("page.md shows no figures") { check_page("docs/page.md"); }
TEST_CASE("installing.md shows no figures" * doctest::test_suite("slow")) { check_page("docs/installing.md"); }

TEST_CASE("every page is one of those that are checked") {
  const std::string list = file_content(source_folder() / "tests/command/page_figures.txt");
  std::set<std::string> known = {"scene-file.md"};  // written from the key table; tests/scenefile/reference_test.cpp pins it
  for (const PageClaims& page : read_claims(list)) known.insert(fs::path(page.name).filename().string());
  for (const auto& entry : fs::directory_iterator(source_folder() / "docs")) {
    const std::string name = entry.path().filename().string();
    if (entry.path().extension() == ".md") CHECK_MESSAGE(known.contains(name), name);
  }
}

TEST_CASE("numbers are read as people write them") {
  // Values by hand.
  for (const auto& [text, value, half_step] :
       std::vector<std::tuple<std::string, double, double>>{{"7 23/64 in", 7.359375, 1 / 128.0},
                                                            {"9/64 in", 0.140625, 1 / 128.0},
                                                            {"-25.5 dB", -25.5, 0.05},
                                                            {"+8.36 %", 8.36, 0.005},
                                                            {"17 min", 17, 0.5},
                                                            {"3460 kW", 3460, 5},
                                                            {"2 1", 2, 0.5}}) {
    const auto number = number_at(text, 0);
    REQUIRE_MESSAGE(number, text);
    CHECK_MESSAGE(number->value == approx(value), text);
    CHECK_MESSAGE(number->half_step == approx(half_step), text);
  }
  CHECK_FALSE(number_at("in", 0));
  CHECK_FALSE(number_at("- 3", 0));
}

TEST_CASE("words with holes find their numbers") {
  const std::string text = "aim error up to 4.36 ± 0.01 deg, the sun takes 17 min; share { 0.0044 }";
  const auto aim = places_of("aim error up to {} ± {-} deg… takes {} min", text);
  REQUIRE(aim.size() == 1);
  REQUIRE(aim[0].size() == 2);
  CHECK(aim[0][0].value == approx(4.36));
  CHECK(aim[0][1].value == approx(17));
  CHECK(places_of("share { {-100} }", text).at(0).at(0).value == approx(-0.44));
  CHECK(places_of("up to {} mrad", text).empty());
  CHECK_THROWS_AS(places_of("{} min", text), std::runtime_error);
}

TEST_CASE("a page is read without its code, and its figures are found") {
  const PageText page = read_page(
      "One `dishwright new a.toml` [9 in](b.md) wide.\n\n    build/dishwright trace a.toml   # 5 in\n\nTwo\n"
      "```\ndishwright sweep b.toml\necho 6 in\n```\n839.9 ± 0.1 W, R12 m, 3 apples,\n  4.4°.\n");
  CHECK(page.prose == "One ` [9 in] wide. Two 839.9 ± 0.1 W, R12 m, 3 apples, 4.4°.");
  CHECK(page.block_commands == std::vector<std::string>{"build/dishwright trace a.toml", "dishwright sweep b.toml"});
  CHECK(page.inline_commands == std::vector<std::string>{"dishwright new a.toml"});
  std::vector<std::string> words;
  for (const Figure& figure : figures_of(page.prose)) words.push_back(figure.words);
  CHECK(words == std::vector<std::string>{"9 in", "839.9 ± 0.1 W", "0.1 W", "4.4°"});
}
