// SPDX-License-Identifier: MIT
#include "scene/scene.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "shape/catenary.h"

namespace dishwright {

namespace {

template <class... Handlers>
struct OneOf : Handlers... {
  using Handlers::operator()...;
};
template <class... Handlers>
OneOf(Handlers...) -> OneOf<Handlers...>;

}  // namespace

Vector3 far_direction(double angle, double side) {
  return {std::sin(angle) * std::cos(side), std::sin(angle) * std::sin(side), std::cos(angle)};
}

Vector3 Sun::direction() const { return far_direction(aim_error, aim_direction); }

std::optional<Vector3> own_focus(const ReflectorShape& shape) {
  using Focus = std::optional<Vector3>;
  return std::visit(
      OneOf{
          [](const Paraboloid& s) { return Focus(Vector3(0, 0, s.focal_length)); },
          [](const SphereBowl& s) { return Focus(Vector3(0, 0, s.radius / 2)); },
          [](const Trough& s) { return Focus(Vector3(0, 0, s.focal_length)); },
          [](const ArcTrough& s) { return Focus(Vector3(0, 0, s.radius / 2)); },
          [](const OffsetParaboloid& s) { return Focus(Vector3(0, 0, s.focal_length)); },
          [](const Petals& s) { return Focus(Vector3(0, 0, s.focal_length)); },
          [](const Catenary& s) { return Focus(Vector3(0, 0, catenary_parameter(s.width, s.depth) / 2)); },
          [](const Facets& s) { return s.frame == FacetFrame::flat ? Focus() : Focus(Vector3(0, 0, s.focal_length)); },
          [](const Measured& s) { return Focus(s.focus); },
          [](const auto&) { return Focus(); },  // flat, cone, profile, mesh: none; hyperboloid, ellipsoid: two
      },
      shape);
}

std::optional<std::pair<Vector3, Vector3>> own_two_foci(const ReflectorShape& shape) {
  if (const auto* s = std::get_if<Hyperboloid>(&shape)) return {{Vector3(0, 0, s->near_focus), Vector3(0, 0, -s->far_focus)}};
  if (const auto* s = std::get_if<Ellipsoid>(&shape)) return {{Vector3(0, 0, s->near_focus), Vector3(0, 0, s->far_focus)}};
  return std::nullopt;
}

double rim_width(const ReflectorShape& shape) {
  return std::visit(OneOf{
                        [](const Mesh& s) { return (s.mesh->high - s.mesh->low).head<2>().maxCoeff(); },
                        [](const auto& s) { return s.width; },
                    },
                    shape);
}

double hole_width(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) {
        if constexpr (requires { s.hole_width; }) return s.hole_width;
        return 0.0;
      },
      shape);
}

std::string shape_word(const ReflectorShape& shape) {
  return std::visit(OneOf{
                        [](const Paraboloid&) { return "paraboloid"; },
                        [](const SphereBowl&) { return "sphere"; },
                        [](const Trough&) { return "trough"; },
                        [](const ArcTrough&) { return "arc trough"; },
                        [](const Flat&) { return "flat"; },
                        [](const Cone&) { return "cone"; },
                        [](const OffsetParaboloid&) { return "offset paraboloid"; },
                        [](const Facets&) { return "facets"; },
                        [](const Petals&) { return "petals"; },
                        [](const Profile&) { return "profile"; },
                        [](const Catenary&) { return "catenary"; },
                        [](const Hyperboloid&) { return "hyperboloid"; },
                        [](const Ellipsoid&) { return "ellipsoid"; },
                        [](const Mesh&) { return "mesh"; },
                        [](const Measured&) { return "measured"; },
                    },
                    shape);
}

std::string shape_word(const TargetShape& shape) {
  return std::visit(OneOf{
                        [](const DiskTarget&) { return "disk"; },
                        [](const RectangleTarget&) { return "rectangle"; },
                        [](const TubeTarget&) { return "tube"; },
                        [](const BallTarget&) { return "ball"; },
                        [](const PotTarget&) { return "pot"; },
                        [](const PointTarget&) { return "point"; },
                    },
                    shape);
}

std::string shape_word(const LampShape& shape) {
  return std::visit(OneOf{
                        [](const BallLamp&) { return "ball"; },
                        [](const DiskLamp&) { return "disk"; },
                        [](const LineLamp&) { return "line"; },
                    },
                    shape);
}

double lamp_size(const LampShape& shape) {
  return std::visit(OneOf{
                        [](const BallLamp& s) { return s.width; },
                        [](const DiskLamp& s) { return s.width; },
                        [](const LineLamp& s) { return s.length; },
                    },
                    shape);
}

std::string power_unit(const Scene& scene) { return scene.lamp && scene.lamp->in_lumens ? "lm" : "W"; }
std::string irradiance_unit(const Scene& scene) { return power_unit(scene) + "/m2"; }

double counted_area(const TargetShape& shape) {
  constexpr double pi = std::numbers::pi;
  return std::visit(OneOf{
                        [](const DiskTarget& s) { return pi / 4 * s.width * s.width; },
                        [](const RectangleTarget& s) { return s.width * s.length; },
                        [](const TubeTarget& s) { return pi * s.width * s.length; },
                        [](const BallTarget& s) { return pi * s.width * s.width; },
                        [](const PotTarget& s) { return pi / 4 * s.width * s.width + pi * s.width * s.height; },
                        [](const PointTarget&) { return 0.0; },
                    },
                    shape);
}

Matrix3 rotation(double about_x, double about_y, double about_z) {
  Matrix3 x, y, z;
  x << 1, 0, 0, 0, std::cos(about_x), -std::sin(about_x), 0, std::sin(about_x), std::cos(about_x);
  y << std::cos(about_y), 0, std::sin(about_y), 0, 1, 0, -std::sin(about_y), 0, std::cos(about_y);
  z << std::cos(about_z), -std::sin(about_z), 0, std::sin(about_z), std::cos(about_z), 0, 0, 0, 1;
  return z * y * x;
}

InputError placed(const Scene& scene, const InputError& error) {
  std::vector<Problem> problems = error.problems();
  for (Problem& problem : problems) {
    const auto place = std::find_if(scene.places.begin(), scene.places.end(),
                                    [&](const Problem& one) { return !one.key.empty() && one.key == problem.key; });
    if (place == scene.places.end()) continue;
    const Problem told = std::move(problem);
    problem = *place;
    problem.what += ": " + told.what;
    problem.why = told.why, problem.fix = told.fix;
    problem.key.clear();
  }
  return InputError(std::move(problems));
}

}  // namespace dishwright
