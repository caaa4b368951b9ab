// SPDX-License-Identifier: MIT
#include "scene/scene.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

Vector3 far_direction(double angle, double side) {
  return {std::sin(angle) * std::cos(side), std::sin(angle) * std::sin(side), std::cos(angle)};
}

Vector3 Sun::direction() const { return far_direction(aim_error, aim_direction); }

std::optional<Vector3> own_focus(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) -> std::optional<Vector3> {
        if constexpr (requires { s.focus(); }) return s.focus();
        return std::nullopt;
      },
      shape);
}

std::optional<FocusPair> own_two_foci(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) -> std::optional<FocusPair> {
        if constexpr (requires { s.two_foci(); }) return s.two_foci();
        return std::nullopt;
      },
      shape);
}

double rim_width(const ReflectorShape& shape) {
  return std::visit(
      [](const auto& s) {
        if constexpr (requires { s.rim_width(); }) {
          return s.rim_width();
        } else {
          return s.width;
        }
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

bool in_flat_pieces(const ReflectorShape& shape) {
  return std::visit([](const auto& s) { return shape_check::InFlatPieces<std::decay_t<decltype(s)>>; }, shape);
}

std::string shape_word(const ReflectorShape& shape) {
  return std::visit([](const auto& s) { return std::string(s.words.word); }, shape);
}

std::string shape_with_article(const ReflectorShape& shape) {
  return std::visit([](const auto& s) { return std::string(s.words.with_article); }, shape);
}

std::string shape_word(const TargetShape& shape) {
  return std::visit([](const auto& s) { return std::string(s.word); }, shape);
}

std::string shape_word(const LampShape& shape) {
  return std::visit([](const auto& s) { return std::string(s.word); }, shape);
}

double lamp_size(const LampShape& shape) {
  return std::visit([](const auto& s) { return s.size(); }, shape);
}

std::string power_unit(const Scene& scene) { return scene.lamp && scene.lamp->in_lumens ? "lm" : "W"; }
std::string irradiance_unit(const Scene& scene) { return power_unit(scene) + "/m2"; }

TargetBody body_of(const TargetShape& shape) {
  return TargetBody(std::visit([](const auto& s) { return s.faces(); }, shape));
}

double target_width(const TargetShape& shape) {
  return std::visit([](const auto& s) { return s.width; }, shape);
}

double counted_area(const TargetShape& shape) { return body_of(shape).area(); }

bool is_plate(const TargetShape& shape) { return body_of(shape).is_plate(); }
bool has_spot_plane(const TargetShape& shape) { return body_of(shape).spot_face() != nullptr; }

bool is_point(const TargetShape& shape) { return body_of(shape).is_point(); }

bool is_band(const TargetShape& shape) {
  const TargetBody body = body_of(shape);
  return !body.is_point() && (body.faces()[0].form == FaceForm::rectangle || body.faces()[0].form == FaceForm::lying);
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
