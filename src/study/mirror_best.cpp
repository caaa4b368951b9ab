// SPDX-License-Identifier: MIT
#include "study/mirror_best.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <vector>

#include "scene/mirror_surface.h"
#include "study/light_figures.h"
#include "trace/sight_rays.h"

namespace dishwright {

namespace {

constexpr std::uint64_t plate_paths = 1U << 17U;
constexpr int most_rays = 1000, least_side = 9, most_side = 31;
constexpr std::size_t close_by = 8, looked_at = 40;  // rays that make up a brightest place; places on a plane
constexpr int first_planes = 41, next_planes = 7, refinements = 3;
constexpr double pi = std::numbers::pi;
constexpr double least_spread = 1e-6;  // of a ray [m]
constexpr int climbs = 20;
constexpr double nearest_plane = 0.01, farthest_plane = 100;  // of the mirror's size

/// A ray's last flight, and the power that it stands for.
struct MirrorBeam {
  Vector3 from, along;
  double power = 0;  // [W]
  double blur = 0;   // rms about each axis [rad]
};

/// Light of one mirror.
struct MirrorLight {
  std::vector<MirrorBeam> beams;
  Vector3 middle = Vector3::Zero(), along = Vector3::Zero();  // mean place, mean way
  double size = 0, length = 0;                                // of its plan: the larger side, along own y [m]
  bool straight = true;                                       // no light is bent along the mirror's own y
  Matrix3 turn = Matrix3::Identity();
};

double blur_of(const Sun& sun, const Reflector& mirror) {
  return std::sqrt(std::pow(sun.half_angle / 2, 2) + std::pow(2 * mirror.slope_error, 2) + std::pow(mirror.specular_spread, 2));
}

/// Rays through an even grid over a mirror's plan.
MirrorLight light_of(const Scene& scene, const SceneGeometry& geometry, std::size_t index, int side) {
  const Reflector& mirror = scene.reflectors[index];
  const PlanOutline plan = plan_of(mirror.shape);
  const double width = plan.high_x() - plan.low_x(), height = plan.high_y() - plan.low_y();
  std::vector<Vector3> through;
  for (int row = 0; row < side; ++row) {
    for (int column = 0; column < side; ++column) {
      const double x = plan.low_x() + width * (column + 0.5) / side, y = plan.low_y() + height * (row + 0.5) / side;
      through.push_back(mirror.pose.turn * Vector3(x, y, 0) + mirror.pose.at);
    }
  }
  MirrorLight out;
  out.turn = mirror.pose.turn, out.size = std::max(width, height), out.length = height;
  const double facing = std::abs(scene.sun.direction().dot(mirror.pose.turn.col(2)));
  const double power = scene.sun.beam * facing * width * height / (side * side);
  for (const SightRay& ray : sight_rays(scene, geometry, through)) {
    if (!ray.reflected() || ray.mirrors.front() != static_cast<int>(index) || ray.end != SightEnd::missed) continue;
    double kept = power;
    for (const int one : ray.mirrors) kept *= scene.reflectors[static_cast<std::size_t>(one)].reflectance;
    out.beams.push_back({ray.way.back(), ray.direction, kept, blur_of(scene.sun, mirror)});
    out.middle += ray.way.back(), out.along += ray.direction;
    const Vector3 turned = ray.direction + scene.sun.direction();
    out.straight = out.straight && std::abs(turned.dot(mirror.pose.turn.col(1))) < 1e-9;
  }
  if (!out.beams.empty()) out.middle /= static_cast<double>(out.beams.size());
  return out;
}

/// Where the light of all mirrors is closest together on one plane.
struct Place {
  double irradiance = 0;  // rough [W/m²]
  double away = 0;        // from the mirror's middle [m]
  double radius = 0;      // twice the spread of single rays there [m]
  Vector3 at = Vector3::Zero();
};

/// A ray's place on a plane, and how far its light is spread there.
struct LitSpot {
  double x, y, power, spread2;  // [m, m, W, m²]
};

/// Light at a place [W/m²], each ray spread as a Gaussian that is no narrower than the way to its neighbours; and the middle of
/// that light [m].
struct Glow {
  double irradiance = 0, x = 0, y = 0;
};
Glow glow_at(const std::vector<LitSpot>& spots, double x, double y, double gap2) {
  Glow out;
  for (const LitSpot& one : spots) {
    const double spread2 = one.spread2 + gap2, away2 = (one.x - x) * (one.x - x) + (one.y - y) * (one.y - y);
    if (away2 > 16 * spread2) continue;
    const double light = one.power / (2 * pi * spread2) * std::exp(-away2 / (2 * spread2));
    out.irradiance += light, out.x += light * one.x, out.y += light * one.y;
  }
  if (out.irradiance > 0) out.x /= out.irradiance, out.y /= out.irradiance;
  return out;
}

/// No less than what glow_at() finds, but for rounding. In single precision, which runs on the vector lanes.
class GlowBound {
 public:
  explicit GlowBound(const std::vector<LitSpot>& spots) {
    for (const LitSpot& one : spots) {
      x_.push_back(static_cast<float>(one.x)), y_.push_back(static_cast<float>(one.y));
      power_.push_back(static_cast<float>(one.power / (2 * pi))), spread2_.push_back(static_cast<float>(one.spread2));
    }
  }
  double at(double place_x, double place_y, double gap) const {
    const float x = static_cast<float>(place_x), y = static_cast<float>(place_y), gap2 = static_cast<float>(gap);
    float sum = 0;
#pragma omp simd reduction(+ : sum)
    for (std::size_t k = 0; k < x_.size(); ++k) {
      const float dx = x_[k] - x, dy = y_[k] - y, per = 1 / (spread2_[k] + gap2), half = (dx * dx + dy * dy) * per * 0.0625F;
      // exp(−8 t) from above: 1/(1 + t + t²/2 + t³/6)⁸.
      const float rise = 1 + half * (1 + half * (0.5F + half * (1.0F / 6))), twice = rise * rise, four = twice * twice;
      sum += power_[k] * per / (four * four);
    }
    return static_cast<double>(sum);
  }

