// SPDX-License-Identifier: MIT
#include "quadrature/outline.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"
#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

Outline::TileOutline outline_of(const Facets& facets, const Tile& tile) {
  std::vector<Eigen::Vector2d> corners = tile_outline(facets.tile_shape, facets.tile);
  constexpr int round_corners = 24;
  for (int k = 0; k < round_corners && facets.tile_shape == TileShape::round; ++k) {
    const double angle = 2 * pi * k / round_corners, radius = facets.tile / 2 / std::cos(pi / round_corners);
    corners.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
  }
  Outline::TileOutline out{tile.centre, tile.turn.col(2), {}, 0, tile_area(facets.tile_shape, facets.tile)};
  for (const Eigen::Vector2d& corner : corners) {
    out.corners.push_back(tile.centre + tile.turn * Vector3(corner.x(), corner.y(), 0));
    out.reach = std::max(out.reach, corner.norm());
  }
  return out;
}

/// The way along a line in plan to a circle about the origin, from inside.
double to_circle(const Eigen::Vector2d& from, const Eigen::Vector2d& toward, double radius) {
  const double b = from.dot(toward);
  return std::max(0.0, -b + std::sqrt(std::max(0.0, b * b - from.squaredNorm() + radius * radius)));
}

double to_edge(double from, double toward, double low, double high) {
  if (toward == 0) return 1e300;
  return std::max(0.0, ((toward > 0 ? high : low) - from) / toward);
}

}  // namespace

Outline::Outline(const Reflector& mirror) : plan_(plan_of(mirror.shape)) {
  if (const auto* facets = std::get_if<Facets>(&mirror.shape)) {
    for (const Tile& tile : facet_layout(*facets)) tiles_.push_back(outline_of(*facets, tile));
    for (const TileOutline& tile : tiles_) {
      for (const Vector3& corner : tile.corners) top_ = std::max(top_, corner.z()), low_ = std::min(low_, corner.z());
    }
    return;
  }
  // Heights, quadric and corners of the rim, as far as the shape has them.
  triangles_ = in_flat_pieces(mirror.shape);
  const HeightRange range = std::visit([](const auto& s) { return s.height_range(); }, mirror.shape);
  flat_ = shape_quadric(mirror.shape) && range.low == range.high;
  if (const auto surface = mirror.flaws.any() ? flawed_surface(mirror) : height_surface(mirror.shape)) {
    height_ = [surface](double x, double y) { return height_at(*surface, x, y).height; };
    if (!mirror.flaws.any()) quadric_ = shape_quadric(mirror.shape);
    const int corners = std::visit(
        [](const auto& s) {
          if constexpr (requires { s.rim_corners(); }) return s.rim_corners();
          return 0;
        },
        mirror.shape);
    if (corners > 0) rim_steps_ = corners * std::max(4, 512 / corners);
    if (mirror.flaws.any()) rim_steps_ = 4096;
  } else {
    known_ = false;
    return;
  }
  // Highest and lowest place of the rim.
  for (int k = 0; k < 64; ++k) {
    const double angle = 2 * pi * k / 64;
    const Vector3 rim = rim_point({plan_.x_middle, plan_.y_middle, 0}, {std::cos(angle), std::sin(angle)});
    top_ = std::max(top_, rim.z()), low_ = std::min(low_, rim.z());
  }
}

Vector3 Outline::rim_point(const Vector3& own, const Eigen::Vector2d& toward) const {
  Eigen::Vector2d from = own.head<2>();
  if (plan_.round) {
    const Eigen::Vector2d middle(plan_.x_middle, plan_.y_middle);
    from += to_circle(from - middle, toward, plan_.outer) * toward;
  } else {
    from += std::min(to_edge(from.x(), toward.x(), plan_.x_from, plan_.x_to),
                     to_edge(from.y(), toward.y(), plan_.y_from, plan_.y_to)) *
            toward;
  }
  return {from.x(), from.y(), height(from.x(), from.y())};
}

double Outline::rim_distance(const Vector3& own) const {
  if (plan_.round) return std::max(0.0, plan_.outer - std::hypot(own.x() - plan_.x_middle, own.y() - plan_.y_middle));
  const double nearest = std::min({own.x() - plan_.x_from, plan_.x_to - own.x(), own.y() - plan_.y_from, plan_.y_to - own.y()});
  return std::max(0.0, nearest);
}

bool Outline::over(const Vector3& own) const {
  if (plan_.round) return std::hypot(own.x() - plan_.x_middle, own.y() - plan_.y_middle) <= plan_.outer;
  return own.x() >= plan_.x_from && own.x() <= plan_.x_to && own.y() >= plan_.y_from && own.y() <= plan_.y_to;
}

