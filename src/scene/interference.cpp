// SPDX-License-Identifier: MIT
#include "scene/interference.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>

#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

using Found = std::optional<Vector3>;

/// A piece of mirror as a sheet over a rectangle of its own plane; no point where there is no mirror. All in the frame.
struct Sheet {
  std::function<Found(double, double)> point;
  Pose pose;  ///< of the sheet's own plane
  double u_from = 0, u_to = 0, v_from = 0, v_to = 0;
  double reach = 0;  ///< radius of the ball round the sheet [m]; pieces smaller than the target take fewer steps
};

/// The target as the contact sees it.
struct Body {
  TargetBody faces;
  Pose pose;
  double reach = 0;  ///< radius of the ball round its middle [m]
  Vector3 middle;    ///< in the frame [m]
  double touch = 0;  ///< what counts as touching [m]

  Vector3 own(const Vector3& frame) const { return pose.turn.transpose() * (frame - pose.at); }
};

Body frame_body(const Target& target) {
  const TargetBody faces = body_of(target.shape);
  const SpaceBox box = faces.box();
  const double reach = (box.high - box.low).norm() / 2;
  return {faces, target.pose, reach, target.pose.turn * ((box.low + box.high) / 2) + target.pose.at, 1e-9 * reach};
}

/// Does the short way from a to b, both on the mirror, meet the target? Gives the place.
Found on_the_way(const Body& body, const Vector3& a, const Vector3& b) {
  if (!body.faces.is_plate()) return body.faces.depth_inside(body.own(a)) >= -body.touch ? Found(a) : Found();
  const TargetFace& plate = body.faces.faces()[0];
  const Vector3 from = body.own(a), to = body.own(b);
  if (std::abs(from.z()) <= body.touch) return plate.holds(from) ? Found(a) : Found();
  if (from.z() * to.z() >= 0) return Found();
  const double share = from.z() / (from.z() - to.z());
  return plate.holds(from + share * (to - from)) ? Found(a + share * (b - a)) : Found();
}

/// Looks over the part of a sheet that lies within the target's reach.
Found search(const Body& body, Sheet sheet) {
  const double share = sheet.reach > 0 ? std::min(1.0, sheet.reach / body.reach) : 1;
  const int steps = std::max(6, static_cast<int>(96 * share));
  const Vector3 middle = sheet.pose.turn.transpose() * (body.middle - sheet.pose.at);
  const double reach = body.reach * (1 + 1e-6);
  sheet.u_from = std::max(sheet.u_from, middle.x() - reach), sheet.u_to = std::min(sheet.u_to, middle.x() + reach);
  sheet.v_from = std::max(sheet.v_from, middle.y() - reach), sheet.v_to = std::min(sheet.v_to, middle.y() + reach);
  if (sheet.u_from > sheet.u_to || sheet.v_from > sheet.v_to) return Found();
  std::vector<Found> before(static_cast<std::size_t>(steps) + 1), row(before);
  for (int j = 0; j <= steps; ++j) {
    for (int i = 0; i <= steps; ++i) {
      const auto at = static_cast<std::size_t>(i);
      row[at] = sheet.point(sheet.u_from + (sheet.u_to - sheet.u_from) * i / steps,
                            sheet.v_from + (sheet.v_to - sheet.v_from) * j / steps);
      if (!row[at]) continue;
      const Found& left = i > 0 ? row[at - 1] : row[at];
      const Found& below = j > 0 ? before[at] : row[at];
      for (const Found& other : {left, below}) {
        Found met = on_the_way(body, *row[at], other ? *other : *row[at]);
        if (met) return met;
      }
    }
    std::swap(before, row);
  }
  return Found();
}

/// A mirror as a height over its plan, as it was built; no height beside it.
struct HeightOverPlan {
  Heights surface;
  PlanOutline plan;
  std::optional<double> height(double x, double y) const {
    if (!plan.covers(x, y)) return std::nullopt;
    return height_at(*surface, x, y).height;
  }
};

HeightOverPlan field_of(const Reflector& reflector) { return {built_surface(reflector), plan_of(reflector.shape)}; }

