// SPDX-License-Identifier: MIT
// Tolerances in the words of the shop, word for word, of made-up limits.
#include "report/tolerance/tolerance_words.h"

#include <doctest/doctest.h>

#include <numbers>

#include "figures_sample.h"

using namespace dishwright;
using sample::inch;

namespace {

constexpr double degree = std::numbers::pi / 180;

Tolerance kettle_tolerance() {
  Tolerance all;
  all.scene = sample::kettle_scene();
  all.wanted = 0.9;
  all.share = {0.9432, 0.0021, "1"};
  return all;
}

/// Sound of 1 kHz at 343 m/s: 343 mm.
Tolerance sound_tolerance(double gain, double true_gain) {
  Tolerance all = kettle_tolerance();
  all.scene.sound = Sound{};
  all.scene.targets[0].name = "microphone";
  all.wanted = 1;
  all.waves = WaveTolerance{1000, 343, gain, true_gain, {}};
  return all;
}

ToleranceLimit limit_of(const std::string& key, double value, const std::string& unit, const std::string& side = "",
                        std::optional<double> error = {}) {
  ToleranceLimit limit;
  limit.key = key;
  limit.side = side;
  limit.at_least = key == "petals";
  limit.limit = Estimate{value, error, unit};
  return limit;
}

/// "limit; what it means in the shop".
std::string both(const ToleranceLimit& limit, Units units, const Tolerance& all = kettle_tolerance()) {
  return limit_text(all, limit, units) + "; " + limit_in_shop_words(all, limit, units);
}

}  // namespace

TEST_CASE("limits have names that say which way") {
  CHECK(limit_name(limit_of("slope_error", 1, "rad")) == "surface slope error");
  CHECK(limit_name(limit_of("offset_along", 1, "m", "toward the mirror")) == "target toward the mirror");
  CHECK(limit_name(limit_of("offset_along", 1, "m", "away from the mirror")) == "target away from the mirror");
  CHECK(limit_name(limit_of("offset_across", 1, "m", "-x")) == "target to the left");
  CHECK(limit_name(limit_of("offset_across", 1, "m", "+x")) == "target to the right");
  CHECK(limit_name(limit_of("offset_across", 1, "m", "+y")) == "target up");
  CHECK(limit_name(limit_of("offset_across", 1, "m", "-y")) == "target down");
  CHECK(limit_name(limit_of("aim_along", 1, "rad")) == "aim along the trough");
  CHECK(limit_name(limit_of("focal_length_error", 1, "1", "longer")) == "focal length too long");
  CHECK(limit_name(limit_of("focal_length_error", 1, "1", "shorter")) == "focal length too short");
  CHECK(limit_name(limit_of("petals", 6, "1")) == "petals");
  CHECK(limit_name(limit_of("tile", 1, "m")) == "flat tile");
  CHECK(limit_name(limit_of("surface_rms", 1, "m")) == "random bumps");
  CHECK(limit_name(limit_of("waviness", 1, "m")) == "waves in the surface");
}

TEST_CASE("slope error: milliradians, and the rise over a straightedge, never rounded up") {
  // 12.3 mrad over 6 in: 0.0738 in = 4.72/64; over 150 mm 1.845 mm.
  const ToleranceLimit limit = limit_of("slope_error", 12.3e-3, "rad", "", 0.1e-3);
  CHECK(both(limit, Units::us) == "up to 12.3 ± 0.1 mrad rms; 1/16 in over a 6 in run (rms over the whole surface)");
  CHECK(both(limit, Units::si) == "up to 12.3 ± 0.1 mrad rms; 1.8 mm over a 150 mm run (rms over the whole surface)");
  // 0.5 mrad is 0.003 in over 6 in, 0.024 in over 48 in, as wide as the dish is; 0.6 mm over 1200 mm.
  const ToleranceLimit fine = limit_of("slope_error", 0.5e-3, "rad");
  CHECK(both(fine, Units::us) == "up to 0.5 mrad rms; 1/64 in over a 48 in run (rms over the whole surface)");
  CHECK(both(fine, Units::si) == "up to 0.5 mrad rms; 0.6 mm over a 1200 mm run (rms over the whole surface)");
}

