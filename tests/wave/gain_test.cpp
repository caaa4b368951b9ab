// SPDX-License-Identifier: MIT
// The field at places against closed forms of physical optics.
#include "wave/gain.h"

#include <boost/math/special_functions/bessel.hpp>

#include "../known_values/read_table.h"
#include "base/error.h"
#include "wave_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

// Scalar field in the focal plane of a paraboloid (f = 1), by Simpson's rule: ∫ 2 tan(t/2) J0(k r sin t) dt.
double focal_integral(double wave_number, double r, double rim_angle) {
  const int n = 4000;
  double sum = 0;
  for (int k = 0; k <= n; ++k) {
    const double t = rim_angle * k / n;
    sum += (k == 0 || k == n ? 1
            : k % 2 == 1     ? 4
                             : 2) *
           2 * std::tan(t / 2) * boost::math::cyl_bessel_j(0, wave_number * r * std::sin(t));
  }
  return sum * rim_angle / (3 * n);
}

}  // namespace

TEST_CASE("gain at the focus of a sound dish: K = 2kf ln(1 + d/f), with and without the direct wave") {
  // The kernel and its obliquity give this exactly; 1e-4 dB sees a lost 1/R or a wrong cosine.
  int compared = 0;
  for (const auto& row : known::read_table("focus_gain_of_sound_dish.csv")) {
    const double f = row.at("focal_length_m");
    WaveSetup setup;
    setup.frequency = row.at("frequency_Hz"), setup.speed = row.at("speed_m_per_s"), setup.tolerance = 1e-6;
    const Scene scene = wave_scene(Paraboloid{f, row.at("width_m"), 0});
    const WaveField field = wave_field(scene, setup, along_axis, {Vector3(0, 0, f)});
    const WaveGain gain = wave_gain(field.reflected[0], field.direct[0]);
    CHECK(std::abs(std::abs(field.reflected[0]) / row.at("K") - 1) < 1e-6);
    CHECK(std::abs(gain.reflected_gain - row.at("reflected_dB")) < 1e-4);
    CHECK(std::abs(gain.gain - row.at("with_direct_dB")) < 1e-4);
    CHECK(field.convergence.reached);
    ++compared;
  }
  CHECK(compared >= 10);
}