/// Does the body's ball lie wholly above or below all of a true mirror?
bool beyond_heights(const Body& body, const Reflector& reflector) {
  if (reflector.flaws.any()) return false;
  const HeightRange range = std::visit([](const auto& s) { return s.height_range(); }, reflector.shape);
  const double z = (reflector.pose.turn.transpose() * (body.middle - reflector.pose.at)).z(), room = body.reach * (1 + 1e-6);
  return z - room > range.high || z + room < range.low;
}

Found search_field(const Body& body, const Reflector& reflector) {
  if (beyond_heights(body, reflector)) return Found();
  const HeightOverPlan field = field_of(reflector);
  const Pose& pose = reflector.pose;
  const auto point = [&](double x, double y) {
    const std::optional<double> z = field.height(x, y);
    return z ? Found(pose.turn * Vector3(x, y, *z) + pose.at) : Found();
  };
  return search(body, {point, pose, field.plan.low_x(), field.plan.high_x(), field.plan.low_y(), field.plan.high_y()});
}

/// Within a tile's own plane: is the place on the tile?
bool on_tile(const Facets& facets, double u, double v) {
  const double half = facets.tile / 2, x = std::abs(u), y = std::abs(v);
  if (facets.tile_shape == TileShape::round) return std::hypot(u, v) <= half;
  if (facets.tile_shape == TileShape::square) return x <= half && y <= half;
  return x <= half && 0.5 * x + 0.8660254037844386 * y <= half;
}

Found search_tiles(const Body& body, const Facets& facets, const Pose& dish) {
  for (const Tile& tile : facet_layout(facets)) {
    const Pose pose{dish.turn * tile.centre + dish.at, dish.turn * tile.turn};
    const double reach = tile_reach(facets.tile_shape, facets.tile);
    if ((pose.at - body.middle).norm() > body.reach + reach) continue;
    const auto point = [&](double u, double v) {
      return on_tile(facets, u, v) ? Found(pose.turn * Vector3(u, v, 0) + pose.at) : Found();
    };
    if (Found met = search(body, {point, pose, -reach, reach, -reach, reach, reach})) return met;
  }
  return Found();
}

/// One triangle: its sides, then what lies between them.
Found search_triangle(const Body& body, const std::array<Vector3, 3>& p, double reach) {
  constexpr int steps = 8;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vector3 step = (p[(k + 1) % 3] - p[k]) / steps;
    for (int i = 0; i < steps; ++i) {
      if (Found met = on_the_way(body, p[k] + i * step, p[k] + (i + 1) * step)) return met;
    }
  }
  const Vector3 along = (p[1] - p[0]).normalized(), normal = (p[1] - p[0]).cross(p[2] - p[0]).normalized();
  Pose pose{p[0], Matrix3()};
  pose.turn << along, normal.cross(along), normal;
  // In the triangle's own plane its corners are (0, 0), (base, 0), (foot, height).
  const double base = (p[1] - p[0]).norm(), foot = along.dot(p[2] - p[0]), height = pose.turn.col(1).dot(p[2] - p[0]);
  const auto point = [&](double u, double v) {
    const double left = foot * v / height, right = base + (foot - base) * v / height;
    return u >= left && u <= right ? Found(pose.turn * Vector3(u, v, 0) + pose.at) : Found();
  };
  return search(body, {point, pose, std::min(0.0, foot), std::max(base, foot), 0, height, reach});
}

Found search_mesh(const Body& body, const TriangleMesh& mesh, const Pose& pose) {
  for (const auto& corners : mesh.triangles) {
    std::array<Vector3, 3> p;
    for (std::size_t k = 0; k < 3; ++k) p[k] = pose.turn * mesh.vertices[corners[k]] + pose.at;
    const Vector3 middle = (p[0] + p[1] + p[2]) / 3;
    const double reach = std::max({(p[0] - middle).norm(), (p[1] - middle).norm(), (p[2] - middle).norm()});
    if ((middle - body.middle).norm() > body.reach + reach) continue;
    if (Found met = search_triangle(body, p, reach)) return met;
  }
  return Found();
}

/// A flat piece of mirror in the frame, and whether a place of its own plane is on it.
struct FlatPiece {
  Pose pose;
  std::function<bool(double, double)> holds;
};