TEST_CASE("aim: the time in which the sun uses it up, 15 deg an hour, never rounded up") {
  const auto time = [](double degrees) { return both(limit_of("aim_error", degrees * degree, "rad"), Units::us); };
  CHECK(time(1.25) == "up to 1.25 deg; from a true aim the sun takes 5 min to use this up, at its fastest (15 deg an hour)");
  CHECK(time(1.24) == "up to 1.24 deg; from a true aim the sun takes 4 min to use this up, at its fastest (15 deg an hour)");
  CHECK(time(0.3) == "up to 0.3 deg; from a true aim the sun takes 72 s to use this up, at its fastest (15 deg an hour)");
  CHECK(time(0.002) ==
        "up to 0.002 deg; from a true aim the sun takes less than 1 s to use this up, at its fastest (15 deg an hour)");
}

TEST_CASE("places of the target: the bracket, and which way") {
  const ToleranceLimit near = limit_of("offset_along", 1.26 * inch, "m", "toward the mirror", 0.01 * inch);
  CHECK(both(near, Units::us) == "up to 1.26 ± 0.01 in; target bracket within 1 1/4 in toward the mirror");
  CHECK(both(near, Units::si) == "up to 32.0 ± 0.3 mm; target bracket within 32 mm toward the mirror");
  CHECK(both(limit_of("offset_across", 2.9e-3, "m", "+x"), Units::si) ==
        "up to 2.9 mm; target bracket within 2.5 mm to the right");
  CHECK(both(limit_of("offset_along", 0.01 * inch, "m", "away from the mirror"), Units::us) ==
        "up to 0.01 in; target bracket less than 1/64 in away from the mirror");
}

TEST_CASE("focal length: the depth of the rim, more or less than the plan's") {
  // Depth of the kettle's dish: 24²/(4 · 24) = 6 in; 10 % longer: 5.4545 in; 10 % shorter: 6.6667 in.
  CHECK(both(limit_of("focal_length_error", 0.1, "1", "longer"), Units::us) ==
        "up to 10 %; the rim no less deep at 5 1/2 in, where the plan says 6 in");
  CHECK(both(limit_of("focal_length_error", 0.1, "1", "shorter"), Units::us) ==
        "up to 10 %; the rim no more deep at 6 5/8 in, where the plan says 6 in");
  // A bowl of 24 in radius, 24 in wide: 24 − √(576 − 144) = 3.2154 in; 20 % longer: 28.8 − √(829.44 − 144) = 2.6191 in.
  Tolerance bowl = kettle_tolerance();
  bowl.scene.reflectors[0].shape = SphereBowl{24 * inch, 24 * inch, 0};
  CHECK(limit_in_shop_words(bowl, limit_of("focal_length_error", 0.2, "1", "longer"), Units::us) ==
        "the rim no less deep at 2 5/8 in, where the plan says 3 7/32 in");
  // Shorter than a half sphere, and shapes without a depth that a rule could measure: nothing.
  CHECK(limit_in_shop_words(bowl, limit_of("focal_length_error", 0.6, "1", "shorter"), Units::us) == "");
  bowl.scene.reflectors[0].shape = Cone{};
  CHECK(limit_in_shop_words(bowl, limit_of("focal_length_error", 0.1, "1", "longer"), Units::us) == "");
}

TEST_CASE("pieces: petals at least, tiles at most") {
  CHECK(both(limit_of("petals", 14, "1"), Units::us) == "at least 14 petals; flat sheet bent one way; this many pieces or more");
  CHECK(both(limit_of("tile", 2.51 * inch, "m"), Units::us) ==
        "up to 2.51 in; flat squares of 2 1/2 in at most, with gaps of 1/20 of a tile");
}

TEST_CASE("where there is no limit: open, not reachable, too little at 0, could not be tried") {
  const Tolerance all = kettle_tolerance();
  ToleranceLimit limit = limit_of("aim_error", 0, "rad");
  limit.limit.reset();
  limit.searched = 20 * degree;
  CHECK(limit_text(all, limit, Units::us) == "could not be tried");
  CHECK(limit_in_shop_words(all, limit, Units::us) == "");
  limit.curve = {{0, 0.7, 0.002}};
  limit.best = {1.5 * degree, 0.7123, 0.0021};
  CHECK(limit_text(all, limit, Units::us) == "not reachable: best is 71.2 ± 0.2 % at 1.5 deg");
  limit.best = {1.5 * degree, 0.95, 0};
  CHECK(limit_text(all, limit, Units::us) == "too little at 0; 95 % at 1.5 deg");
  limit.open = true;
  CHECK(limit_text(all, limit, Units::us) == "no limit up to 20 deg");
}

