// SPDX-License-Identifier: MIT
#include "quadrature/receiver.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "result/face_maps.h"

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

/// Base and lid count as endless planes for rays that pass them before they come to the side, so that the place moves on without
/// a jump.
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

Receiver::Receiver(const Target& target)
    : plane_(target.pose), shape_(target.shape), body_(body_of(target.shape)), band_(is_band(target.shape)) {
  has_plane_ = body_.spot_face() != nullptr;
}

double Receiver::distance(const Vector3& place, const Vector3& along) const {
  switch (face().form) {
    case FaceForm::ball: return round_distance(1, place.dot(along), place.squaredNorm(), face().radius);
    case FaceForm::lying: return cylinder_distance(place, along, 1, face().radius, face().to - face().from);
    case FaceForm::upright: return pot_distance(place, along, face().radius, face().to);
    default: return -place.z() / along.z();
  }
}

std::vector<MappedFace> Receiver::faces(double fine) const {
  std::vector<MappedFace> out;
  std::size_t k = 0;
  for (MapFace& layout : target_faces(shape_, fine)) {
    const TargetFace& own = body_.faces()[k++];
    MappedFace map;
    map.flat = own.flat();
    map.shape.radius = map.flat ? layout.x_to : layout.x_to / (2 * pi);
    if (has_plane_ && !flat()) map.shape.form = FaceShape::Form::upright;
    if (own.form == FaceForm::lying) map.shape.form = FaceShape::Form::lying;
    map.layout = std::move(layout);
    out.push_back(std::move(map));
  }
  return out;
}

std::vector<MappedFace> Receiver::other_faces() const {
  MappedFace map;
  MapFace& layout = map.layout;
  layout.columns = 64, layout.rows = 24;
  const TargetFace& last = body_.faces().back();
  if (!last.counts) {  // a lid
    map.shape = {FaceShape::Form::disc, last.radius, last.height, 1};
    layout.y_to = map.shape.radius / 2;
  } else if (face().form == FaceForm::lying) {
    map.shape = {FaceShape::Form::lying, face().radius, 0, -1};
    layout.y_from = face().from, layout.y_to = face().to;
  } else {
    return {};
  }
  layout.x_to = 2 * pi * map.shape.radius;
  return {map};
}

bool Receiver::others_see(const Vector3& place) const {
  const TargetFace& last = body_.faces().back();
  if (!last.counts) return place.z() > last.height;
  return face().form == FaceForm::lying && std::abs(place.y()) > face().to;
}

bool Receiver::enters(const Vector3& from, const Vector3& place) const {
  if (face().form != FaceForm::lying) return true;
  const Vector3 way = from - place;
  const double product = place.x() * way.x() + place.z() * way.z(), way2 = way.x() * way.x() + way.z() * way.z();
  const double leaves = way2 > 0 ? std::min(1.0, -2 * product / way2) : 1.0;
  return std::abs(place.y() + leaves * way.y()) > face().to;
}

}  // namespace dishwright
