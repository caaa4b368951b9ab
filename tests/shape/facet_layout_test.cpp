// SPDX-License-Identifier: MIT
// Tiles against counts and places that can be worked out by hand.
#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <numbers>
#include <random>

#include "approx.h"
#include "shape/facets.h"

using namespace dishwright;

namespace {

Facets pattern(TileShape shape, double width, double gap = 0) {
  Facets p;
  p.focal_length = 5;
  p.width = width;
  p.tile = 2 - gap;
  p.gap = gap;
  p.tile_shape = shape;
  return p;
}

std::size_t count(const Facets& p) { return facet_layout(p).size(); }

Vector3 reflected(const Vector3& along, const Vector3& normal) { return along - 2 * along.dot(normal) * normal; }

}  // namespace

TEST_CASE("tiles of a square grid: points of the square lattice in a circle") {
  // i² + j² <= 6.25 takes 0, 1, 2, 4, 5: 1 + 4 + 4 + 4 + 8 (Gauss's circle problem, counted by hand).
  CHECK(count(pattern(TileShape::square, 10)) == 21);
  CHECK(count(pattern(TileShape::square, 10, 0.25)) == 21);  // the step is tile + gap
  CHECK(count(pattern(TileShape::square, 3.99)) == 1);       // only the one on the axis
  CHECK(count(pattern(TileShape::square, 4)) == 5);          // middles on the rim count
  Facets holed = pattern(TileShape::square, 10);
  holed.hole_width = 4;  // middles on the edge of the hole stay; the one on the axis goes
  CHECK(count(holed) == 20);
  holed.hole_width = 4.01;
  CHECK(count(holed) == 16);
}

TEST_CASE("tiles of a hexagon grid: points of the triangular lattice in a circle") {
  // a² + a b + b² <= 6.25 takes 0, 1, 3, 4: 1 + 6 + 6 + 6; up to 7.02 also 7, with 12.
  for (const TileShape shape : {TileShape::hexagon, TileShape::round}) {
    CHECK(count(pattern(shape, 10)) == 19);
    CHECK(count(pattern(shape, 10.6)) == 31);
    for (const Tile& tile : facet_layout(pattern(shape, 4))) {
      const double r = tile.centre.head<2>().norm();
      CHECK((r == 0 || r == testing::approx(2).epsilon(1e-14)));
      if (r > 0)
        CHECK(std::abs(std::remainder(std::atan2(tile.centre.y(), tile.centre.x()), std::numbers::pi / 3)) <
              1e-14);  // rows along x
    }
  }
}

TEST_CASE("tiles come row by row, bright side up, and their turn is a turn") {
  const auto tiles = facet_layout(pattern(TileShape::square, 14));
  for (std::size_t k = 0; k < tiles.size(); ++k) {
    CHECK((tiles[k].turn * tiles[k].turn.transpose() - Matrix3::Identity()).norm() < 1e-14);
    CHECK(tiles[k].turn.determinant() == testing::approx(1).epsilon(1e-14));
    CHECK(tiles[k].turn(2, 2) > 0);
    if (k == 0) continue;
    const Vector3 step = tiles[k].centre - tiles[k - 1].centre;
    CHECK((step.y() > 1e-9 || (std::abs(step.y()) < 1e-9 && step.x() > 0)));
  }
}

TEST_CASE("a tile on the paraboloid sends the axial ray at its middle through the focus") {
  for (const TileShape shape : {TileShape::square, TileShape::hexagon, TileShape::round}) {
    const Facets p = pattern(shape, 24, 0.125);
    for (const Tile& tile : facet_layout(p)) {
      CHECK(tile.centre.z() == testing::approx(tile.centre.head<2>().squaredNorm() / 20).epsilon(1e-14));
      const Vector3 away = reflected({0, 0, -1}, tile.turn.col(2));
      CHECK((Vector3(0, 0, 5) - tile.centre).normalized().cross(away).norm() < 1e-14);
    }
  }
}

TEST_CASE("a tile on the sphere faces its centre") {
  Facets p = pattern(TileShape::square, 16);
  p.frame = FacetFrame::sphere;
  for (const Tile& tile : facet_layout(p)) {
    const Vector3 to_centre = Vector3(0, 0, 10) - tile.centre;
    CHECK(to_centre.norm() == testing::approx(10).epsilon(1e-14));
    CHECK(to_centre.normalized().cross(Vector3(tile.turn.col(2))).norm() < 1e-14);
  }
}

TEST_CASE("aimed tiles send the axial ray at their middle to the aim point, on any frame") {
  for (const FacetFrame frame : {FacetFrame::flat, FacetFrame::sphere, FacetFrame::paraboloid}) {
    Facets p = pattern(TileShape::hexagon, 16);
    p.frame = frame;
    p.aim_at_target = true;
    p.aim_point = {1, -2, 9};
    for (const Tile& tile : facet_layout(p)) {
      if (frame == FacetFrame::flat) CHECK(tile.centre.z() == 0);
      CHECK(reflected({0, 0, -1}, tile.turn.col(2)).cross((p.aim_point - tile.centre).normalized()).norm() < 1e-14);
    }
  }
}

TEST_CASE("outlines: corners, areas and the flats of a hexagon") {
  const auto hexagon = tile_outline(TileShape::hexagon, 2);
  REQUIRE(hexagon.size() == 6);
  double area = 0, right = 0;
  for (std::size_t k = 0; k < 6; ++k) {
    const auto &a = hexagon[k], &b = hexagon[(k + 1) % 6];
    area += (a.x() * b.y() - b.x() * a.y()) / 2;  // counter-clockwise: positive
    CHECK(a.norm() == testing::approx(2 / std::numbers::sqrt3).epsilon(1e-14));
    right = std::max(right, a.x());
  }
  CHECK(right == 1);                                                 // across flats, along x
  CHECK(area == testing::approx(3.464101615137754).epsilon(1e-14));  // 2 √3 for an inner radius of 1
  CHECK(tile_area(TileShape::hexagon, 2) == testing::approx(area).epsilon(1e-14));
  CHECK(tile_area(TileShape::square, 2) == 4);
  CHECK(tile_area(TileShape::round, 2) == testing::approx(std::numbers::pi).epsilon(1e-15));
  CHECK(tile_outline(TileShape::round, 2).empty());
}

TEST_CASE("overlap: none with a gap, all of it where tiles are wider than their step") {
  for (const TileShape shape : {TileShape::square, TileShape::hexagon, TileShape::round}) {
    Facets p = pattern(shape, 20, 0.2);
    CHECK(tile_overlap(p, facet_layout(p)) == 0);
    p.frame = FacetFrame::flat;
    p.gap = -0.25;
    CHECK(tile_overlap(p, facet_layout(p)) == testing::approx(0.25).epsilon(shape == TileShape::round ? 0.03 : 1e-12));
  }
}

TEST_CASE("the count by areas is near the true count") {
  for (const TileShape shape : {TileShape::square, TileShape::round}) {
    Facets p = pattern(shape, 100);
    p.hole_width = 30;
    CHECK(about_tile_count(p) == testing::approx(static_cast<double>(count(p))).epsilon(0.02));
  }
}
