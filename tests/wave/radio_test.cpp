// SPDX-License-Identifier: MIT
// Feeds, factors of the aperture efficiency and random surfaces against handbook formulas.
#include "wave/radio.h"

#include <algorithm>
#include <boost/math/special_functions/expint.hpp>

#include "../known_values/read_table.h"
#include "approx.h"
#include "base/error.h"
#include "wave/pattern.h"
#include "wave/samples.h"
#include "wave/sum.h"
#include "wave_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

const Vector3 up = Vector3::UnitZ();

Feed feed_at(double f, double power) { return {Vector3(0, 0, f), -up, power}; }

Scene with_disk(Scene scene, double width, const Vector3& at) {
  Target target;
  target.name = "feed";
  target.shape = DiskTarget{width};
  target.pose.at = at;
  scene.targets.push_back(target);
  return scene;
}

}  // namespace

TEST_CASE("aperture efficiency, spillover and taper of cosine feeds over f/D") {
  int compared = 0;
  for (const auto& row : known::read_table("cosine_feed_efficiency.csv")) {
    const double f = row.at("f_over_D") * 1.0, n = row.at("n");
    WaveSetup setup = of_length(0.02);
    setup.tolerance = 1e-7;
    const RadioFigures figures = radio_figures(wave_scene(Paraboloid{f, 1, 0}), setup, feed_at(f, n), up);
    // The peaks' f/D are printed to six digits; the efficiency is flat there.
    CHECK(std::abs(figures.aperture_efficiency - row.at("aperture_efficiency")) < 2e-6);
    CHECK(std::abs(figures.spillover - row.at("spillover")) < 4e-6);
    CHECK(std::abs(figures.taper - row.at("taper")) < 4e-6);
    CHECK(figures.phase == testing::approx(1).epsilon(1e-6));
    CHECK(figures.blockage == 1);
    CHECK(std::abs(figures.gain_dbi - 10 * std::log10(std::pow(pi / 0.02, 2) * figures.aperture_efficiency)) < 1e-9);
    ++compared;
  }
  CHECK(compared >= 30);
}

TEST_CASE("the factors multiply up to the aperture efficiency, whatever is wrong") {
  Scene scene = with_disk(wave_scene(SphereBowl{1.6, 1, 0.05}), 0.12, Vector3(0.01, 0, 0.79));
  WaveSetup setup = of_length(0.05);
  setup.targets_shade = true;
  setup.reflectance = {0.8};
  const RadioFigures r = radio_figures(scene, setup, {Vector3(0.02, 0, 0.79), -up, 3}, far_direction(0.01, 0));
  CHECK(r.reflection == testing::approx(0.8));
  CHECK(r.phase < 0.999);
  CHECK(r.blockage < 0.99);
  CHECK(r.aperture_efficiency == testing::approx(r.spillover * r.taper * r.phase * r.blockage * r.reflection).epsilon(1e-9));
}

TEST_CASE("central blockage d/D = 0.1: (1 − 0.01)² = −0.087296 dB") {
  // Closed form for even lighting: a wide feed before a long dish.
  const double f = 8;
  WaveSetup setup = of_length(0.02);
  setup.targets_shade = true;
  const RadioFigures figures =
      radio_figures(with_disk(wave_scene(Paraboloid{f, 1, 0}), 0.1, Vector3(0, 0, f)), setup, feed_at(f, 0), up);
  CHECK(std::abs(10 * std::log10(figures.blockage) + 0.087296) < 1e-3);
}

TEST_CASE(
    "no share is above 1: mirrors small beside the wave, feeds close and aside, shadows out of step, long troughs, several "
    "mirrors") {
  // A mirror cannot catch more than is sent, nor gather more than falls on it: energy is conserved.
  Scene stacked = wave_scene(Flat{2, 2});
  stacked.reflectors.push_back(stacked.reflectors.front());
  stacked.reflectors[1].pose.at = Vector3(0, 0, -0.3);
  Scene beside = wave_scene(Flat{0.5, 0.5});
  beside.reflectors.push_back(beside.reflectors.front());
  beside.reflectors[1].pose.at = Vector3(0.6, 0, 0);
  struct Case {
    Scene scene;
    double wavelength;
    Vector3 feed;
  };
  const std::vector<Case> cases = {{wave_scene(Flat{0.215, 0.059}), 0.985, {0, 0, 0.0027}},
                                   {wave_scene(Flat{0.1, 0.07}), 0.0168, {-0.026, 0.018, 0.058}},
                                   {wave_scene(Paraboloid{0.25, 1, 0}), 3, {0.1, 0, 0.05}},
                                   {wave_scene(SphereBowl{0.51, 1, 0}), 1, {0, 0, 0.3}},
                                   {wave_scene(Trough{0.5, 1, 6}), 0.2, {0, 0, 0.5}},
                                   {with_disk(wave_scene(Paraboloid{0.5, 1, 0}), 0.5, {0, 0, 0.9}), 0.1, {0, 0, 0.62}},
                                   {stacked, 0.1, {0, 0, 0.2}},
                                   {beside, 0.1, {0.3, 0, 1}}};
  for (std::size_t k = 0; k < cases.size(); ++k) {
    CAPTURE(k);
    for (const double power : {0.0, 0.06, 1.0, 8.0, 200.0}) {
      CAPTURE(power);
      WaveSetup setup = of_length(cases[k].wavelength);
      setup.targets_shade = true;
      const Feed feed{cases[k].feed, -up, power};
      const RadioFigures r = radio_figures(cases[k].scene, setup, feed, up);
      for (const double share : {r.aperture_efficiency, r.spillover, r.taper, r.phase, r.blockage, r.reflection}) {
        CHECK(share >= 0);
        CHECK(share <= 1 + 1e-12);
      }
      CHECK(r.aperture_efficiency == testing::approx(r.spillover * r.taper * r.phase * r.blockage * r.reflection).epsilon(1e-9));
    }
  }
  // Two plates one before the other, each of which a wide feed sees well: together more than all.
  const RadioFigures twice = radio_figures(stacked, of_length(0.1), {cases[6].feed, -up, 1}, up);
  CHECK(twice.counted > 1.5);
  CHECK(twice.spillover == 1);
  CHECK(radio_figures(cases[0].scene, of_length(0.985), {cases[0].feed, -up, 0.06}, up).beyond > 1.1);
}