/// Calls `look` with every tile or triangle until it gives true.
void each_flat_piece(const Reflector& reflector, const std::function<bool(const FlatPiece&)>& look) {
  const Pose& pose = reflector.pose;
  if (const auto* facets = std::get_if<Facets>(&reflector.shape)) {
    for (const Tile& tile : facet_layout(*facets)) {
      if (look({{pose.turn * tile.centre + pose.at, pose.turn * tile.turn},
                [&](double u, double v) { return on_tile(*facets, u, v); }}))
        return;
    }
  } else if (const auto* mesh = std::get_if<Mesh>(&reflector.shape)) {
    for (const auto& corners : mesh->mesh->triangles) {
      const std::vector<Vector3>& v = mesh->mesh->vertices;
      const Vector3 &a = v[corners[0]], &b = v[corners[1]], &c = v[corners[2]];
      const Vector3 along = (b - a).normalized(), normal = (b - a).cross(c - a).normalized();
      Matrix3 turn;
      turn << along, normal.cross(along), normal;
      const double base = (b - a).norm(), foot = along.dot(c - a), height = turn.col(1).dot(c - a);
      const auto holds = [=](double x, double y) {
        return y >= 0 && y <= height && x >= foot * y / height && x <= base + (foot - base) * y / height;
      };
      if (look({{pose.turn * a + pose.at, pose.turn * turn}, holds})) return;
    }
  }
}

std::optional<double> height_over(const HeightOverPlan& field, const Pose& pose, const Vector3& place) {
  const Vector3 own = pose.turn.transpose() * (place - pose.at);
  const std::optional<double> height = field.height(own.x(), own.y());
  return height ? std::optional<double>(own.z() - *height) : std::nullopt;
}

}  // namespace

std::optional<double> height_above(const Reflector& reflector, const Vector3& place) {
  if (!in_flat_pieces(reflector.shape)) return height_over(field_of(reflector), reflector.pose, place);
  std::optional<double> nearest;
  each_flat_piece(reflector, [&](const FlatPiece& piece) {
    const Vector3 own = piece.pose.turn.transpose() * (place - piece.pose.at);
    if (piece.holds(own.x(), own.y()) && (!nearest || std::abs(own.z()) < std::abs(*nearest))) nearest = own.z();
    return false;
  });
  return nearest;
}

std::optional<Vector3> crossing_place(const Reflector& reflector, const Vector3& from, const Vector3& to) {
  Found crossing;
  if (in_flat_pieces(reflector.shape)) {
    each_flat_piece(reflector, [&](const FlatPiece& piece) {
      const Vector3 a = piece.pose.turn.transpose() * (from - piece.pose.at),
                    b = piece.pose.turn.transpose() * (to - piece.pose.at);
      if (a.z() * b.z() > 0 || a.z() == b.z()) return false;
      const double share = a.z() / (a.z() - b.z());
      const Vector3 met = a + share * (b - a);
      if (piece.holds(met.x(), met.y())) crossing = Vector3(from + share * (to - from));
      return crossing.has_value();
    });
    return crossing;
  }
  constexpr int steps = 400;
  const HeightOverPlan field = field_of(reflector);
  std::optional<double> before;
  for (int i = 0; i <= steps; ++i) {
    const Vector3 place = from + (to - from) * i / steps;
    const std::optional<double> height = height_over(field, reflector.pose, place);
    if (height && (*height == 0 || (before && *before * *height < 0))) return place;
    before = height;
  }
  return crossing;
}

std::optional<Vector3> interference_place(const Reflector& reflector, const Target& target) {
  const Body body = frame_body(target);
  if (const auto* facets = std::get_if<Facets>(&reflector.shape)) return search_tiles(body, *facets, reflector.pose);
  if (const auto* mesh = std::get_if<Mesh>(&reflector.shape)) return search_mesh(body, *mesh->mesh, reflector.pose);
  return search_field(body, reflector);
}

bool is_inside(const Target& target, const Vector3& place) {
  return body_of(target.shape).depth_inside(target.pose.turn.transpose() * (place - target.pose.at)) >= 0;
}

}  // namespace dishwright