 private:
  std::vector<float> x_, y_, power_, spread2_;
};

/// Distance² to the nearest neighbours, a quarter of it: half the width of the gap between rays.
double gap_about(const std::vector<LitSpot>& spots, double x, double y) {
  std::array<double, close_by + 1> nearest;  // of those looked at, from the nearest on
  nearest.fill(std::numeric_limits<double>::infinity());
  for (const LitSpot& one : spots) {
    const double away2 = (one.x - x) * (one.x - x) + (one.y - y) * (one.y - y);
    if (away2 >= nearest.back()) continue;
    std::size_t k = close_by;
    for (; k > 0 && nearest[k - 1] > away2; --k) nearest[k] = nearest[k - 1];
    nearest[k] = away2;
  }
  return nearest.back() / 4 + least_spread * least_spread;
}

std::vector<LitSpot> spots_on_plane(const std::vector<MirrorLight>& all, const Vector3& origin, const Vector3& normal,
                                    const Vector3& east, const Vector3& north) {
  std::vector<LitSpot> spots;
  for (const MirrorLight& light : all) {
    for (const MirrorBeam& beam : light.beams) {
      const double rate = beam.along.dot(normal), way = (origin - beam.from).dot(normal) / rate;
      if (!(rate > 0.05) || way <= 0) continue;
      const Vector3 met = beam.from + way * beam.along - origin;
      spots.push_back({met.dot(east), met.dot(north), beam.power * rate, std::pow(way * beam.blur, 2)});
    }
  }
  return spots;
}

/// Variance about each axis of the disc that a peak is a mean over, a tenth of the width that holds half of the light of the plane
/// [m²]. Of a straight mirror that width lies across: `across` then is a unit direction in the plane, else empty.
double disc_variance(const std::vector<LitSpot>& spots, const std::optional<std::array<double, 2>>& across,
                     std::vector<double>& scratch) {
  double x = 0, y = 0, power = 0;
  for (const LitSpot& one : spots) x += one.power * one.x, y += one.power * one.y, power += one.power;
  x /= power, y /= power;
  scratch.clear();
  for (const LitSpot& one : spots) {
    const double dx = one.x - x, dy = one.y - y;
    scratch.push_back(across ? std::abs(dx * (*across)[0] + dy * (*across)[1]) : std::hypot(dx, dy));
  }
  const auto middle = scratch.begin() + static_cast<std::ptrdiff_t>(scratch.size() / 2);
  std::nth_element(scratch.begin(), middle, scratch.end());
  return std::pow(*middle / 10, 2) / 4;
}

/// The brightest place of the plane `away` from the mirror's middle, square to the light: from places of rays, uphill.
Place look_at_plane(const std::vector<MirrorLight>& all, const MirrorLight& mirror, double away) {
  const Vector3 normal = mirror.along.normalized(), origin = mirror.middle + away * normal;
  const Vector3 east = normal.unitOrthogonal(), north = normal.cross(east);
  const std::vector<LitSpot> spots = spots_on_plane(all, origin, normal, east, north);
  Place best;
  if (spots.size() < 2 * close_by) return best;
  std::vector<double> scratch;
  std::optional<std::array<double, 2>> across;
  if (mirror.straight) {
    const Vector3 along = mirror.turn.col(1);
    const double size = std::hypot(along.dot(east), along.dot(north));
    if (size > 0) across = {along.dot(north) / size, -along.dot(east) / size};
  }
  const double disc2 = disc_variance(spots, across, scratch);
  const GlowBound bound(spots);
  const std::size_t step = std::max<std::size_t>(1, spots.size() / looked_at);
  double x = 0, y = 0, gap2 = 0;
  for (std::size_t k = 0; k < spots.size(); k += step) {
    const double gap = gap_about(spots, spots[k].x, spots[k].y) + disc2;
    if (bound.at(spots[k].x, spots[k].y, gap) * (1 + 1e-3) < best.irradiance) continue;
    const Glow glow = glow_at(spots, spots[k].x, spots[k].y, gap);
    if (glow.irradiance > best.irradiance) best.irradiance = glow.irradiance, x = spots[k].x, y = spots[k].y, gap2 = gap;
  }
  for (int climb = 0; climb < climbs; ++climb) {  // to the middle of the light that counts here, again and again
    const Glow here = glow_at(spots, x, y, gap2), there = glow_at(spots, here.x, here.y, gap2);
    if (there.irradiance <= best.irradiance) break;
    best.irradiance = there.irradiance, x = here.x, y = here.y;
  }
  double spread2 = gap2, power = 0;
  for (const LitSpot& one : spots) spread2 += one.power * one.spread2, power += one.power;
  best.away = away, best.radius = 2 * std::sqrt(gap2 + (spread2 - gap2) / power);
  best.at = origin + x * east + y * north;
  return best;
}

/// The brightest of planes at even ratios of distance, then closer about the best.
Place brightest_place(const std::vector<MirrorLight>& all, const MirrorLight& mirror, const Watch& watch) {
  double low = nearest_plane * mirror.size, high = farthest_plane * mirror.size;
  Place best;
  for (int pass = 0; pass <= refinements; ++pass) {
    const int count = pass == 0 ? first_planes : next_planes;
    const double ratio = std::pow(high / low, 1.0 / (count - 1));
    for (int k = 0; k < count; ++k) {
      end_if_stopped(watch);
      const Place here = look_at_plane(all, mirror, low * std::pow(ratio, k));
      if (here.irradiance > best.irradiance) best = here;
    }
    if (best.irradiance <= 0) break;
    low = best.away / ratio, high = best.away * ratio;
  }
  return best;
}

/// The scene with a plate alone at that place, square to the light of the mirror.
Scene with_plate(const Scene& scene, const MirrorLight& mirror, const Place& place) {
  Scene plate = scene;
  const Vector3 normal = mirror.along.normalized();
  Target target;
  target.name = "plate";
  Vector3 place_at = place.at;
  const double width = std::clamp(8 * place.radius, 1e-3, std::max(1e-3, 4 * mirror.size));
  if (mirror.straight) {
    // As long as the mirror, so that all of its light tells how bright the line is.
    target.shape = RectangleTarget{width, mirror.length};
    const Vector3 along = mirror.turn.col(1);
    place_at += (mirror.middle - place_at).dot(along) * along;
    target.pose.turn.col(2) = normal;
    target.pose.turn.col(0) = along.cross(normal).normalized();
    target.pose.turn.col(1) = normal.cross(target.pose.turn.col(0));
  } else {
    target.shape = DiskTarget{width};
    const Vector3 east = normal.unitOrthogonal();
    target.pose.turn.col(0) = east, target.pose.turn.col(1) = normal.cross(east), target.pose.turn.col(2) = normal;
  }
  target.pose.at = place_at;
  target.shades = false;
  plate.targets = {std::move(target)};
  plate.trace.method = Method::automatic;
  plate.trace.accuracy.reset();
  plate.trace.paths = std::min(plate_paths, std::max<std::uint64_t>(scene.trace.paths, 32'768));
  return plate;
}

/// What the search finds for one aim.
struct Found {
  Scene scene;  // without targets
  MirrorLight light;
  Place place;
};

Found search(Scene scene, const SceneGeometry& geometry, const Watch& watch) {
  Found best{std::move(scene), {}, {}};
  const double each = static_cast<double>(most_rays) / static_cast<double>(best.scene.reflectors.size());
  const int side = std::clamp(static_cast<int>(std::sqrt(each)), least_side, most_side);
  std::vector<MirrorLight> all;
  for (std::size_t k = 0; k < best.scene.reflectors.size(); ++k) all.push_back(light_of(best.scene, geometry, k, side));
  for (const MirrorLight& one : all) {
    if (one.beams.size() < 2 * close_by) continue;
    const Place place = brightest_place(all, one, watch);
    if (place.irradiance > best.place.irradiance) best.place = place, best.light = one;
  }
  return best;
}

}  // namespace

std::optional<MirrorBest> mirror_best(const Scene& scene, int threads, const Watch& watch) {
  if (scene.is_wave() || scene.lamp) return std::nullopt;
  Scene bare = scene;
  bare.targets.clear();
  const SceneGeometry geometry(bare);
  Found found = search(bare, geometry, watch);
  bool aimed_true = false;
  if (scene.sun.aim_error > 0) {
    bare.sun.aim_error = 0;
    Found other = search(std::move(bare), geometry, watch);
    aimed_true = other.place.irradiance > found.place.irradiance;
    if (aimed_true) found = std::move(other);
  }
  if (found.place.irradiance <= 0) return std::nullopt;
  end_if_stopped(watch);
  Watch own;
  const TraceFigures figures = light_figures(with_plate(found.scene, found.light, found.place), LightMap::none, threads, own);
  const TargetFigures& plate = figures.targets.front();
  MirrorBest best;
  best.irradiance = plate.peak_irradiance ? *plate.peak_irradiance : plate.mean_irradiance.value_or(Estimate{});
  best.irradiance.without_one.clear();
  const Vector3& at = found.place.at;
  best.at = {at.x(), at.y(), at.z()}, best.from_mirror = found.place.away, best.aimed_true = aimed_true;
  return best;
}

}  // namespace dishwright