TEST_CASE("the pitch where a dish stops helping: K = 1 at 344.8926 Hz (0.6 m, f 0.24 m) and 157.5139 Hz (1 m, f 0.25 m)") {
  // Closed form. Between the steps of the curve the gain is taken as straight in log f: K ∝ f makes that exact.
  for (const auto& [width, f, pitch] : {std::tuple(0.6, 0.24, 344.8926), std::tuple(1.0, 0.25, 157.5139)}) {
    WaveSetup setup;
    setup.speed = 343, setup.tolerance = 1e-7;
    const GainCurve curve =
        gain_curve(wave_scene(Paraboloid{f, width, 0}), setup, along_axis, Vector3(0, 0, f), frequency_steps(100, 20'000, 60));
    REQUIRE(curve.stops_helping);
    CHECK(std::abs(*curve.stops_helping - pitch) < 1e-3);
  }
}

TEST_CASE("field across the focal plane of shallow and deep dishes: first null, half-power width, whole profile") {
  // 1000 wavelengths of focal length: there the kernel's own spread over the map (r/f) is 0.2 % and the nulls are those of the
  // integral.
  const double wavelength = 0.01, f = 10;
  const WaveSetup setup = of_length(wavelength);
  int compared = 0;
  for (const auto& row : known::read_table("focal_field.csv")) {
    const double f_over_d = row.at("f_over_D"), width = f / f_over_d, unit = wavelength * f_over_d;
    const Scene scene = wave_scene(Paraboloid{f, width, 0});
    const auto strengths = [&](double from, double to, int n) {
      std::vector<Vector3> places;
      for (int k = 0; k < n; ++k) places.emplace_back(0, unit * (from + (to - from) * k / (n - 1)), f);
      const WaveField field = wave_field(scene, setup, along_axis, places);
      std::vector<double> all;
      for (const Complex& value : field.reflected) all.push_back(std::abs(value));
      return all;
    };
    const double null = row.at("first_null_in_lambda_f_over_D"), half = row.at("half_power_full_width_in_lambda_f_over_D") / 2;
    const std::vector<double> about = strengths(null - 0.05, null + 0.05, 101);
    const auto lowest = std::min_element(about.begin(), about.end()) - about.begin();
    CHECK(std::abs(static_cast<double>(lowest) - 50) <= 1.5);  // 0.0015 λf/D
    const std::vector<double> profile = strengths(0, 3, 61);
    CHECK(std::abs(profile[0] / (2 * pi / wavelength * f * row.at("K_over_kf")) - 1) < 2e-4);
    const double rim = 2 * std::atan(1 / (4 * f_over_d));
    for (int k = 0; k <= 60; ++k) {
      const double exact = 2 * pi / wavelength * f * focal_integral(2 * pi / wavelength, unit * 3 * k / 60, rim);
      CHECK(std::abs(profile[k] - std::abs(exact)) < 3e-3 * profile[0]);
    }
    CHECK(std::abs(strengths(half, half, 2)[0] / profile[0] - std::sqrt(0.5)) < 1e-3);
    ++compared;
  }
  CHECK(compared == 6);
}

TEST_CASE("axial defocus: sinc² of half the edge phase") {
  // Closed form for even lighting and quadratic phase: −0.912098 and −3.922398 dB at an edge phase of π/2 and π; f/D = 2 is near
  // both.
  const double wavelength = 0.001, width = 2, f = 4;
  const WaveSetup setup = of_length(wavelength);
  const double rim = 2 * std::atan(width / (4 * f));
  for (const auto& [phase, loss] : {std::pair(pi / 2, -0.912098), std::pair(pi, -3.922398)}) {
    const double shift = phase / (2 * pi) * wavelength / (1 - std::cos(rim));
    const WaveField field = wave_field(wave_scene(Paraboloid{f, width, 0}), setup, along_axis,
                                       {Vector3(0, 0, f), Vector3(0, 0, f + shift), Vector3(0, 0, f - shift)});
    const double both =
        decibels(std::sqrt(std::abs(field.reflected[1]) * std::abs(field.reflected[2])) / std::abs(field.reflected[0]));
    CHECK(std::abs(both - loss) < 0.03);
  }
}

TEST_CASE("source and receiver change places: within 0.05 dB") {
  // One-sided obliquity is not exactly reciprocal.
  const Scene scene = wave_scene(Paraboloid{0.3, 0.6, 0});
  const WaveSetup setup = of_length(343.0 / 3000);
  const Vector3 bird(0.8, 0.3, 9), microphone(0.01, 0.02, 0.31);
  const WaveField to = wave_field(scene, setup, WaveSource::from_point(bird), {microphone});
  const WaveField back = wave_field(scene, setup, WaveSource::from_point(microphone), {bird});
  CHECK(std::abs(decibels(std::abs(to.reflected[0]) / std::abs(back.reflected[0]))) < 0.05);
  CHECK(std::abs(to.direct[0] - back.direct[0]) < 1e-12);
}

TEST_CASE("waves go over into rays: before a large flat plate the reflected wave becomes as strong as the incident one") {
  const Scene scene = wave_scene(Flat{1.1, 0.9});
  std::vector<Vector3> places;
  for (int k = 0; k < 12; ++k) places.emplace_back(0.021 * k - 0.1, 0.13 - 0.017 * k, 0.5 + 0.031 * k);
  std::vector<double> misses;
  for (const double wavelength : {0.08, 0.02, 0.005}) {
    const WaveField field = wave_field(scene, of_length(wavelength), along_axis, places);
    double sum = 0;
    for (const Complex& value : field.reflected) sum += std::pow(std::abs(value) - 1, 2);
    misses.push_back(std::sqrt(sum / 12));
  }
  // The edge's share falls as √λ: by 2 for each step of 4.
  CHECK(misses[1] < 0.75 * misses[0]);
  CHECK(misses[2] < 0.75 * misses[1]);
  CHECK(misses[2] < 0.1);
}

TEST_CASE("the best place for the microphone is the focus where waves are short, and found from beside it") {
  const Scene scene = wave_scene(Paraboloid{0.2, 0.6, 0});
  const BestReceiverPlace best =
      best_receiver_place(scene, of_length(0.01), along_axis, {Vector3(0.006, -0.004, 0.207), Matrix3::Identity(), 0.02}, false);
  CHECK((best.place - Vector3(0, 0, 0.2)).norm() < 0.001);
  CHECK(best.gain.reflected_gain > 0);
  CHECK_FALSE(best.at_edge);
}

TEST_CASE("lanes in float and plain double agree, and the threads change no digit") {
  const Scene scene = wave_scene(SphereBowl{1.2, 0.9, 0.1});
  WaveSetup setup = of_length(0.03);
  const MapPlane map{{0, 0, 0.55}, Vector3::UnitX(), Vector3::UnitZ(), 0.15, 0.2, 20, 15};
  setup.threads = 1;
  const WaveField one = wave_field(scene, setup, along_axis, map.places());
  setup.threads = 7;
  const WaveField seven = wave_field(scene, setup, along_axis, map.places());
  CHECK(one.reflected == seven.reflected);
  double strongest = 0, apart = 0;
  for (std::size_t k = 0; k < one.reflected.size(); k += 7) {
    setup.tolerance = 1e-6;
    const WaveField plain = wave_field(scene, setup, along_axis, {map.places()[k]});
    strongest = std::max(strongest, std::abs(plain.reflected[0]));
    apart = std::max(apart, std::abs(plain.reflected[0] - one.reflected[k]));
  }
  CHECK(apart < 2e-4 * strongest);
}

TEST_CASE("what no wave sum can answer is refused in words") {
  Scene scene = wave_scene(Paraboloid{0.2, 0.6, 0});
  WaveSetup setup = of_length(0.1);
  setup.frequency = 0;
  CHECK_THROWS_AS(wave_field(scene, setup, along_axis, {Vector3(0, 0, 0.2)}), InputError);
  setup = of_length(0.1);
  scene.reflectors[0].slope_error = 0.004;
  CHECK_THROWS_WITH_AS(check_waves(scene, setup), doctest::Contains("slope_error of dish"), InputError);
  scene.reflectors[0].slope_error = 0;
  setup = of_length(1e-6);
  CHECK_THROWS_WITH_AS(wave_field(scene, setup, along_axis, {Vector3(0.1, 0, 0.2)}), doctest::Contains("MB"), InputError);
  CHECK_THROWS_AS((MapPlane{{}, Vector3::UnitX(), Vector3::UnitY(), 1, 1, 100'000, 100'000}.places()), InputError);
  CHECK(wave_notes(scene, of_length(0.3)).empty());
  CHECK(wave_notes(scene, of_length(1)).size() == 1);
  CHECK(wave_notes(scene, of_length(3))[0].find("quarter") != std::string::npos);
}

TEST_CASE("a wave sum can be stopped") {
  Watch watch;
  watch.stop = true;
  WaveSetup setup = of_length(0.05);
  setup.watch = &watch;
  const std::vector<Vector3> line = line_places({0, 0, 0.2}, Vector3::UnitX(), 0.1, 50);
  CHECK_THROWS_AS(wave_field(wave_scene(Paraboloid{0.2, 0.6, 0}), setup, along_axis, line), Interrupted);
}

TEST_CASE("a long wave is hardly helped, and a wave that arrives from behind finds the shadow") {
  const Scene scene = wave_scene(Paraboloid{0.24, 0.6, 0});
  const WaveField low = wave_field(scene, of_length(30), along_axis, {Vector3(0, 0, 0.24)});
  // K = 2kf ln(1 + d/f), k = 2π/30, d/f = 0.390625: 0.033153, −29.59 dB. Beside the straight wave, 2f ahead in phase: |1 + K
  // e^{i(2kf − π/2)}|.
  const double K = 2 * 2 * pi / 30 * 0.24 * std::log(1.390625), phase = 2 * 2 * pi / 30 * 0.24;
  const WaveGain far_longer = wave_gain(low.reflected[0], low.direct[0]);
  CHECK(std::abs(far_longer.reflected_gain - 20 * std::log10(K)) < 0.01);
  CHECK(std::abs(far_longer.gain - 10 * std::log10(1 + K * K + 2 * K * std::sin(phase))) < 0.001);
  // From behind, near the dish: the direct wave is mostly taken away.
  const WaveField behind = wave_field(scene, of_length(0.005), WaveSource::from_far(-Vector3::UnitZ()),
                                      {Vector3(0.1, 0.05, 0.15), Vector3(0.5, 0.1, 0.15)});
  CHECK(std::abs(behind.reflected[0] + behind.direct[0]) < 0.3);
  CHECK(std::abs(behind.reflected[1]) < 0.3);
}
