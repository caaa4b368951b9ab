// SPDX-License-Identifier: MIT
#include "scene/mirror_patch.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "scene/mirror_surface.h"
#include "shape/catenary.h"
#include "shape/conic.h"

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;
using Patches = std::vector<MirrorPatch>;
using Curve = std::function<MirrorPoint(double u)>;  // in the plane y = 0; area: length per du

/// z(x) from its height and slope, x = from … to.
template <typename HeightAndSlope>
Curve curve_of(double from, double to, HeightAndSlope height_and_slope) {
  return [=](double u) {
    const double x = from + (to - from) * u;
    const auto [height, slope] = height_and_slope(x);
    const double secant = std::sqrt(1 + slope * slope);
    return MirrorPoint{{x, 0, height}, {-slope / secant, 0, 1 / secant}, (to - from) * secant};
  };
}

Curve parabola(double f, double from, double to) {
  return curve_of(from, to, [f](double x) { return std::pair(x * x / (4 * f), x / (2 * f)); });
}

/// A circle about (0, R), even in angle, so that a rim at the equator is nothing special.
Curve circle(double radius, double from, double to) {
  const double low = std::asin(std::clamp(from / radius, -1.0, 1.0)), high = std::asin(std::clamp(to / radius, -1.0, 1.0));
  return [=](double u) {
    const double angle = low + (high - low) * u, s = std::sin(angle), half = std::sin(angle / 2);
    return MirrorPoint{{radius * s, 0, 2 * radius * half * half}, {-s, 0, std::cos(angle)}, radius * (high - low)};
  };
}

/// r² − 2 R z + s z² = 0, by the angle of its normal as far as the rim: d z/d r = r/(R − s z).
Curve conic_curve(const Conic& conic, double from, double to, double sign) {
  const Curve curve = curve_of(from, to, [conic](double r) {
    const double z = conic.height(r);
    return std::pair(z, r / (conic.apex_radius - conic.shape_factor * z));
  });
  return [curve, sign](double u) {
    MirrorPoint p = curve(u);
    p.normal *= sign;
    return p;
  };
}

Patches bowl(const Curve& curve) {
  MirrorPatch patch;
  patch.closed = true;
  patch.at = [curve](double u, double v) {
    const MirrorPoint p = curve(u);
    const double c = std::cos(turn * v), s = std::sin(turn * v), r = p.place.x();
    return MirrorPoint{{r * c, r * s, p.place.z()}, {p.normal.x() * c, p.normal.x() * s, p.normal.z()}, turn * r * p.area};
  };
  return {patch};
}

Patches trough(const Curve& curve, double length) {
  MirrorPatch patch;
  patch.at = [curve, length](double u, double v) {
    MirrorPoint p = curve(u);
    p.place.y() = length * (v - 0.5);
    p.area *= length;
    return p;
  };
  return {patch};
}

MirrorPatch parallelogram(const Vector3& corner, const Vector3& first, const Vector3& second) {
  MirrorPatch patch;
  const Vector3 across = first.cross(second);
  patch.at = [=, normal = Vector3(across.normalized()), area = across.norm()](double u, double v) {
    return MirrorPoint{corner + u * first + v * second, normal, area};
  };
  return patch;
}

Patches patches(const Paraboloid& s) { return bowl(parabola(s.focal_length, s.hole_width / 2, s.width / 2)); }
Patches patches(const SphereBowl& s) { return bowl(circle(s.radius, s.hole_width / 2, s.width / 2)); }
Patches patches(const Trough& s) { return trough(parabola(s.focal_length, -s.width / 2, s.width / 2), s.length); }
Patches patches(const ArcTrough& s) { return trough(circle(s.radius, -s.width / 2, s.width / 2), s.length); }
Patches patches(const Flat& s) { return {parallelogram({-s.width / 2, -s.length / 2, 0}, {s.width, 0, 0}, {0, s.length, 0})}; }
Patches patches(const Cone& s) {
  const double slope = 2 * s.depth / s.width;
  return bowl(curve_of(s.hole_width / 2, s.width / 2, [slope](double r) { return std::pair(slope * r, slope); }));
}
Patches patches(const Catenary& s) {
  const double a = catenary_parameter(s.width, s.depth);
  return bowl(
      curve_of(s.hole_width / 2, s.width / 2, [a](double r) { return std::pair(catenary_height(a, r), catenary_slope(a, r)); }));
}
Patches patches(const Hyperboloid& s) {
  return bowl(conic_curve(hyperboloid_conic(s.near_focus, s.far_focus), s.hole_width / 2, s.width / 2, -1));
}
Patches patches(const Ellipsoid& s) {
  return bowl(conic_curve(ellipsoid_conic(s.near_focus, s.far_focus), s.hole_width / 2, s.width / 2, 1));
}