TEST_CASE("verdict and question") {
  Tolerance all = kettle_tolerance();
  CHECK(tolerance_verdict(all) ==
        "Yes: as the file has it the kettle catches 94.3 ± 0.2 % of the mirror's light; 90 % are wanted.");
  all.wanted = 0.97;
  CHECK(tolerance_verdict(all) ==
        "No: as the file has it the kettle catches 94.3 ± 0.2 % of the mirror's light; 97 % are wanted.");
  all.wanted = 0.94;  // 0.32 % away, less than two standard errors
  CHECK(tolerance_verdict(all) ==
        "Too close to call: as the file has it the kettle catches 94.3 ± 0.2 % of the mirror's light, and 94 % are wanted.");
  CHECK(tolerance_question(all, Units::us) ==
        "Wanted: 94 % of the mirror's light on the kettle. How far each thing may go while all else stays as the file has it:");
}

TEST_CASE("waves: lengths in wavelengths too, the loss that is allowed, and a verdict in dB") {
  Tolerance all = sound_tolerance(16.5, 17);
  CHECK(wanted_text(all) == "1 dB");
  CHECK(tolerance_question(all, Units::si) ==
        "At 1 kHz (wavelength 343 mm) a loss of 1 dB is allowed at the microphone. How far each thing may go while all else "
        "stays as the "
        "file has it:");
  CHECK(limit_text(all, limit_of("surface_rms", 0.0137, "m"), Units::si) == "up to 13.7 mm rms (0.0399 wavelengths)");
  CHECK(limit_text(all, limit_of("offset_along", 0.0343, "m", "toward the mirror"), Units::si) ==
        "up to 34.3 mm (0.1 wavelengths)");
  CHECK(limit_text(all, limit_of("offset_along", 1372, "m", "toward the mirror"), Units::si) ==
        "up to 1370000 mm (4000 wavelengths)");
  CHECK(limit_text(all, limit_of("aim_error", degree, "rad"), Units::si) == "up to 1 deg");
  // 10 % of 609.6 mm.
  CHECK(limit_text(all, limit_of("focal_length_error", 0.1, "1", "longer"), Units::si) ==
        "up to 10 % = 61 mm (0.178 wavelengths)");
  // A sixth of 48 in; twice 5/16 in.
  CHECK(both(limit_of("waviness", 0.32 * inch, "m"), Units::us, all) ==
        "up to 0.32 in from the middle to a crest (0.0237 wavelengths); waves 8 in from crest to crest may be 5/8 in high from "
        "trough to "
        "crest");
  CHECK(tolerance_verdict(all) ==
        "Yes: as the file has it the gain at the microphone is 16.5 dB, 0.5 dB less than the true dish has; a loss of 1 dB is "
        "allowed.");
  CHECK(tolerance_verdict(sound_tolerance(15.5, 17)) ==
        "No: as the file has it the gain at the microphone is 15.5 dB, 1.5 dB less than the true dish has; a loss of 1 dB is "
        "allowed.");
  CHECK(
      tolerance_verdict(sound_tolerance(17.04, 17)) ==
      "Yes: as the file has it the gain at the microphone is 17.0 dB, as much as the true dish has; a loss of 1 dB is allowed.");
  CHECK(tolerance_verdict(sound_tolerance(17.4, 17)) ==
        "Yes: as the file has it the gain at the microphone is 17.4 dB, 0.4 dB more than the true dish has; a loss of 1 dB is "
        "allowed.");
  all.waves->gain.reset();
  CHECK(tolerance_verdict(all) == "No: nothing arrives at the microphone.");
  ToleranceLimit none = limit_of("surface_rms", 0, "m");
  none.limit.reset();
  none.curve = {{0, -3, 0}};
  CHECK(limit_text(all, none, Units::si) == "too great a loss from the start");
}

TEST_CASE("sentences for the JSON: name, limit, shop words where there are any") {
  Tolerance all = kettle_tolerance();
  ToleranceLimit open = limit_of("aim_error", 0, "rad");
  open.limit.reset(), open.open = true, open.searched = 20 * degree;
  all.limits = {limit_of("petals", 14, "1"), open};
  CHECK(tolerance_sentences(all, Units::us) ==
        std::vector<std::string>{"petals: at least 14 petals; flat sheet bent one way; this many pieces or more",
                                 "aim error: no limit up to 20 deg"});
}
