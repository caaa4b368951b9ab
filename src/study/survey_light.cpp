// SPDX-License-Identifier: MIT
#include "study/survey_light.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "scene/mirror_surface.h"
#include "study/survey_trace.h"
#include "survey/measured_mirror.h"

namespace dishwright {

namespace {

constexpr int shakes = 12, steady_states = 5;

/// The numbers of the measured mirror that a repair or an error of the readings changes.
struct MirrorState {
  Measured mirror;
  double slope_error = 0;                 // one axis, on top of the surface's own slopes [rad]
  Vector3 target_move = Vector3::Zero();  // in the mirror's own axes [m]
};

/// The rim that was meant, in the middle of the rim that was measured.
MeasuredRim meant_rim(const ReflectorShape& shape) {
  const PlanOutline plan = plan_of(shape);
  MeasuredRim rim{plan.high_x() - plan.low_x(), plan.round ? 0 : plan.high_y() - plan.low_y(), hole_width(shape)};
  rim.middle_x = (plan.low_x() + plan.high_x()) / 2, rim.middle_y = (plan.low_y() + plan.high_y()) / 2;
  return rim;
}

/// The scene with the measured mirror in the place of its first one.
Scene with_mirror(const Scene& scene, const MirrorState& state) {
  Scene out = scene;
  Reflector& mirror = out.reflectors.front();
  mirror.shape = state.mirror;
  mirror.slope_error = state.slope_error;
  mirror.flaws = {};  // what is wrong with it is in the readings
  for (Target& target : out.targets) target.pose.at += mirror.pose.turn * state.target_move;
  return out;
}

/// The residuals of the map's samples [m].
std::vector<double> residuals_of(const SlopeMap& map) {
  std::vector<double> out;
  for (const SurveySample& sample : map.samples) out.push_back(sample.residual);
  return out;
}

/// Another draw of the readings' noise, one a sample of the map [m], by its own stream of random numbers: rounding of the surface
/// lifted by a share of a step, and the scatter beyond it. Rounding is done, not drawn: its errors are alike where the surface is
/// level, and smoothing leaves them in.
std::vector<double> reading_errors(const Survey& survey, int number) {
  std::mt19937_64 random(0x5eed0000U + static_cast<unsigned>(number));
  const auto even = [&random] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
  const SurveyPoints& points = survey.points;
  const double whole = std::max(survey.map.reading_scatter, points.least_noise()), rounding = points.rounding_noise();
  const double scatter = std::sqrt(std::max(0.0, whole * whole - rounding));
  std::vector<double> out(survey.map.samples.size());
  for (double& error : out) error = scatter * std::sqrt(-2 * std::log(even())) * std::cos(2 * std::numbers::pi * even());
  if (rounding <= 0) return out;
  const double share = std::sqrt(rounding * 12) / points.step;
  const std::vector<double> errors = rounding_errors(points, survey.fit(), survey.map, number, shakes);
  for (std::size_t i = 0; i < out.size(); ++i) out[i] += share * errors[i];
  return out;
}

/// The surface as other readings of the same dish would give it: the part of their errors that the fitted shape takes up moves
/// that shape, the rest is smoothed as the readings are.
MeasuredSurface shaken(const Survey& survey, int number) {
  std::vector<double> residuals = reading_errors(survey, number);
  const FitVector change = taken_up(survey.fit().shape, survey.map.samples, residuals);
  for (std::size_t i = 0; i < residuals.size(); ++i) residuals[i] += survey.map.samples[i].residual;
  return survey.surface->remade(residuals, survey.map.humps).moved_by(change);
}

/// The surface with its worst spots made flush.
MeasuredSurface without_spots(const Survey& survey) {
  std::vector<double> residuals = residuals_of(survey.map);
  std::vector<char> mended(residuals.size(), 0);
  for (const Spot& spot : survey.spots) {
    for (const std::size_t i : spot.samples) residuals[i] = 0, mended[i] = 1;
  }
  std::vector<LoneHump> humps;
  std::copy_if(survey.map.humps.begin(), survey.map.humps.end(), std::back_inserter(humps),
               [&](const LoneHump& hump) { return mended[hump.sample] == 0; });
  return survey.surface->remade(residuals, humps);
}

/// The surface with one bend all round, where two focal lengths were found.
MeasuredSurface evened_out(const Survey& survey, const TwoFocalLengths& two) {
  std::vector<double> residuals = residuals_of(survey.map);
  const PlacedShape& shape = survey.fit().shape;
  for (std::size_t i = 0; i < residuals.size(); ++i) {
    const SurveySample& sample = survey.map.samples[i];
    const Vector3 at = shape.from_own(sample.foot);
    residuals[i] -= two.over_round(at.x(), at.y()) * (shape.turn * sample.normal).z();
  }
  return survey.surface->remade(residuals, survey.map.humps);
}

/// As it is; with slopes as rough as the error of the rms allows; without the slopes that smoothing took away;
/// without the humps that only one reading met; without all that stands off the fitted shape; and shaken.
std::vector<MirrorState> doubtful_states(const Survey& survey, const MirrorState& state) {
  std::vector<MirrorState> out(steady_states + shakes, state);
  // The slopes that are not in the surface are known no better than the rms is.
  out[1].slope_error = std::hypot(state.slope_error, survey.map.rms.std_error.value_or(0));
  out[2].slope_error = 0;
  out[3].mirror = with_surface(state.mirror, survey.surface->remade(residuals_of(survey.map), {}));
  out[4].mirror = with_surface(state.mirror, survey.surface->remade(std::vector<double>(survey.map.samples.size(), 0), {}));
  for (int k = 0; k < shakes; ++k)
    out[static_cast<std::size_t>(steady_states + k)].mirror = with_surface(state.mirror, shaken(survey, k));
  return out;
}

/// How far the slopes of the map are only the noise of the readings: 1 = no more than noise makes, near 0 = far more [1].
double noise_share(const SlopeMap& map) {
  const double seen = map.raw_rms.value * map.raw_rms.value, noise = map.scatter_rms * map.scatter_rms;
  const double share = seen > 0 ? std::min(1.0, noise / seen) : 1;
  return share * share;
}

/// Takes the noise of the readings out of the shares, and puts their error in. `changed`: of doubtful_states.
void add_reading_noise(SurveyLight& light, const std::vector<std::vector<Estimate>>& changed, double noise_share) {
  for (std::size_t t = 0; t < light.shares.size(); ++t) {
    const double steady = changed[0][t].value;
    double sum = 0, squares = 0;
    for (std::size_t k = steady_states; k < steady_states + shakes; ++k) {
      const double change = changed[k][t].value - steady;
      sum += change, squares += change * change;
    }
    const double mean = sum / shakes, spread = std::sqrt(std::max(0.0, (squares - shakes * mean * mean) / (shakes - 1)));
    Estimate& share = light.shares[t];
    light.as_read.push_back(share.value);
    share.value = std::clamp(share.value - mean, 0.0, 1.0);
    // Where the slopes lie that smoothing took away is a guess: half of what they cost is in doubt. A lone hump may be a slip.
    const double guess =
        std::hypot(std::hypot(changed[1][t].value - steady, (changed[2][t].value - steady) / 2), changed[3][t].value - steady);
    const double error = std::hypot(std::hypot(share.std_error.value_or(0), spread), mean, guess);
    // Where the slopes are no more than noise makes, the fitted shape is as likely as the skin through the readings. All that
    // this adds is in doubt, and by
    // the sum it makes no pass easier.
    const double fitted = std::clamp(light.as_read.back() + changed[4][t].value - steady, 0.0, 1.0);
    const double toward = noise_share * (fitted - share.value);
    share.value = std::clamp(share.value + toward, 0.0, 1.0);
    share.std_error = std::max(std::hypot(error, toward), error + std::abs(toward) / 2);
  }
}

/// With a skin that is flat from reading to reading: everywhere, then by each ring alone.
std::vector<MirrorState> hidden_states(const Survey& survey, const MirrorState& state) {
  const Hidden& hidden = survey.hidden;
  MirrorState everywhere = state;
  if (hidden.rings.empty()) everywhere.slope_error = std::hypot(state.slope_error, hidden.slope);
  const std::size_t one_side = hidden.rings.size() + 1;
  // A design is not a bowl to which flat pieces are the worst: its waves may stand either way.
  const bool both_sides = survey.fit().shape.kind == ShapeKind::meant &&
                          std::any_of(hidden.rings.begin(), hidden.rings.end(), [](const HiddenRing& r) { return r.height > 0; });
  std::vector<MirrorState> out(both_sides ? 2 * one_side : one_side, everywhere);
  for (std::size_t k = 0; k < out.size() && !hidden.rings.empty(); ++k) {
    Measured& mirror = out[k].mirror;
    const std::size_t place = k % one_side;
    const auto only = place == 0 ? std::nullopt : std::optional<std::size_t>(place - 1);
    mirror.surface = with_hidden_waves(state.mirror.surface, hidden, survey.fit().shape.focal_length(), only, k >= one_side);
    for (const HiddenRing& ring : hidden.rings) {
      mirror.high = std::max(mirror.high, state.mirror.high + 1.1 * ring.height);
      if (both_sides) mirror.low = std::min(mirror.low, state.mirror.low - 1.1 * ring.height);
    }
  }
  return out;
}

/// `changed`: of hidden_states, `one_side` of them for each way the waves may stand; `as_it_is`: the same random numbers without
/// what hides.
void add_hidden(SurveyLight& light, const std::vector<Estimate>& as_it_is, const std::vector<std::vector<Estimate>>& changed,
                std::size_t one_side) {
  for (std::size_t t = 0; t < as_it_is.size(); ++t) {
    double lost = 0;
    for (const std::vector<Estimate>& shares : changed) lost = std::max(lost, as_it_is[t].value - shares[t].value);
    light.at_risk.push_back(lost);
  }
  for (std::size_t k = 1; k < one_side; ++k) {
    double lost = 0;
    for (std::size_t at = k; at < changed.size(); at += one_side)
      lost = std::max(lost, as_it_is.front().value - changed[at].front().value);
    light.ring_risks.push_back(lost);
  }
}

struct NamedState {
  std::string kind;
  MirrorState state;
};

/// Repairs, each by itself.
std::vector<NamedState> repairs_of(const Scene& scene, const Survey& survey, const MirrorState& state) {
  const bool focus = survey.fit().shape.has_focus();
  MirrorState moved_target = state, flat_spots = state, smooth = state;
  if (focus) moved_target.target_move = state.mirror.meets_at - Vector3(0, 0, meant_focal_length(scene));
  flat_spots.mirror = with_surface(state.mirror, without_spots(survey));
  smooth.mirror = with_surface(state.mirror, survey.surface->remade(std::vector<double>(survey.map.samples.size(), 0), {}));
  smooth.slope_error = std::min(survey.map.rms.value, scene.reflectors.front().slope_error);
  std::vector<NamedState> out;
  if (focus) out.push_back({"move target", moved_target});
  if (!survey.spots.empty()) out.push_back({"flatten spots", flat_spots});
  out.push_back({"smooth surface", smooth});
  if (survey.two && survey.two->matters) {
    MirrorState even = state;
    even.mirror = with_surface(state.mirror, evened_out(survey, *survey.two));
    out.push_back({"even out", even});
  }
  return out;
}

}  // namespace

double meant_focal_length(const Scene& scene) {
  const std::optional<Vector3> focus = own_focus(scene.reflectors.front().shape);
  return focus ? focus->z() : 0;
}

SurveyLight survey_light(const Scene& scene, const Survey& survey, int threads) {
  const MirrorState state{measured_mirror(survey, meant_rim(scene.reflectors.front().shape)), smoothed_away(survey.map),
                          Vector3::Zero()};
  // A project file that asks for fewer paths is in a hurry.
  const std::uint64_t paths = std::min(most_survey_paths, scene.trace.paths);
  SurveyLight out;
  for (const Target& target : scene.targets) out.targets.push_back(target.name);
  out.meant = shares_of(survey_figures(scene, paths, threads));
  out.scene = with_mirror(scene, state);
  out.scene.title = scene.title.empty() ? "The mirror as measured" : scene.title + ", as measured";
  out.scene.trace.paths = paths;
  out.scene.trace.accuracy.reset();
  out.scene.trace.method = Method::rays;
  out.figures = survey_figures(out.scene, paths, threads);
  out.shares = shares_of(out.figures);
  // All changed mirrors at once.
  std::vector<MirrorState> states = doubtful_states(survey, state);
  const std::size_t doubtful = states.size();
  const std::vector<NamedState> repairs = repairs_of(scene, survey, state);
  for (const NamedState& repair : repairs) states.push_back(repair.state);
  const std::size_t before_hidden = states.size();
  for (MirrorState& hidden : hidden_states(survey, state)) states.push_back(std::move(hidden));
  const std::vector<std::vector<Estimate>> changed = shares_of_all(
      states.size(), [&](std::size_t k) { return with_mirror(scene, states[k]); }, threads);
  add_reading_noise(out, changed, noise_share(survey.map));
  add_hidden(out, changed.front(), {changed.begin() + static_cast<std::ptrdiff_t>(before_hidden), changed.end()},
             survey.hidden.rings.size() + 1);
  for (std::size_t k = 0; k < repairs.size(); ++k) {
    Estimate share = changed[doubtful + k].front();
    share.value = std::clamp(out.shares.front().value + share.value - changed[0].front().value, 0.0, 1.0);
    // What gains no light is no repair.
    if (share.value > out.shares.front().value) out.repairs.push_back({repairs[k].kind, share, repairs[k].state.target_move});
  }
  std::stable_sort(out.repairs.begin(), out.repairs.end(),
                   [](const Repair& a, const Repair& b) { return a.share.value > b.share.value; });
  return out;
}

}  // namespace dishwright
