// SPDX-License-Identifier: MIT
// Logs of a class: cooking power by the standard's formula, and what is refused by line.
#include "heat/demo_log.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <fstream>

#include "approx.h"
#include "base/error.h"
#include "scratch.h"

using namespace dishwright;
using testing::approx;

namespace {

DemoLog log_of(const std::string& text) {
  const testing::Scratch scratch;
  const auto file = scratch.path / "log.csv";
  std::ofstream(file) << text;
  return read_demo_log(file, 376.0);
}

std::string refusal_of(const std::string& text) {
  try {
    log_of(text);
  } catch (const InputError& error) {
    return error.what();
  }
  return "taken";
}

bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

const std::string head = "time [min],temperature [degC],beam [W/m2],wind [m/s]\n";

}  // namespace

TEST_CASE("cooking power: 10 K of 5 kg in 10 min under 850 W/m2") {
  const DemoLog log = log_of(head + "0,40,850,1\n5,45,850,1\n10,50,850,1\n20,60,850,1\n");
  const CookingPower found = cooking_power(log, 5, 298.15, 373.15);
  REQUIRE(found.steps.size() == 2);
  // [asae_x580], eqs. 1 and 2, seen in restatements: P = 10 * 5 * 4186 / 600, P_s = P * 700 / 850.
  CHECK(found.steps[0].power == approx(348.8333).epsilon(1e-6));
  CHECK(found.steps[0].standard_power == approx(287.2745).epsilon(1e-6));
  CHECK(found.steps[0].difference == approx(20).epsilon(1e-9));
  CHECK(found.steps[1].line == 4);
  CHECK(found.counted == 2);
}

TEST_CASE("cooking power: the line is found again, and read at 50 K") {
  // P_s = 300 − 2 T_d at 700 W/m2: T rises by (300 − 2 (T − 20)) * 600 / (20 * 4186) a step, with T its mean over the step.
  std::string text = head;
  double t = 25;
  for (int k = 0; k <= 6; ++k) {
    text += fmt::format("{},{:.6f},700,1\n", 10 * k, t);
    const double gain = 600.0 / (20 * 4186);
    t += gain * (340 - 2 * t) / (1 + gain);
  }
  const CookingPower found = cooking_power(log_of(text), 20, 293.15, 373.15);
  REQUIRE(found.at_50.has_value());
  CHECK(*found.slope == approx(-2).epsilon(1e-4));
  CHECK(*found.offset == approx(300).epsilon(1e-4));
  CHECK(*found.at_50 == approx(200).epsilon(1e-4));
  CHECK(*found.fit == approx(1).epsilon(1e-6));
}

TEST_CASE("steps that do not count say why") {
  const DemoLog log = log_of(
      head +
      "0,40,850,1\n10,45,850,1\n35,60,850,1\n45,65,400,1\n55,70,400,1\n65,75,800,4\n75,80,800,4\n85,97,800,1\n95,98,800,1\n");
  const CookingPower found = cooking_power(log, 1, 298.15, 373.15);
  REQUIRE(found.steps.size() == 9);
  CHECK(found.steps[0].left_out.empty());
  CHECK(says(found.steps[1].left_out, "a gap of 25 min before line 4"));
  CHECK(says(found.steps[4].left_out, "beam"));
  CHECK(found.steps[7].left_out == "wind above 2.5 m/s");
  CHECK(found.steps[8].left_out == "within 5 K of boiling");
  CHECK(found.counted == 1);
  CHECK_FALSE(found.at_50.has_value());
}

TEST_CASE("bad logs are refused by line") {
  CHECK(says(refusal_of("time [min],beam [W/m2]\n0,800\n"), "temperature"));
  CHECK(says(refusal_of("time,temperature [degC],beam [W/m2]\n0,20,800\n"), "time"));
  const std::string several = refusal_of(head + "0,20,800,1\n5,900,800,1\n4,30,,1\n10,30,90000,1\n");
  CHECK(says(several, ":3:"));
  CHECK(says(several, "temperature 900 is absurd"));
  CHECK(says(several, ":4:"));
  CHECK(says(several, "the row has no beam"));
  CHECK(says(several, "beam 90000 is absurd"));
  CHECK(says(refusal_of(head + "0,20,800,1\n10,30,800,1\n5,25,800,1\n"), "time 5 is not behind that of line 3"));
  CHECK(says(refusal_of(head + "0,20,800,1\n"), "fewer than two rows"));
  CHECK(refusal_of(head + "0,20,800,1\n\n10,30,800,1\n") == "taken");
}
