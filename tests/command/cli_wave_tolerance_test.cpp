// SPDX-License-Identifier: MIT
// `tolerance` of sound and radio as a user runs it. Truth: closed forms of even round apertures, Ruze's formula.
#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "command/refused.h"
#include "command/shell.h"
#include "command/wave_files.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

constexpr double pi = std::numbers::pi;

/// Where a falling function meets a level, between 0 and `to`.
double falls_to(double level, double to, const std::function<double(double)>& function) {
  double from = 0;
  for (int k = 0; k < 60; ++k) {
    const double middle = (from + to) / 2;
    (function(middle) > level ? from : to) = middle;
  }
  return from;
}

json judged(const Shell& shell, const std::string& arguments, int code = 0) {
  const Ran ran = shell.run("\"$DW\" tolerance " + arguments + " --json");
  CAPTURE(arguments);
  CAPTURE(ran.err);
  REQUIRE(ran.code == code);
  return json::parse(ran.out);
}

/// Within a share of the expected value; lengths are small, so an absolute tolerance would pass anything.
bool is_near(double value, double expected, double share) {
  CAPTURE(value);
  CAPTURE(expected);
  const bool near = std::abs(value - expected) <= share * expected;
  CHECK(near);
  return near;
}

double limit(const json& all, const std::string& key) { return all["limits"][key]["value"].get<double>(); }

const std::string even_feed = "frequency = \"10 GHz\"\nfeed = { kind = \"cosine\", power = 0 }";

}  // namespace

TEST_CASE("tolerance of radio: each limit of a flat, evenly lit dish is its closed form") {
  const Shell shell;
  const double f = 4, radius = 1, wavelength = 299792458 / 10e9, kept = std::pow(10, -0.1);
  shell.write("dish.toml", radio_dish(even_feed, "4 m", "2 m"));
  const json all = judged(shell, "dish.toml");
  CHECK(all["wanted"]["value"] == 1);
  CHECK(all["wanted"]["unit"] == "dB");
  CHECK(all["holds"] == true);
  // Ruze 1966: the loss is (4π ε/λ)², ε rms of half of the way.
  CHECK(is_near(limit(all, "surface_rms"), wavelength / (4 * pi) * std::sqrt(std::log(10.0) / 10), 1e-3));
  // Sideways by δ: a phase that grows evenly across the aperture to k δ sin θ at the rim, so (2 J1(u)/u)². The 1/R of the feed
  // and the curve of sin θ are 2 %.
  const double u = falls_to(kept, 3, [](double x) { return x > 0 ? std::pow(2 * std::cyl_bessel_j(1, x) / x, 2) : 1; });
  const double rim = 2 * std::atan(radius / (2 * f)), k = 2 * pi / wavelength;
  CHECK(is_near(limit(all, "offset_across"), u / (k * std::sin(rim)), 0.03));
  CHECK(is_near(limit(all, "aim_error"), std::asin(u / (k * radius)), 0.02));
  // Away from the mirror by δ: half of the phase between middle and rim, sinc², and the feed's wave is weaker by the longer way.
  const auto farther = [&](double shift) {
    const double depth = radius * radius / (4 * f), way = std::hypot(radius, f + shift - depth) - std::hypot(radius, f - depth);
    const double half = k * (shift - way) / 2;
    return (half > 0 ? std::pow(std::sin(half) / half, 2) : 1) * std::pow(f / (f + shift), 2);
  };
  CHECK(is_near(limit(all, "offset_along"), falls_to(kept, 1, farther), 0.02));
  CHECK(limit(all, "waviness") > 0);
  CHECK(limit(all, "focal_length_error") > 0);
  CHECK(all["words"].size() == all["sides"].size());
  CHECK(judged(shell, "dish.toml --threads 1") == judged(shell, "dish.toml --threads 3"));
}

