// SPDX-License-Identifier: MIT
// Time to a temperature against closed forms.
#include "heat/warm_up.h"

#include <doctest/doctest.h>

#include <cmath>

#include "approx.h"
#include "scene/water.h"

using namespace dishwright;
using testing::approx;
using testing::off;

namespace {

/// A lump that only radiates (or, with emittance 0, keeps all).
WarmUpTask lump(double emittance, double power) {
  WarmUpTask task;
  task.absorber = {{{FaceKind::top, 0.1, 1, 1, false}}, emittance, 4186};
  task.around.convection = 0;
  task.absorbed = power;
  task.start = 293.15, task.wanted = 373.15;
  task.step = 60, task.steps = 240;
  return task;
}

/// Seconds from the one temperature to the other for a lump whose balance is at `still`: C dT / (k (still⁴ − T⁴)), in closed form.
double radiating_time(double capacity, double k, double still, double from, double to) {
  const auto part = [&](double t) { return std::log((still + t) / (still - t)) + 2 * std::atan(t / still); };
  return capacity / (4 * k * still * still * still) * (part(to) - part(from));
}

}  // namespace

TEST_CASE("a kilogram of water that loses nothing: m c dT / P") {
  const WarmUp found = warm_up(lump(0, 500));
  REQUIRE(found.seconds.has_value());
  CHECK(*found.seconds == approx(669.76).epsilon(1e-6));
  CHECK(found.temperature.size() == 241);
  CHECK(found.temperature[5] == approx(293.15 + 300 * 500 / 4186.0).epsilon(1e-6));
  CHECK(power_for(lump(0, 1), 669.76) == approx(500).epsilon(2e-6));
}

TEST_CASE("a lump that radiates: the closed form; one that never gets there") {
  const WarmUpTask task = lump(0.9, 150);
  const double k = 0.1 * 0.9 * 5.670374419e-8, still = std::pow(150 / k + std::pow(293.15, 4), 0.25);
  const WarmUp found = warm_up(task);
  REQUIRE(found.seconds.has_value());
  CHECK(*found.seconds == approx(radiating_time(4186, k, still, 293.15, 373.15)).epsilon(1e-5));
  CHECK(found.temperature.back() < still);
  CHECK(found.temperature.back() > still - 2);
  CHECK(power_for(task, *found.seconds) == approx(150).epsilon(1e-5));
  WarmUpTask weak = lump(0.9, 50);
  CHECK_FALSE(warm_up(weak).seconds.has_value());
  CHECK(power_for(weak, 3600) > 50);
}

TEST_CASE("boiling water stays where it is, and the rest is steam") {
  WarmUpTask task = lump(0, 500);
  task.boiling = task.wanted = boiling_point(101325);
  const WarmUp found = warm_up(task);
  REQUIRE(found.seconds.has_value());
  CHECK(found.temperature[30] == *task.boiling);
  CHECK(found.temperature.back() == *task.boiling);
  CHECK(steam_rate(task) == approx(500 / heat_of_steam(*task.boiling)).epsilon(1e-12));
  // In the light of a cloudy day it cools toward the air, and a curve may fall.
  WarmUpTask cooling = lump(0.9, 0);
  cooling.start = 350;
  CHECK(warm_up(cooling).temperature.back() < 302);
}
