// SPDX-License-Identifier: MIT
#include "scene/scene.h"

#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

template <class... Handlers>
struct OneOf : Handlers... {
  using Handlers::operator()...;
};
template <class... Handlers>
OneOf(Handlers...) -> OneOf<Handlers...>;

}  // namespace

Vector3 Sun::direction() const {
  return {std::sin(aim_error) * std::cos(aim_direction), std::sin(aim_error) * std::sin(aim_direction), std::cos(aim_error)};
}

std::optional<Vector3> own_focus(const ReflectorShape& shape) {
  using Focus = std::optional<Vector3>;
  return std::visit(OneOf{
                        [](const Paraboloid& s) { return Focus(Vector3(0, 0, s.focal_length)); },
                        [](const SphereBowl& s) { return Focus(Vector3(0, 0, s.radius / 2)); },
                        [](const Trough& s) { return Focus(Vector3(0, 0, s.focal_length)); },
                        [](const ArcTrough& s) { return Focus(Vector3(0, 0, s.radius / 2)); },
                        [](const Flat&) { return Focus(); },
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

}  // namespace dishwright
