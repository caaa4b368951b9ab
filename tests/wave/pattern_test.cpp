// SPDX-License-Identifier: MIT
// Directivity against circular apertures in closed form.
#include "wave/pattern.h"

#include <boost/math/special_functions/bessel.hpp>

#include "approx.h"
#include "base/quadrature_rule.h"
#include "wave/samples.h"
#include "wave/sum.h"
#include "wave_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

// A round plate of radius a, lit square on; R·amplitude at an angle from the normal. Closed form of the kernel: cos θ · 2 J1(x)/x
// · k a²/2, x = ka sin θ.
Facets round_plate(double radius) {
  Facets plate;
  plate.frame = FacetFrame::flat;
  plate.width = 2 * radius, plate.tile = 2 * radius;
  plate.tile_shape = TileShape::round;
  return plate;
}

}  // namespace

TEST_CASE("beam of a long dish is that of an even round aperture: width, first null, side lobe") {
  // 2 J1(u)/u: half power at 1.02899397 λ/D (full width), null at 1.21966989 λ/D, side lobe −17.570150 dB. f/D = 20 lights evenly
  // to 1e-4.
  const double width = 2, wavelength = 0.005;
  const Scene scene = wave_scene(Paraboloid{20 * width, width, 0});
  const Beam beam = listening_beam(scene, of_length(wavelength), Vector3(0, 0, 20 * width), {});
  REQUIRE(beam.half_power_width);
  REQUIRE(beam.first_null);
  REQUIRE(beam.side_lobe);
  CHECK(std::abs(*beam.half_power_width / (1.02899397 * wavelength / width) - 1) < 5e-4);
  CHECK(std::abs(*beam.first_null / (1.21966989 * wavelength / width) - 1) < 1e-3);
  CHECK(std::abs(*beam.side_lobe + 17.570150) < 0.02);
  CHECK(std::abs(beam.peak_angle) < 1e-6);
}

TEST_CASE("round plate: the piston's pattern, and the intercepted power in each hemisphere") {
  // ka = 50. Physical optics scatters twice the power that falls on the plate: once as the reflection, once as the shadow.
  const double radius = 0.5, wave_number = 100;
  const WaveSetup setup = of_length(2 * pi / wave_number);
  const std::vector<MirrorPatch> patches = mirror_patches(wave_scene(round_plate(radius)));
  const WaveSamples samples =
      sample(patches, counts_for(patches, setup.wavelength(), {along_axis}, {WaveSource::from_far(Vector3::UnitX())}), 1.5);
  const WaveTerms terms = arriving(samples, setup, along_axis);
  double sent[2] = {0, 0};
  const Rule rule = gauss_rule(400);
  for (std::size_t k = 0; k < rule.at.size(); ++k) {
    const double angle = pi * rule.at[k], x = wave_number * radius * std::sin(angle);
    const double strength = std::abs(exact_toward(terms, Vector3(std::sin(angle), 0, std::cos(angle))));
    const double closed = wave_number * radius * radius / 2 * std::abs(std::cos(angle) * 2 * boost::math::cyl_bessel_j(1, x) / x);
    CHECK(std::abs(strength - closed) < 1e-6 * wave_number);
    sent[angle < pi / 2 ? 0 : 1] += strength * strength * 2 * pi * std::sin(angle) * pi * rule.weight[k];
  }
  const double caught = pi * radius * radius;
  CHECK(std::abs(sent[0] / caught - 1) < 0.03);
  CHECK(std::abs(sent[1] / caught - 1) < 0.03);
  // Behind a lit plate the reflected wave takes the incident one away.
  const Complex shadow = exact_at_place(terms, Vector3(0.03, 0.01, -0.2));
  const Complex incident = std::polar(1.0, wave_number * 0.2);
  CHECK(std::abs(shadow + incident) < 0.5);
}

TEST_CASE("piston of ka = 10: first null at 22.530216°") {
  const Scene scene = wave_scene(round_plate(0.1));
  const WaveSetup setup = of_length(2 * pi * 0.1 / 10);
  // Heard from far above the plate: the source 500 m up stands for a far receiver.
  const PatternCut cut;
  double lowest = 0, strength = 1e9;
  for (const double angle : angle_steps(degrees(22), degrees(23), 1001)) {
    const Pattern one = listening_pattern(scene, setup, Vector3(0, 0, 500), cut, {angle});
    if (std::abs(one.reflected[0]) < strength) strength = std::abs(one.reflected[0]), lowest = angle;
  }
  CHECK(std::abs(lowest / degrees(1) - 22.530216) < 0.002);
}

TEST_CASE("listening and sending patterns: lanes against plain double, and the on-axis value against K") {
  const double f = 0.24;
  const Scene scene = wave_scene(Paraboloid{f, 0.6, 0});
  WaveSetup setup;
  setup.frequency = 4000, setup.speed = 343;
  const Pattern heard = listening_pattern(scene, setup, Vector3(0, 0, f), {}, {-0.3, 0, 0.3});
  const Pattern sent = sending_pattern(scene, setup, Vector3(0, 0, f), {}, {-0.3, 0, 0.3});
  CHECK(std::abs(std::abs(heard.reflected[1]) - 11.597813) < 2e-3);
  CHECK(std::abs(std::abs(sent.reflected[1]) - 11.597813) < 2e-3);
  CHECK(std::abs(heard.reflected[0]) == testing::approx(std::abs(heard.reflected[2])).epsilon(1e-3));
  CHECK(std::abs(sent.direct[0]) == testing::approx(1));
}

TEST_CASE("a beam without a half-power point within ±90° has no width: a small flat plate and a long wave") {
  const Beam beam = listening_beam(wave_scene(Flat{0.3, 0.3}), of_length(3), Vector3(0, 0, 0.24), {});
  CHECK_FALSE(beam.half_power_width);
  CHECK_FALSE(beam.side_lobe);
}
