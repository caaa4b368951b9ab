// SPDX-License-Identifier: MIT
#include "blur/receiver.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "tally/chart.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

/// Distance to a sphere or an endless cylinder of this radius, from the squares and products of the parts across its axis.
double round_distance(double way2, double product, double place2, double radius) {
  const double nearest = -product / way2, inside = nearest * nearest - (place2 - radius * radius) / way2;
  return inside > 0 ? nearest - std::sqrt(inside) : nearest;
}

double cylinder_distance(const Vector3& place, const Vector3& along, int axis, double radius, double length) {
  Vector3 p = place, u = along;
  p[axis] = u[axis] = 0;
  const double middle = -place.dot(along), room = length + radius;
  const double way2 = u.squaredNorm();
  if (way2 < 1e-9) return middle;
  // A ray nearly along the axis comes near it far away.
  return std::clamp(round_distance(way2, p.dot(u), p.squaredNorm(), radius), middle - room, middle + room);
}

/// Base and lid count as endless planes for rays that pass them before they come to the side, so that the place moves on without a jump.
double pot_distance(const Vector3& place, const Vector3& along, double radius, double height) {
  const double to_side = cylinder_distance(place, along, 2, radius, height), middle = -place.dot(along);
  for (const double end : {0.0, height}) {
    const bool outside = end > 0 ? place.z() > end : place.z() < 0;
    const double way = (end - place.z()) / along.z();
    if (!outside || !(way > 0)) continue;
    const bool before = (place + way * along).head<2>().norm() <= radius || way > to_side;
    if (before) return std::clamp(way, middle - 4 * radius - height, middle + 4 * radius + height);
  }
  return to_side;
}

}  // namespace

Vector3 FaceShape::place_by(double cosine, double sine, double y) const {
  switch (form) {
    case Form::disc: {
      const double r = std::sqrt(std::max(0.0, 2 * radius * y));
      return {r * cosine, r * sine, height};
    }
    case Form::upright: return {radius * cosine, radius * sine, y};
    case Form::lying: return {radius * cosine, y, -radius * sine};
    case Form::ball: break;
  }
  const double r = std::sqrt(std::max(0.0, radius * radius - y * y));
  return {r * cosine, r * sine, y};
}

Vector3 FaceShape::normal(const Vector3& place) const {
  switch (form) {
    case Form::disc: return side * Vector3::UnitZ();
    case Form::upright: return side / radius * Vector3(place.x(), place.y(), 0);
    case Form::lying: return side / radius * Vector3(place.x(), 0, place.z());
    case Form::ball: break;
  }
  return side / radius * place;
}

Vector3 FaceShape::step(const Vector3& place, double u, double v) const {
  if (form == Form::ball) {
    const Vector3 up = place / radius, across = up.unitOrthogonal();
    const double chord = std::min(std::hypot(u, v), 2 * radius);
    if (chord <= 0) return place;
    const double angle = 2 * std::asin(chord / (2 * radius));
    const Vector3 toward = (u * across + v * up.cross(across)) / std::hypot(u, v);
    return radius * (std::cos(angle) * up + std::sin(angle) * toward);
  }
  const bool lies = form == Form::lying;
  const double angle = (lies ? std::atan2(-place.z(), place.x()) : std::atan2(place.y(), place.x())) + u / radius;
  return this->place(radius * angle, (lies ? place.y() : place.z()) + v);
}

double FaceShape::y_scale(double y, double length) const {
  if (form == Form::disc) return length * length / (2 * radius) + length * std::sqrt(std::max(0.0, 2 * y / radius));
  if (form != Form::ball) return length;
  return length * length / (2 * radius) + length * std::sqrt(std::max(0.0, 1 - y * y / (radius * radius)));
}

Receiver::Receiver(const Target& target) : plane_(target.pose), shape_(target.shape) {
  flat_ = std::holds_alternative<DiskTarget>(shape_) || std::holds_alternative<RectangleTarget>(shape_);
}

double Receiver::distance(const Vector3& place, const Vector3& along) const {
  if (const auto* ball = std::get_if<BallTarget>(&shape_))
    return round_distance(1, place.dot(along), place.squaredNorm(), ball->width / 2);
  if (const auto* tube = std::get_if<TubeTarget>(&shape_))
    return cylinder_distance(place, along, 1, tube->width / 2, tube->length);
  if (const auto* pot = std::get_if<PotTarget>(&shape_)) return pot_distance(place, along, pot->width / 2, pot->height);
  return -place.z() / along.z();
}

std::vector<TargetFace> Receiver::faces(double fine) const {
  std::vector<TargetFace> out;
  for (MapFace& layout : target_faces(shape_, fine)) {
    TargetFace face;
    face.flat = flat_ || layout.round;
    face.shape.radius = face.flat ? layout.x_to : layout.x_to / (2 * pi);
    if (std::holds_alternative<PotTarget>(shape_)) face.shape.form = FaceShape::Form::upright;
    if (std::holds_alternative<TubeTarget>(shape_)) face.shape.form = FaceShape::Form::lying;
    face.layout = std::move(layout);
    out.push_back(std::move(face));
  }
  return out;
}

std::vector<TargetFace> Receiver::other_faces() const {
  TargetFace face;
  MapFace& layout = face.layout;
  layout.columns = 64, layout.rows = 24;
  if (const auto* pot = std::get_if<PotTarget>(&shape_)) {
    face.shape = {FaceShape::Form::disc, pot->width / 2, pot->height, 1};
    layout.y_to = face.shape.radius / 2;
  } else if (const auto* tube = std::get_if<TubeTarget>(&shape_)) {
    face.shape = {FaceShape::Form::lying, tube->width / 2, 0, -1};
    layout.y_from = -tube->length / 2, layout.y_to = tube->length / 2;
  } else {
    return {};
  }
  layout.x_to = 2 * pi * face.shape.radius;
  return {face};
}

bool Receiver::others_see(const Vector3& place) const {
  if (const auto* pot = std::get_if<PotTarget>(&shape_)) return place.z() > pot->height;
  if (const auto* tube = std::get_if<TubeTarget>(&shape_)) return std::abs(place.y()) > tube->length / 2;
  return false;
}

bool Receiver::enters(const Vector3& from, const Vector3& place) const {
  const auto* tube = std::get_if<TubeTarget>(&shape_);
  if (tube == nullptr) return true;
  const Vector3 way = from - place;
  const double product = place.x() * way.x() + place.z() * way.z(), way2 = way.x() * way.x() + way.z() * way.z();
  const double leaves = way2 > 0 ? std::min(1.0, -2 * product / way2) : 1.0;
  return std::abs(place.y() + leaves * way.y()) > tube->length / 2;
}

}  // namespace dishwright