bool Outline::hides(const Vector3& own) const {
  const double slack = 1e-9 * plan_.outer;
  if (!tiles_.empty()) return own.z() < top_ + slack;
  if (quadric_) {  // it bends one way: what lies above it and its continuation is seen from all of it
    const double beyond = quadric_->a * own.x() * own.x() + quadric_->b * own.y() * own.y();
    if (quadric_->c > 0 && quadric_->c * beyond > quadric_->d * quadric_->d) return own.z() < top_ + slack;
    return own.z() < (flat_ ? 0 : bowl_height(*quadric_, beyond)) + slack;
  }
  if (own.z() >= top_ + slack) return false;
  return !over(own) || own.z() < height(own.x(), own.y()) + slack;
}

// ∬ (s_z − s_x ∂h/∂x − s_y ∂h/∂y) dx dy, the slopes' part by the heights of the edge alone.
double Outline::silhouette(const Vector3& own_sun) const {
  double area = 0, edge_x = 0, edge_y = 0;
  for (const TileOutline& tile : tiles_) area += tile.area * tile.normal.dot(own_sun);
  if (!tiles_.empty()) return area;
  if (plan_.round) {
    area = pi * (plan_.outer * plan_.outer - plan_.inner * plan_.inner);
    for (const auto& [radius, side] : {std::pair(plan_.outer, 1.0), std::pair(plan_.inner, -1.0)}) {
      for (int k = 0; k < rim_steps_ && radius > 0; ++k) {
        const double angle = 2 * pi * (k + 0.5) / rim_steps_, c = std::cos(angle), s = std::sin(angle);
        const double part =
            side * 2 * pi * radius / rim_steps_ * height(plan_.x_middle + radius * c, plan_.y_middle + radius * s);
        edge_x += part * c, edge_y += part * s;
      }
    }
  } else {
    const double width = plan_.x_to - plan_.x_from, length = plan_.y_to - plan_.y_from;
    area = width * length;
    const Rule rule = gauss_rule(rim_steps_ / 4);
    for (std::size_t k = 0; k < rule.at.size(); ++k) {
      const double x = plan_.x_from + width * rule.at[k], y = plan_.y_from + length * rule.at[k];
      edge_x += rule.weight[k] * length * (height(plan_.x_to, y) - height(plan_.x_from, y));
      edge_y += rule.weight[k] * width * (height(x, plan_.y_to) - height(x, plan_.y_from));
    }
  }
  return own_sun.z() * area - own_sun.x() * edge_x - own_sun.y() * edge_y;
}

bool Outline::blocks(const Vector3& own, const Vector3& direction) const {
  if (own.z() >= top_ && direction.z() >= 0) return false;
  if (!tiles_.empty()) return meets_tile(own, direction);
  return quadric_ ? meets_quadric(own, direction) : meets_height(own, direction);
}

bool Outline::meets_quadric(const Vector3& own, const Vector3& direction) const {
  const RayEquation eq = ray_equation(*quadric_, own.x(), own.y(), own.z(), direction.x(), direction.y(), direction.z());
  const double inside = eq.b * eq.b - eq.a * eq.c;
  if (inside < 0) return false;
  const double step = -(eq.b + std::copysign(std::sqrt(inside), eq.b));
  for (const double t : {step / eq.a, eq.c / step}) {
    if (!std::isfinite(t) || t <= 1e-9) continue;
    const Vector3 meeting = own + t * direction;
    const bool in_hole = plan_.round && std::hypot(meeting.x() - plan_.x_middle, meeting.y() - plan_.y_middle) < plan_.inner;
    if (over(meeting) && meeting.z() >= low_ - 1e-9 && meeting.z() <= top_ * (1 + 1e-9) + 1e-12 && !in_hole) return true;
  }
  return false;
}

bool Outline::meets_tile(const Vector3& own, const Vector3& direction) const {
  return std::any_of(tiles_.begin(), tiles_.end(), [&](const TileOutline& tile) {
    const double way = tile.normal.dot(tile.middle - own) / tile.normal.dot(direction);
    if (!std::isfinite(way) || way <= 1e-9) return false;
    const Vector3 meeting = own + way * direction;
    for (std::size_t k = 0; k < tile.corners.size(); ++k) {
      const Vector3 side = tile.corners[(k + 1) % tile.corners.size()] - tile.corners[k];
      if (side.cross(meeting - tile.corners[k]).dot(tile.normal) < 0) return false;
    }
    return true;
  });
}

// By changes of side along the way through the heights of the mirror.
bool Outline::meets_height(const Vector3& own, const Vector3& direction) const {
  constexpr int steps = 256;
  const double far = 4 * plan_.outer + (own - Vector3(plan_.x_middle, plan_.y_middle, 0)).norm() + top_;
  double before = 0;
  for (int k = 0; k <= steps; ++k) {
    const Vector3 place = own + (1e-9 + far * k / steps) * direction;
    if (!over(place)) {
      before = 0;
      continue;
    }
    const double above = place.z() - height(place.x(), place.y());
    if (before * above < 0) return true;
    before = above;
  }
  return false;
}

}  // namespace dishwright