Patches patches(const OffsetParaboloid& s) {
  MirrorPatch patch;
  patch.closed = true;
  patch.at = [s](double u, double v) {
    const double from = s.hole_width / 2, to = s.width / 2, rho = from + (to - from) * u;
    const double x = rho * std::cos(turn * v), y = s.clearance + to + rho * std::sin(turn * v), twice = 2 * s.focal_length;
    const Vector3 steep(-x / twice, -y / twice, 1);
    return MirrorPoint{{x, y, (x * x + y * y) / (2 * twice)}, steep.normalized(), turn * rho * (to - from) * steep.norm()};
  };
  return {patch};
}

Patches patches(const Profile& s) {
  const auto curve = [&s](double from, double to) {
    return curve_of(from, to, [c = s.curve](double x) {
      const double inside = std::clamp(x, c->start(), c->rim());
      return std::pair(c->height(inside), c->slope(inside));
    });
  };
  const auto piece = [&](const Curve& c) { return s.trough ? trough(c, s.length) : bowl(c); };
  const double first = s.trough ? s.curve->start() : s.hole_width / 2;
  if (s.curve->kind() == CurveKind::fair) return piece(curve(first, s.curve->rim()));
  Patches all;
  for (const ProfileCurve::Span& span : s.curve->spans()) {
    if (span.to > first) all.push_back(piece(curve(std::max(first, span.from), span.to)).front());
  }
  return all;
}

Patches patches(const Petals& s) {
  Patches all;
  const double k = petal_coefficient(s), half = std::numbers::pi / s.count;
  for (int petal = 0; petal < s.count; ++petal) {
    MirrorPatch patch;
    const Matrix3 round = rotation(0, 0, petal_azimuth(s, petal));
    patch.at = [s, k, half, round](double u, double v) {
      const double from = s.hole_width / 2, to = s.width / 2, r = from + (to - from) * u, angle = half * (2 * v - 1);
      const double x = r * std::cos(angle), slope = 2 * k * x, secant = std::sqrt(1 + slope * slope);
      return MirrorPoint{round * Vector3(x, r * std::sin(angle), k * x * x), round * Vector3(-slope / secant, 0, 1 / secant),
                         r * (to - from) * 2 * half * secant};
    };
    all.push_back(patch);
  }
  return all;
}

/// A tile is one square, three rhombi or one disk.
void add_tile(Patches& all, const Facets& s, const Tile& tile) {
  const auto on_tile = [&tile](const Eigen::Vector2d& p) { return Vector3(tile.turn * Vector3(p.x(), p.y(), 0)); };
  if (s.tile_shape == TileShape::round) {
    MirrorPatch patch = bowl(curve_of(0, s.tile / 2, [](double /*r*/) { return std::pair(0.0, 0.0); })).front();
    all.push_back(placed(patch, {tile.centre, tile.turn}, 0));
    return;
  }
  const std::vector<Eigen::Vector2d> corner = tile_outline(s.tile_shape, s.tile);
  if (corner.size() == 4) {
    all.push_back(
        parallelogram(tile.centre + on_tile(corner[0]), on_tile(corner[1] - corner[0]), on_tile(corner[3] - corner[0])));
    return;
  }
  for (std::size_t k = 0; k < 6; k += 2)
    all.push_back(parallelogram(tile.centre, on_tile(corner[k]), on_tile(corner[(k + 2) % 6])));
}

Patches patches(const Facets& s) {
  Patches all;
  for (const Tile& tile : facet_layout(s)) add_tile(all, s, tile);
  return all;
}

