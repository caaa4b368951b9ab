// SPDX-License-Identifier: MIT
// Quadrature against tracing over shapes of mirrors, flawed ones too.
#include "approx.h"
#include "two_methods.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

const Vector3 focus{0, 0, 0.6};
const DiskTarget disk{0.2};

Facets tiles(TileShape shape, double tile, double gap) {
  Facets made;
  made.focal_length = 0.6, made.width = 0.8, made.tile = tile, made.gap = gap, made.tile_shape = shape;
  return made;
}

Profile parabola_profile(CurveKind kind) {
  std::vector<double> places, heights;
  for (int k = 0; k <= 12; ++k) places.push_back(0.5 * k / 12), heights.push_back(places.back() * places.back() / 2.4);
  return {std::make_shared<ProfileCurve>(places, heights, kind, true), false, 0, 1.0, 0};
}

Scene flawed(const Flaws& flaws, double slope) {
  Scene made = one(Paraboloid{0.6, 1.0, 0.05}, slope, disk, focus, degrees(0.5));
  made.reflectors[0].flaws = flaws;
  return made;
}

}  // namespace

TEST_CASE("two methods: petals" * doctest::test_suite("slow")) {
  check_two_methods("12 petals", one(Petals{0.6, 1.0, 12, false, 0.05}, 5e-3, disk, focus, degrees(0.5)));
  check_two_methods("16 petals on their seams", one(Petals{0.6, 1.0, 16, true, 0.05}, 3e-3, DiskTarget{0.3}, focus));
  check_two_methods("petals and a pot", one(Petals{0.6, 1.0, 12, false, 0.05}, 5e-3, PotTarget{0.15, 0.1}, focus, degrees(2)));
  Scene bent = one(Petals{0.6, 1.0, 12, false, 0.05}, 5e-3, disk, focus, degrees(0.5));
  bent.reflectors[0].flaws.twist = 0.01;
  check_two_methods("twisted petals", bent);
}

TEST_CASE("two methods: tiles" * doctest::test_suite("slow")) {
  check_two_methods("square tiles", one(tiles(TileShape::square, 0.1, 0.005), 4e-3, disk, focus, degrees(0.5)));
  check_two_methods("round tiles", one(tiles(TileShape::round, 0.12, 0.006), 6e-3, disk, focus));
  check_two_methods("hexagons", one(tiles(TileShape::hexagon, 0.15, 0.008), 8e-3, disk, focus));
}

TEST_CASE("two methods: bowls that are no paraboloid" * doctest::test_suite("slow")) {
  check_two_methods("catenary", one(Catenary{1.0, 0.1, 0.05}, 5e-3, disk, {0, 0, 0.62}, degrees(0.5)));
  // Toward its flat rim the light spreads wide: with the sun alone to blur it that takes too many images.
  check_two_methods("pressed sheet", one(Pressed{1.0, 0.05, 0.05}, 20e-3, disk, {0, 0, 0.6}, degrees(0.5)));
  check_two_methods("fair profile", one(parabola_profile(CurveKind::fair), 5e-3, disk, focus, degrees(0.5)));
  check_two_methods("straight profile", one(parabola_profile(CurveKind::straight), 5e-3, disk, focus, degrees(0.5)));
  check_two_methods("cone", one(Cone{0.1, 1.0, 0.05}, 8e-3, RectangleTarget{0.4, 0.4}, {0, 0, 0.7}));
  check_two_methods("ellipsoid", one(Ellipsoid{0.6, 30, 1.0, 0.05}, 5e-3, disk, {0, 0, 0.59}, degrees(0.5)));
  check_two_methods("offset", one(OffsetParaboloid{0.6, 0.1, 0.6, 0}, 5e-3, disk, focus, degrees(0.5)));
}

TEST_CASE("two methods: flaws" * doctest::test_suite("slow")) {
  Flaws sag;
  sag.sag_x = 0.03, sag.sag_y = -0.02, sag.twist = 4e-3;
  check_two_methods("sag and twist", flawed(sag, 4e-3));
  Flaws dent;
  dent.dents.push_back({0.2, 0.1, 0.2, 2e-3});
  check_two_methods("dent", flawed(dent, 4e-3));
}

TEST_CASE("a petal sends its light across as wide as it is: many petals are the paraboloid") {
  // A petal is straight across, so its light is as wide there as the petal, 2 r sin(π/n): many petals make the bowl's spot.
  const TraceFigures bowl = quadrature_figures(one(Paraboloid{0.6, 1.0, 0.05}, 5e-3, disk, focus));
  const TraceFigures petals = quadrature_figures(one(Petals{0.6, 1.0, 400, false, 0.05}, 5e-3, disk, focus));
  CHECK(petals.targets[0].spot_width_50->value == testing::approx(bowl.targets[0].spot_width_50->value).epsilon(0.02));
}

TEST_CASE("one flat tile throws its own size and the sun's image") {
  // One tile and a disk square to the axis: intercept 1, and the mean square across is side²/12 + distance² (2 σ)².
  Facets one_tile = tiles(TileShape::square, 0.1, 0.01);
  one_tile.width = 0.05, one_tile.frame = FacetFrame::flat;
  Scene made = one(one_tile, 5e-3, DiskTarget{0.4}, {0, 0, 2});
  made.sun.half_angle = 0, made.targets[0].shades = false;
  const TraceFigures figures = quadrature_figures(made);
  CHECK(figures.targets[0].power.value == testing::approx(figures.beam * 0.01).epsilon(2e-5));
  CHECK(figures.targets[0].spot_rms_radius->value ==
        testing::approx(std::sqrt(2 * (0.01 / 12 + std::pow(2 * 2 * 5e-3, 2)))).epsilon(2e-3));
}
