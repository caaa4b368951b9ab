// SPDX-License-Identifier: MIT
#include "study/survey_light.h"

#include <algorithm>
#include <cmath>

#include "base/error.h"
#include "study/trace_scene.h"

namespace dishwright {

namespace {

constexpr std::uint64_t paths = 200'000;

/// The numbers of the measured mirror that a repair or an error of the readings changes.
struct MirrorState {
  PlacedShape shape;                      // in the mirror's own frame
  double slope_error = 0;                 // one axis [rad]
  Vector3 target_move = Vector3::Zero();  // in the mirror's own axes [m]
};

ReflectorShape fitted(const ReflectorShape& meant, const PlacedShape& shape) {
  if (const auto* bowl = std::get_if<SphereBowl>(&meant); bowl != nullptr || shape.kind == ShapeKind::sphere) {
    double width = 0, hole = 0;
    if (bowl != nullptr) width = bowl->width, hole = bowl->hole_width;
    if (const auto* dish = std::get_if<Paraboloid>(&meant)) width = dish->width, hole = dish->hole_width;
    return SphereBowl{shape.size, std::min(width, 1.999 * shape.size), hole};
  }
  if (const auto* trough = std::get_if<Trough>(&meant)) return Trough{shape.size, trough->width, trough->length};
  const auto& dish = std::get<Paraboloid>(meant);
  return Paraboloid{shape.size, dish.width, dish.hole_width};
}

/// The scene with the measured mirror in the place of its first one.
Scene with_mirror(const Scene& scene, const MirrorState& state) {
  Scene out = scene;
  out.trace.paths = paths;
  out.trace.accuracy.reset();
  Reflector& mirror = out.reflectors.front();
  const Pose meant = mirror.pose;
  mirror.shape = fitted(mirror.shape, state.shape);
  mirror.pose.turn = meant.turn * state.shape.turn;
  mirror.pose.at = meant.at + meant.turn * state.shape.vertex;
  mirror.slope_error = state.slope_error;
  for (Target& target : out.targets) target.pose.at += meant.turn * state.target_move;
  return out;
}

std::vector<Estimate> shares_of(const Scene& scene, int threads) {
  Watch watch;
  const TraceFigures figures = trace_scene(scene, threads, watch);
  std::vector<Estimate> out;
  for (const TargetFigures& target : figures.targets) out.push_back(target.intercept.value_or(Estimate{0, 0, "1"}));
  return out;
}

MirrorState measured(const Survey& survey) {
  return {survey.surface->shape(), survey.map.rms.value, Vector3::Zero()};
}

/// Rms slope that is left if the worst spots are made flush: their samples count as zero [rad].
double slope_without_spots(const Survey& survey) {
  std::vector<char> mended(survey.map.samples.size(), 0);
  for (const Spot& spot : survey.spots) {
    for (const std::size_t i : spot.samples) mended[i] = 1;
  }
  double left = 0, all = 0;
  for (std::size_t i = 0; i < mended.size(); ++i) {
    const SlopePoint& point = survey.map.points[i];
    const double square = survey.map.samples[i].share * (point.slope_x * point.slope_x + point.slope_y * point.slope_y);
    all += square;
    if (mended[i] == 0) left += square;
  }
  return all > 0 ? survey.map.rms.value * std::sqrt(left / all) : 0;
}

/// States one standard error of the readings away: slope, focal length, meeting point in x and y.
std::vector<MirrorState> shaken(const MirrorState& state, const Survey& survey) {
  std::vector<MirrorState> out(4, state);
  out[0].slope_error += survey.map.rms.std_error.value_or(0);
  const FitFigures& figures = survey.figures;
  out[1].shape.size += figures.focal_length.std_error.value_or(0) * state.shape.size / state.shape.focal_length();
  out[2].shape.vertex.x() += figures.meeting[0].std_error.value_or(0);
  out[3].shape.vertex.y() += figures.meeting[1].std_error.value_or(0);
  return out;
}

}  // namespace

ShapeKind meant_kind(const Scene& scene) {
  if (scene.reflectors.empty()) throw InputError("the project file has no mirror", "", "give one with a mirror");
  const Reflector& mirror = scene.reflectors.front();
  if (std::holds_alternative<Paraboloid>(mirror.shape)) return ShapeKind::paraboloid;
  if (std::holds_alternative<SphereBowl>(mirror.shape)) return ShapeKind::sphere;
  if (std::holds_alternative<Trough>(mirror.shape)) return ShapeKind::trough;
  throw InputError("the first mirror of the project file is a " + shape_word(mirror.shape),
                   "a survey is held against a paraboloid, a sphere or a trough",
                   "leave --scene out, or name another project file");
}

double meant_focal_length(const Scene& scene) {
  const std::optional<Vector3> focus = own_focus(scene.reflectors.front().shape);
  return focus ? focus->z() : 0;
}

double meant_width(const Scene& scene) {
  const ReflectorShape& shape = scene.reflectors.front().shape;
  if (const auto* dish = std::get_if<Paraboloid>(&shape)) return dish->width;
  if (const auto* bowl = std::get_if<SphereBowl>(&shape)) return bowl->width;
  if (const auto* trough = std::get_if<Trough>(&shape)) return trough->width;
  return 0;
}

SurveyLight survey_light(const Scene& scene, const Survey& survey, int threads) {
  const MirrorState state = measured(survey);
  SurveyLight out;
  Scene meant = scene;
  meant.trace.paths = paths;
  meant.trace.accuracy.reset();
  out.meant = shares_of(meant, threads);
  out.shares = shares_of(with_mirror(scene, state), threads);
  for (const MirrorState& other : shaken(state, survey)) {
    const std::vector<Estimate> changed = shares_of(with_mirror(scene, other), threads);
    for (std::size_t k = 0; k < out.shares.size(); ++k) {
      double& error = out.shares[k].std_error.emplace(out.shares[k].std_error.value_or(0));
      error = std::hypot(error, changed[k].value - out.shares[k].value);
    }
  }
  for (const Target& target : scene.targets) out.targets.push_back(target.name);
  // Repairs, each by itself.
  const auto add = [&](const std::string& kind, const MirrorState& repaired) {
    out.repairs.push_back({kind, shares_of(with_mirror(scene, repaired), threads).front(), repaired.target_move});
  };
  MirrorState moved_target = state, flat_spots = state, smooth = state;
  const Vector3 axis = state.shape.axis();
  const Vector3 meeting = state.shape.vertex + 2 * state.shape.focal_length() * Vector3(axis.x(), axis.y(), 0);
  moved_target.target_move = Vector3(meeting.x(), state.shape.kind == ShapeKind::trough ? 0 : meeting.y(),
                                     state.shape.vertex.z() + state.shape.focal_length() - meant_focal_length(scene));
  add("move target", moved_target);
  flat_spots.slope_error = slope_without_spots(survey);
  if (!survey.spots.empty()) add("flatten spots", flat_spots);
  smooth.slope_error = std::min(state.slope_error, scene.reflectors.front().slope_error);
  add("smooth surface", smooth);
  std::stable_sort(out.repairs.begin(), out.repairs.end(),
                   [](const Repair& a, const Repair& b) { return a.share.value > b.share.value; });
  return out;
}

}  // namespace dishwright
