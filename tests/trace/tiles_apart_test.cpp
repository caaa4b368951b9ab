// SPDX-License-Identifier: MIT
// Tiles that are proved to keep out of each other's light: two tiles by hand, whole dishes by rays.
#include "trace/tiles_apart.h"

#include <algorithm>
#include <limits>
#include <memory>
#include <vector>

#include "base/sobol.h"
#include "compare_paths.h"
#include "sample_shapes.h"
#include "trace/share_guide.h"
#include "trace/world.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

double number(std::uint64_t k) { return (static_cast<double>(mix_bits(k) >> 11U) + 0.5) * 0x1p-53; }

Surface tiles_of(const Facets& facets) { return make_surfaces(scene({mirror("dish", facets)}, {})).surfaces[0]; }

/// Two level tiles, the second beside the first by `gap` and higher by `rise`.
Surface two_tiles(TileShape shape, double width, double gap, double rise) {
  Surface surface;
  surface.kind = SurfaceKind::tiles;
  surface.tiles.shape = shape, surface.tiles.width = width;
  surface.elements = std::make_shared<std::vector<Element>>(
      std::vector<Element>{{Matrix3::Identity(), Vector3::Zero()}, {Matrix3::Identity(), Vector3(width + gap, 0, rise)}});
  surface.box_low = Vector3(-width, -width, 0), surface.box_high = Vector3(2 * width + gap, width, rise);
  return surface;
}

/// Of rays from places of tiles toward the disc about `sun`: how many meet a tile.
int hidden(const Scene& made, const Vector3& sun, double spread) {
  const SurfaceList list = make_surfaces(made);
  const World world(list, SearchBy::tree);
  const Surface& surface = list.surfaces[0];
  const Vector3 east = sun.unitOrthogonal(), north = sun.cross(east);
  const std::vector<Element>& tiles = *surface.elements;
  const auto rays = std::make_unique<RayBlock>();
  int met = 0;
  std::uint64_t next = 0;
  for (int block = 0; block < 100; ++block) {
    rays->n = block_size;
    for (std::size_t i = 0; i < block_size; ++i) {
      const Element& tile = tiles[static_cast<std::size_t>(number(++next) * static_cast<double>(tiles.size()))];
      // On the circle within the outline: where that nears the edge a neighbour may stand before it.
      const double half = 0.9999 * surface.tiles.width / 2, place = 2 * std::acos(-1.0) * number(++next);
      const Vector3 start = tile.turn * Vector3(half * std::cos(place), half * std::sin(place), 0) + tile.at;
      const double turn = 2 * std::acos(-1.0) * number(++next);
      const Vector3 way = (sun + spread * (std::cos(turn) * east + std::sin(turn) * north)).normalized();
      rays->ox[i] = start.x(), rays->oy[i] = start.y(), rays->oz[i] = start.z();
      rays->dx[i] = way.x(), rays->dy[i] = way.y(), rays->dz[i] = way.z();
      rays->start_gap[i] = world.start_gap(0), rays->own_surface[i] = -1, rays->own_again[i] = 0;
    }
    world.nearest(RayMask::mirrors, *rays, std::numeric_limits<float>::infinity());
    met += static_cast<int>(
        std::count_if(rays->surface.begin(), rays->surface.end(), [](int surface_met) { return surface_met >= 0; }));
  }
  return met;
}

}  // namespace

TEST_CASE("tiles apart: two level tiles are so where their gap is wider than the rise between them times the spread") {
  // A ray past the edge of the higher tile comes down beside it by rise · spread: closed form.
  const Vector3 up = Vector3::UnitZ();
  CHECK(tiles_apart(two_tiles(TileShape::square, 0.1, 0.0021, 0.4), up, 0.005));
  CHECK(!tiles_apart(two_tiles(TileShape::square, 0.1, 0.0019, 0.4), up, 0.005));
  CHECK(tiles_apart(two_tiles(TileShape::hexagon, 0.1, 0.0021, 0.4), up, 0.005));
  CHECK(!tiles_apart(two_tiles(TileShape::hexagon, 0.1, 0.0019, 0.4), up, 0.005));
  CHECK(tiles_apart(two_tiles(TileShape::round, 0.1, 0.0021, 0.4), up, 0.005));
  CHECK(!tiles_apart(two_tiles(TileShape::round, 0.1, 0.0019, 0.4), up, 0.005));
  CHECK(!tiles_apart(two_tiles(TileShape::square, 0.1, 0, 0), up, 0));  // they touch
  // A sun that leans over the gap by 1/40 shifts the higher one by 0.4/40 = 0.01.
  const Vector3 to_higher = Vector3(1, 0, 40).normalized(), from_higher = Vector3(-1, 0, 40).normalized();
  CHECK(!tiles_apart(two_tiles(TileShape::square, 0.1, 0.0095, 0.4), to_higher, 0));
  CHECK(tiles_apart(two_tiles(TileShape::square, 0.1, 0.0105, 0.4), to_higher, 0));
  CHECK(tiles_apart(two_tiles(TileShape::square, 0.1, 0.001, 0.4), from_higher, 0));
}

TEST_CASE("tiles apart: where it is said of a dish, no ray from a tile to the sun's disc meets another") {
  int said = 0, denied = 0, found = 0;
  for (const TileShape shape : {TileShape::square, TileShape::hexagon, TileShape::round}) {
    for (const double gap : {0.0, 0.002, 0.01}) {
      for (const double lean : {0.0, 0.01, 1.2}) {
        Facets facets = sample_facets(FacetFrame::paraboloid, shape, false);
        facets.gap = gap;
        const double spread = 0.0047;
        const Vector3 sun = Vector3(std::sin(lean), 0, std::cos(lean));
        const bool apart = tiles_apart(tiles_of(facets), sun, spread);
        const int met = hidden(scene({mirror("dish", facets)}, {}), sun, spread);
        if (apart) CHECK(met == 0);
        (apart ? said : denied) += 1;
        found += met > 0;
      }
    }
  }
  CHECK(said >= 6);
  CHECK(denied >= 3);
  CHECK(found >= 2);  // the rays do find tiles that hide others
}

TEST_CASE("a guide to shares finds what a search among all of them finds") {
  for (const std::size_t count : {1U, 2U, 7U, 500U}) {
    std::vector<double> shares;
    double sum = 0;
    for (std::size_t k = 0; k < count; ++k) shares.push_back(sum += std::pow(number(k + 1), 6) + 1e-9);
    for (double& share : shares) share /= sum;
    const ShareGuide guide(shares);
    for (std::uint64_t k = 0; k < 20000; ++k) {
      const double u = static_cast<double>(static_cast<float>(number(k + 1000)) * (1 - 0x1p-24F));
      const auto after = std::upper_bound(shares.begin(), shares.end() - 1, u);
      REQUIRE(guide.find(u) == after - shares.begin());
    }
    CHECK(guide.from(0) == 0);
    CHECK(guide.to(static_cast<int>(count) - 1) == 1);
  }
}