TEST_CASE("the aperture of a rectangle is its own area") {
  // A far feed lights a plate 0.4 m × 0.2 m evenly: taper 1, and sent to the mirror image of the feed's side the gain is what
  // falls on it × 4π A/λ².
  const RadioFigures r = radio_figures(wave_scene(Flat{0.4, 0.2}), of_length(0.05), {{0, 0, 500}, -up, 0}, up);
  CHECK(r.taper == testing::approx(1).epsilon(1e-4));
  CHECK(r.phase == testing::approx(1).epsilon(1e-3));
  // 2 of a cos⁰ feed toward its axis, over 4π · 500² m².
  CHECK(r.spillover == testing::approx(2 * 0.4 * 0.2 / (4 * pi * 500 * 500)).epsilon(1e-4));
  CHECK(r.gain_dbi == testing::approx(10 * std::log10(r.aperture_efficiency * 4 * pi * 0.4 * 0.2 / (0.05 * 0.05))).epsilon(1e-9));
}

TEST_CASE("a feed's power is a number for the narrowest rim, too") {
  Reflector thread;
  thread.name = "thread";
  thread.shape = Paraboloid{9e3, 1e-3, 0};
  // cosⁿ of a small angle a is e^(−n a²/2), a = width/(2 f).
  const double angle = 1e-3 / (2 * 9e3), n = feed_power_for_taper(thread, Vector3(0, 0, 9e3), -10);
  CHECK(n * angle * angle / 2 == testing::approx(std::log(10.0)).epsilon(1e-4));
  CHECK(std::abs(feed_power_for_taper(thread, Vector3(0, 0, 9e3), 0)) == 0);
}

TEST_CASE("feed kept at the rim's level: cosⁿ with the wanted taper; refused where the rim is behind it") {
  Reflector dish;
  dish.name = "dish";
  dish.shape = Paraboloid{0.5, 1, 0};
  const Vector3 focus(0, 0, 0.5);
  CHECK((feed_axis(dish, focus) + up).norm() < 1e-12);
  CHECK(std::abs(rim_angle_from(dish, focus) - 2 * std::atan(0.5)) < 1e-12);
  const double n = feed_power_for_taper(dish, focus, -10);
  const Feed feed = feed_at(0.5, n);
  CHECK(std::abs(10 * std::log10(feed.gain(Vector3(0.5, 0, 0.125) - focus) / feed.gain(-up)) + 10) < 1e-9);
  dish.shape = Paraboloid{0.25, 1, 0};
  CHECK_THROWS_AS(feed_power_for_taper(dish, Vector3(0, 0, 0.25), -10), InputError);
}

