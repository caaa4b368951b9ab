// SPDX-License-Identifier: MIT
#include "blur/mirror_piece.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

/// A curve z(x) from the axis outward: place, inward normal and arc length per parameter.
struct CurvePoint {
  double x = 0, z = 0;
  double nx = 0, nz = 1;  // unit, on the bright side
  double length = 0;      // per unit of the parameter [m]
};

/// z = x²/(4f), x = from … to.
CurvePoint parabola_point(double focal_length, double from, double to, double u) {
  const double x = from + (to - from) * u, slope = x / (2 * focal_length), secant = std::sqrt(1 + slope * slope);
  return {x, x * slope / 2, -slope / secant, 1 / secant, (to - from) * secant};
}

/// A circle of radius R about (0, R), x = from … to; even in angle, so that a rim at the equator is nothing special.
CurvePoint circle_point(double radius, double from, double to, double u) {
  const double low = std::asin(std::clamp(from / radius, -1.0, 1.0)), high = std::asin(std::clamp(to / radius, -1.0, 1.0));
  const double angle = low + (high - low) * u, s = std::sin(angle), half = std::sin(angle / 2);
  return {radius * s, 2 * radius * half * half, -s, std::cos(angle), radius * (high - low)};
}

template <typename Curve>
MirrorPiece bowl(const Curve& curve) {
  MirrorPiece piece;
  piece.closed = true;
  piece.at = [curve](double u, double v) {
    const CurvePoint p = curve(u);
    const double c = std::cos(turn * v), s = std::sin(turn * v);
    return MirrorPoint{{p.x * c, p.x * s, p.z}, {p.nx * c, p.nx * s, p.nz}, turn * p.x * p.length};
  };
  return piece;
}

template <typename Curve>
MirrorPiece trough(const Curve& curve, double length) {
  MirrorPiece piece;
  piece.at = [curve, length](double u, double v) {
    const CurvePoint p = curve(u);
    return MirrorPoint{{p.x, length * (v - 0.5), p.z}, {p.nx, 0, p.nz}, length * p.length};
  };
  return piece;
}

/// A shape that has no pieces yet.
template <typename Shape>
MirrorPiece own_piece(const Shape& /*shape*/) {
  return {};
}
MirrorPiece own_piece(const Paraboloid& s) {
  return bowl([s](double u) { return parabola_point(s.focal_length, s.hole_width / 2, s.width / 2, u); });
}
MirrorPiece own_piece(const SphereBowl& s) {
  return bowl([s](double u) { return circle_point(s.radius, s.hole_width / 2, s.width / 2, u); });
}
MirrorPiece own_piece(const Trough& s) {
  return trough([s](double u) { return parabola_point(s.focal_length, -s.width / 2, s.width / 2, u); }, s.length);
}
MirrorPiece own_piece(const ArcTrough& s) {
  return trough([s](double u) { return circle_point(s.radius, -s.width / 2, s.width / 2, u); }, s.length);
}
MirrorPiece own_piece(const Flat& s) {
  return trough([s](double u) { return CurvePoint{s.width * (u - 0.5), 0, 0, 1, s.width}; }, s.length);
}

}  // namespace

std::vector<MirrorPiece> mirror_pieces(const Scene& scene) {
  std::vector<MirrorPiece> pieces;
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    const Reflector& reflector = scene.reflectors[k];
    MirrorPiece piece = std::visit([](const auto& shape) { return own_piece(shape); }, reflector.shape);
    if (!piece.at) continue;
    piece.reflector = static_cast<int>(k);
    piece.at = [own = std::move(piece.at), pose = reflector.pose](double u, double v) {
      const MirrorPoint p = own(u, v);
      return MirrorPoint{pose.turn * p.place + pose.at, pose.turn * p.normal, p.area};
    };
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace dishwright