Patches patches(const Mesh& s) {
  Patches all;
  all.reserve(s.mesh->triangles.size());
  for (std::size_t t = 0; t < s.mesh->triangles.size(); ++t) {
    MirrorPatch patch;
    patch.triangle = true;
    patch.at = [mesh = s.mesh, t, smooth = s.smooth](double u, double v) {
      const std::uint32_t a = mesh->triangles[t][0], b = mesh->triangles[t][1], c = mesh->triangles[t][2];
      const double of_a = 1 - u, of_b = u * (1 - v), of_c = u * v;
      const auto mix = [&](const std::vector<Vector3>& all_corners) -> Vector3 {
        return of_a * all_corners[a] + of_b * all_corners[b] + of_c * all_corners[c];
      };
      const Vector3 across = (mesh->vertices[b] - mesh->vertices[a]).cross(mesh->vertices[c] - mesh->vertices[a]);
      return MirrorPoint{mix(mesh->vertices), smooth ? mix(mesh->normals).normalized() : face_normal(*mesh, t),
                         across.norm() * u};
    };
    all.push_back(std::move(patch));
  }
  return all;
}

Patches patches(const Measured& s) { return {height_patch(s.surface, plan_of(s))}; }

/// The surface over a place of the plan; `plan_area` is per du dv.
MirrorPoint point_over(const HeightSurface& surface, double x, double y, double plan_area) {
  double height = 0, slope_x = 0, slope_y = 0;
  surface.heights(1, &x, &y, &height, &slope_x, &slope_y);
  const Vector3 steep(-slope_x, -slope_y, 1);
  return {{x, y, height}, steep.normalized(), plan_area * steep.norm()};
}

/// A patch for each petal of a flawed dish of petals: the slope jumps from one to the next.
Patches flawed_petals(const Petals& s, const std::shared_ptr<const HeightSurface>& surface) {
  Patches all;
  const double half = std::numbers::pi / s.count, from = s.hole_width / 2, to = s.width / 2;
  for (int petal = 0; petal < s.count; ++petal) {
    MirrorPatch patch;
    patch.heights = true;
    patch.at = [=, middle = petal_azimuth(s, petal)](double u, double v) {
      // A hair within the seams: on one, either petal may answer.
      const double r = from + (to - from) * u, angle = middle + half * (1 - 1e-12) * (2 * v - 1);
      return point_over(*surface, r * std::cos(angle), r * std::sin(angle), r * (to - from) * 2 * half);
    };
    all.push_back(std::move(patch));
  }
  return all;
}

}  // namespace

MirrorPatch height_patch(std::shared_ptr<const HeightSurface> surface, const PlanOutline& plan) {
  MirrorPatch patch;
  patch.closed = plan.round;
  patch.heights = true;
  patch.at = [surface = std::move(surface), plan](double u, double v) {
    double x = plan.x_from + (plan.x_to - plan.x_from) * u, y = plan.y_from + (plan.y_to - plan.y_from) * v;
    double area = (plan.x_to - plan.x_from) * (plan.y_to - plan.y_from);
    if (plan.round) {
      const double rho = plan.inner + (plan.outer - plan.inner) * u;
      x = plan.x_middle + rho * std::cos(turn * v), y = plan.y_middle + rho * std::sin(turn * v);
      area = turn * rho * (plan.outer - plan.inner);
    }
    return point_over(*surface, x, y, area);
  };
  return patch;
}

std::vector<MirrorPatch> shape_patches(const ReflectorShape& shape) {
  return std::visit([](const auto& s) { return patches(s); }, shape);
}

MirrorPatch placed(MirrorPatch own, const Pose& pose, int reflector) {
  MirrorPatch patch = own;
  patch.reflector = reflector;
  patch.at = [at = std::move(own.at), pose](double u, double v) {
    const MirrorPoint p = at(u, v);
    return MirrorPoint{pose.turn * p.place + pose.at, pose.turn * p.normal, p.area};
  };
  return patch;
}

namespace {

/// The mirror's patches, own frame: with flaws heights over its plan.
Patches own_patches(const Reflector& mirror) {
  auto flawed = mirror.flaws.any() ? flawed_surface(mirror) : nullptr;
  if (flawed == nullptr) return shape_patches(mirror.shape);
  if (const auto* petals = std::get_if<Petals>(&mirror.shape)) return flawed_petals(*petals, flawed);
  return {height_patch(std::move(flawed), plan_of(mirror.shape))};
}

}  // namespace

std::vector<MirrorPatch> mirror_patches(const Scene& scene) {
  Patches all;
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    for (MirrorPatch& patch : own_patches(scene.reflectors[k]))
      all.push_back(placed(std::move(patch), scene.reflectors[k].pose, static_cast<int>(k)));
  }
  return all;
}

}  // namespace dishwright