TEST_CASE("tolerance of radio: at its limit a deviation costs the loss, as a trace says") {
  const Shell shell;
  shell.write("dish.toml", radio_dish(even_feed, "1 m", "2 m"));
  const json all = judged(shell, "dish.toml --loss '0.5 dB'");
  const auto gain = [&](const std::string& set) {
    const Ran ran = shell.run("\"$DW\" trace dish.toml --json " + set);
    CAPTURE(ran.err);
    REQUIRE(ran.code == 0);
    return json::parse(ran.out)["targets"]["feed"]["gain"]["value"].get<double>();
  };
  const double whole = gain("");
  const auto costs = [&](double loss) { return std::abs(loss - 0.5) < 0.005; };
  CHECK(costs(whole - gain("--set 'radio.aim_error=" + std::to_string(limit(all, "aim_error")) + " rad'")));
  CHECK(costs(whole - gain("--set 'reflector.dish.waviness.amplitude=" + std::to_string(1e3 * limit(all, "waviness")) +
                           " mm' --set 'reflector.dish.waviness.period=333.333333 mm'")));
}

TEST_CASE("tolerance of sound: the highest frequency counts; bumps weaken the mirror's wave and not the straight one") {
  const Shell shell;
  shell.write("ear.toml", sound_dish("frequency = [\"500 Hz\", \"1 kHz\"]\nspeed = \"343 m/s\""));
  const json all = judged(shell, "ear.toml");
  CHECK(all["frequency"]["value"] == 1000);
  // |1 + s K e^(i(2kf − π/2))|, K = 2 k f ln(1 + depth/f), s = exp(−(4π ε/λ)²/2); 2kf = 5.58, so the waves help each other
  // little.
  const double f = 0.1524, k = 2 * pi * 1000 / 343, K = 2 * k * f * std::log(2.0);
  const auto power = [&](double rms) {
    const double s = std::exp(-std::pow(2 * k * rms, 2) / 2);
    return 1 + s * s * K * K + 2 * s * K * std::sin(2 * k * f);
  };
  const double whole = power(0), expected = falls_to(std::pow(10, -0.1), 0.05, [&](double rms) { return power(rms) / whole; });
  CHECK(is_near(limit(all, "surface_rms"), expected, 0.002));
  const Ran text = shell.run("\"$DW\" tolerance ear.toml --out t");
  CHECK(text.code == 0);
  for (const char* part : {"wavelengths)", "rms", "half of the error of the way", "Yes: as the file has it", "CAUTION"})
    CHECK(holds(text.out, part));
  for (const char* file : {"t/tolerance.txt", "t/tolerance.json", "t/tolerance.csv", "t/tolerance.png", "t/tolerance.svg"})
    CHECK(shell.files().count(file) == 1);
  // A bird at a place has no aim.
  CHECK_FALSE(judged(shell, "ear.toml --set 'sound.from=[0 ft, 0 ft, 30 ft]'")["limits"].contains("aim_error"));
}

TEST_CASE("tolerance of waves: the file's own faults against the true dish, and what cannot be asked") {
  const Shell shell;
  shell.write("off.toml", radio_dish(even_feed, "2 m", "2 m"));
  CHECK(judged(shell, "off.toml --set 'target.feed.offset=[0 mm, 0 mm, 200 mm]'", 1)["holds"] == false);
  CHECK(judged(shell, "off.toml --set 'radio.aim_error=1 deg'", 1)["holds"] == false);
  CHECK(judged(shell, "off.toml --set 'radio.aim_error=0.1 deg'")["holds"] == true);
  const json dark = judged(shell, "off.toml --set 'reflector.dish.wave_reflectance=0'", 1);
  CHECK(dark["gain"].is_null());
  CHECK(dark["limits"].empty());
  check_refused(shell, "tolerance off.toml --wanted '90 %'", "--loss '1 dB'");
  check_refused(shell, "tolerance off.toml --loss '0 dB'", "no such loss");
  check_refused(shell, "tolerance off.toml --loss '40 dB'", "no such loss");
  check_refused(shell, "tolerance off.toml --loss much", "not a loss");
  check_refused(shell, "tolerance off.toml --loss 1", "not a loss");
  shell.write("sun.toml", "[sun]\nbeam = \"850 W/m2\"\n" + radio_dish("", "2 m", "2 m").substr(9));
  check_refused(shell, "tolerance sun.toml --loss '1 dB'", "for sound and radio");
}
