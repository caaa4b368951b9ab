// SPDX-License-Identifier: MIT
// Random scenes for the property tests: up to three mirrors and two targets, any shape, placed and turned, any sun.
#pragma once

#include <rapidcheck.h>

#include <Eigen/Geometry>
#include <cstdlib>

#include "../trace/sample_shapes.h"
#include "scenes.h"

namespace dishwright::test {

/// Fixes RapidCheck's seed (read once a program); a property that fails prints how to repeat it.
inline void fix_property_seed() { setenv("RC_PARAMS", "seed=20240 max_success=40 noshrink=1", 0); }

/// A number from low to high in a thousand steps.
inline double number(double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000.0; }

inline Facets random_facets(double f, double width) {
  Facets made;
  made.frame = *rc::gen::element(FacetFrame::paraboloid, FacetFrame::sphere, FacetFrame::flat);
  made.focal_length = made.frame == FacetFrame::sphere ? std::max(f, 0.3 * width) : f;
  made.width = width;
  made.hole_width = *rc::gen::element(0.0, 0.3) * width;
  made.tile = width * number(0.08, 0.3);
  made.gap = made.tile * number(0.01, 0.2);
  made.tile_shape = *rc::gen::element(TileShape::square, TileShape::hexagon, TileShape::round);
  made.aim_at_target = *rc::gen::arbitrary<bool>();
  made.aim_point = Vector3(number(-0.1, 0.1), number(-0.1, 0.1), f);
  return made;
}

/// A wavy bowl: heights at even places from `from` to the rim.
inline std::shared_ptr<const ProfileCurve> random_curve(double f, double from, double rim) {
  const CurveKind kind = *rc::gen::element(CurveKind::fair, CurveKind::straight);
  const int n = *rc::gen::inRange(4, 15);
  const double wave = number(0, 0.01) * rim;
  std::vector<double> places, heights;
  for (int i = 0; i <= n; ++i) {
    places.push_back(from + (rim - from) * i / n);
    heights.push_back(places.back() * places.back() / (4 * f) + wave * std::cos(3.0 * i));
  }
  return std::make_shared<const ProfileCurve>(places, heights, kind, from == 0);
}

inline ReflectorShape random_further_shape(double f, double width, double hole) {
  const bool any = *rc::gen::arbitrary<bool>();
  switch (*rc::gen::inRange(0, 9)) {
    case 0: return Cone{width * number(0.05, 0.6), width, hole};
    case 1: return OffsetParaboloid{f, width * number(-0.5, 0.3), width, hole};
    case 2: return random_facets(f, width);
    case 3: return Petals{f, width, *rc::gen::inRange(3, 25), any, hole};
    case 4:
      return any ? Profile{random_curve(f, hole / 2, width / 2), false, 0, width, hole}
                 : Profile{random_curve(f, -width / 2, width / 2), true, number(0.3, 1.5), width, 0};
    case 5: return Catenary{width, width * number(0.05, 0.5), hole};
    case 6: return Hyperboloid{f, f * number(1.2, 5), width, hole};
    case 7: return Ellipsoid{f, std::max(f * 1.1, width * width / (4 * f)) * number(1.05, 4), width, hole};
    default: return Mesh{sampled_mesh(f, width, *rc::gen::inRange(1, 12)), any};
  }
}

inline ReflectorShape random_reflector_shape() {
  const double width = number(0.3, 1.5), f = number(0.3, 1.2);
  const double hole = *rc::gen::element(0.0, 0.2) * width;
  switch (*rc::gen::inRange(0, 12)) {
    case 0: return Paraboloid{f, width, hole};
    case 1: return SphereBowl{width / 2 + number(0, 1), width, hole};
    case 2: return Trough{f, width, number(0.3, 1.5)};
    case 3: return ArcTrough{width / 2 + number(0, 1), width, number(0.3, 1.5)};
    case 4: return Flat{width, number(0.3, 1.5)};
    default: return random_further_shape(f, width, hole);
  }
}

inline TargetShape random_target_shape() {
  const double width = number(0.02, 0.3);
  switch (*rc::gen::inRange(0, 5)) {
    case 0: return DiskTarget{width};
    case 1: return RectangleTarget{width, number(0.02, 0.5)};
    case 2: return TubeTarget{width, number(0.02, 0.5)};
    case 3: return BallTarget{width};
    default: return PotTarget{width, number(0.02, 0.3)};
  }
}

inline Matrix3 random_turn(double most) {
  return (Eigen::AngleAxisd(number(-most, most), Vector3::UnitZ()) * Eigen::AngleAxisd(number(-most, most), Vector3::UnitY()) *
          Eigen::AngleAxisd(number(-most, most), Vector3::UnitX()))
      .toRotationMatrix();
}

inline Sun random_sun() {
  Sun made = sun(*rc::gen::element(DiscProfile::uniform, DiscProfile::limb_darkened, DiscProfile::aureole),
                 *rc::gen::element(0.0, sun_angle));
  made.beam = number(200, 1200);
  made.aureole_share = number(0, 0.3);
  made.aim_error = *rc::gen::element(0.0, 1.0) * number(0, degrees(60));
  made.aim_direction = number(-pi, pi);
  return made;
}

inline Lamp random_lamp() {
  Lamp made;
  const double size = number(0.005, 0.3);
  const int kind = *rc::gen::inRange(0, 3);
  made.shape = kind == 0 ? LampShape(BallLamp{size}) : kind == 1 ? LampShape(DiskLamp{size}) : LampShape(LineLamp{size});
  made.pose.at = Vector3(number(-0.4, 0.4), number(-0.4, 0.4), number(-0.2, 1.2));
  made.pose.turn = random_turn(pi);
  made.in_lumens = *rc::gen::arbitrary<bool>();
  made.power = number(1, 3000);
  return made;
}

inline Scene random_scene(std::uint64_t paths) {
  Scene made;
  made.sun = random_sun();
  made.trace.paths = paths;
  made.trace.seed = static_cast<std::uint64_t>(*rc::gen::inRange(1, 1'000'000));
  const int mirrors = *rc::gen::inRange(1, 4), targets = *rc::gen::inRange(1, 3);
  for (int i = 0; i < mirrors; ++i) {
    Reflector one = mirror(random_reflector_shape(), *rc::gen::element(0.0, 1.0) * number(0, 0.03));
    one.name = "mirror" + std::to_string(i);
    one.reflectance = number(0.3, 1);
    one.specular_spread = *rc::gen::element(0.0, 5e-3);
    if (i > 0) one.pose.at = Vector3(number(-1, 1), number(-1, 1), number(-0.5, 1));
    one.pose.turn = random_turn(i > 0 ? 1.2 : 0.2);
    made.reflectors.push_back(one);
  }
  for (int i = 0; i < targets; ++i) {
    Target one = target(random_target_shape(), Vector3(number(-0.3, 0.3), number(-0.3, 0.3), number(0.2, 1.4)));
    one.name = "target" + std::to_string(i);
    one.pose.turn = random_turn(1);
    one.shades = *rc::gen::arbitrary<bool>();
    made.targets.push_back(one);
  }
  return made;
}

}  // namespace dishwright::test