TEST_CASE("an offset dish with its feed along the bisector of the rim cone") {
  Reflector dish;
  dish.shape = OffsetParaboloid{0.6, 0.05, 1, 0};
  const Vector3 focus(0, 0, 0.6), axis = feed_axis(dish, focus);
  // The rim seen from the focus is a round cone about the bisector of its outermost rays (common knowledge of offset dishes;
  // closed form below).
  for (const double angle : {0.0, 1.0, 2.0, 4.0}) {
    const double x = 0.5 * std::cos(angle), y = 0.55 + 0.5 * std::sin(angle);
    const Vector3 rim(x, y, (x * x + y * y) / 2.4);
    CHECK(std::abs(std::acos((rim - focus).normalized().dot(axis)) - rim_angle_from(dish, focus)) < 1e-3);
  }
  Scene scene;
  scene.reflectors.push_back(dish);
  const RadioFigures figures = radio_figures(scene, of_length(0.03), {focus, axis, feed_power_for_taper(dish, focus, -10)}, up);
  CHECK(figures.phase == testing::approx(1).epsilon(1e-5));
  // |∫ u dA|²/(4π A) with u² = gain of the feed/R², R = f + z: the spreading loss of a parabola (Balanis, sec. 15.4), by the
  // midpoint rule on rings about the middle of the opening (1e-5).
  const double n = feed_power_for_taper(dish, focus, -10);
  double sum = 0;
  constexpr int rings = 200, around = 200;
  for (int i = 0; i < rings * around; ++i) {
    const double r = 0.5 * (i / around + 0.5) / rings, turn = 2 * pi * (i % around) / around;
    const double x = r * std::cos(turn), y = 0.55 + r * std::sin(turn), z = (x * x + y * y) / 2.4;
    const double cosine = (Vector3(x, y, z) - focus).normalized().dot(axis);
    sum += std::sqrt(2 * (n + 1) * std::pow(cosine, n)) / (0.6 + z) * r * (0.5 / rings) * (2 * pi / around);
  }
  CHECK(figures.aperture_efficiency == testing::approx(sum * sum / (4 * pi * pi * 0.25)).epsilon(1e-3));
}

TEST_CASE("Ruze's loss in closed form, with its table and its inverse") {
  for (const auto& row : known::read_table("ruze.csv")) {
    CHECK(std::abs(ruze_factor(row.at("rms_over_lambda"), 1) - row.at("gain_ratio")) < 1e-7);
    CHECK(std::abs(ruze_limit(-row.at("loss_dB"), 1) - row.at("rms_over_lambda")) < 1e-7);
  }
  CHECK(ruze_factor_with_halo(0.05, 1, 0, 1) == testing::approx(ruze_factor(0.05, 1)));
  // The halo's series in closed form: Σ x^m/(m·m!) = Ei(x) − γ − ln x (Abramowitz & Stegun 5.1.10), Ei from the standard library.
  for (const double rms : {0.02, 0.0625, 0.2}) {
    const double x = std::pow(4 * pi * rms, 2), series = boost::math::expint(x) - 0.57721566490153286 - std::log(x);
    CHECK(ruze_factor_with_halo(rms, 1, 0.05, 1) == testing::approx(std::exp(-x) * (1 + 0.01 * series)).epsilon(1e-9));
  }
}

TEST_CASE("true random surfaces lose what Ruze says, mean over seeds" * doctest::test_suite("slow")) {
  // Long dish (f/D = 4, nearly even lighting), bumps of c = D/20, λ/50 … λ/16. Twice the standard error plus 0.3 % for the taper
  // of the lighting; with 40 seeds that sees a factor 2 mistaken between surface and path at every rms.
  const double width = 1, f = 4, wavelength = 0.05, correlation = width / 20;
  const WaveSetup setup = of_length(wavelength);
  const auto gain_of = [&](double rms, std::uint64_t seed) {
    Scene scene = wave_scene(Paraboloid{f, width, 0});
    if (rms > 0) scene.reflectors[0].flaws.roughness = Roughness{rms, correlation, seed};
    return std::norm(
        exact_at_place(arriving(sample(mirror_patches(scene), {{44, 150}}, 1), setup, along_axis), Vector3(0, 0, f)));
  };
  const double smooth = gain_of(0, 1);
  for (const double share : {50.0, 28.0, 16.0}) {
    constexpr int seeds = 40;
    double sum = 0, squares = 0;
    for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
      const double ratio = gain_of(wavelength / share, seed) / smooth;
      sum += ratio, squares += ratio * ratio;
    }
    const double mean = sum / seeds, error = std::sqrt((squares / seeds - mean * mean) / (seeds - 1));
    const double expected = ruze_factor_with_halo(wavelength / share, wavelength, correlation, width);
    CHECK(std::abs(mean - expected) < 2 * error + 0.003);
    CHECK(error < 0.1 * (1 - expected));
  }
}

TEST_CASE("gain of a dish by a rule of the trade, and a mesh that leaks") {
  // 41.984197 dB for D = 1 m, λ = 25 mm at full efficiency: π²D²/λ².
  const RadioFigures figures = radio_figures(wave_scene(Paraboloid{0.5, 1, 0}), of_length(0.025), feed_at(0.5, 4), up);
  CHECK(std::abs(figures.gain_dbi - 10 * std::log10(figures.aperture_efficiency) - 41.984197) < 1e-6);
  // 10 mm pitch, 1 mm wire, λ = 30 mm by hand: x = ln(3.18310)/3 = 0.385952, 4x²/(1 + 4x²) = 0.373369.
  CHECK(std::abs(mesh_leakage(0.01, 0.001, 0.03) - 0.373369) < 2e-6);
  CHECK(mesh_leakage(0.01, 0.001, 0.3) < mesh_leakage(0.01, 0.001, 0.03));
  CHECK(mesh_leakage(0.01, 0.002, 0.03) < mesh_leakage(0.01, 0.001, 0.03));
}
