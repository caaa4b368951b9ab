// SPDX-License-Identifier: MIT
// Surveys of dishes of tiles whose planes are known exactly.
#include <doctest/doctest.h>

#include <random>

#include "approx.h"
#include "effort.h"
#include "scenes.h"
#include "study/tile_light.h"
#include "survey/synthetic_tiles.h"

using namespace dishwright;
using namespace dishwright::test;
using testing::BuiltTiles;

namespace {

constexpr double inch = 0.0254;

Scene tile_scene(const Facets& facets, double disc, std::uint64_t paths = 30'000) {
  return scene(limb_sun(), mirror(facets), target(DiskTarget{disc}, {0, 0, facets.focal_length}), paths, 11);
}

/// A third of the tiles leans by 10 mrad, each its own way.
Eigen::Vector2d third_leaning(std::mt19937_64& random) {
  const double pick = static_cast<double>(random() >> 11U) * 0x1p-53, way = static_cast<double>(random() >> 11U) * 0x1p-53;
  return pick < 1.0 / 3 ? Eigen::Vector2d(0.01 * std::cos(2 * pi * way), 0.01 * std::sin(2 * pi * way)) : Eigen::Vector2d::Zero();
}

struct Covered {
  int one = 0, two = 0;
  double truth = 0, miss = 0, error = 0;
};

Covered covered(const Facets& facets, double disc, int surveys, int kind) {
  Covered out;
  for (int k = 1; k <= surveys; ++k) {
    std::mt19937_64 random(static_cast<unsigned>(977 * k));
    std::normal_distribution<double> normal(0, 1);
    const double bend = 0.05 * normal(random);
    const BuiltTiles dish(facets, [&](std::size_t, const Tile& tile) -> Eigen::Vector2d {
      if (kind == 0) return {0, 0};
      if (kind == 1) return third_leaning(random);
      if (kind == 2) { const double a = normal(random), b = normal(random); return {0.008 * a, 0.008 * b}; }
      return bend * tile.centre.head<2>();
    });
    const double truth = traced(tile_scene(dish.built(), disc)).targets[0].intercept->value;
    const SurveyPoints points = dish.read(tiled_design(facets).to_read, 6 * inch + 0.001 * k, inch / 16, 0, static_cast<unsigned>(k));
    const TileSurvey survey = survey_tiles(points, facets, false);
    const TileLight found = tile_light(tile_scene(facets, disc), survey, 2);
    const double miss = found.light.shares[0].value - truth, error = *found.light.shares[0].std_error;
    out.one += std::abs(miss) <= error, out.two += std::abs(miss) <= 2 * error;
    out.truth += truth / surveys, out.miss += miss / surveys, out.error += error / surveys;
    if (k <= 2) MESSAGE("spread ", survey.leans.spread() * 1e3, " noise ", std::sqrt(survey.leans.noise) * 1e3, " all ", survey.leans.all*1e3, " risk ", found.light.at_risk[0], " share ", found.light.shares[0].value, " truth ", truth, " err ", error, " plain ", found.light.as_read[0]);
  }
  return out;
}

}  // namespace

TEST_CASE("experiment") {
  for (const auto& [tile, disc] : {std::pair{4.0, 5.0}, {2.0, 3.5}}) {
    for (int kind = 0; kind < 4; ++kind) {
      const Covered c = covered(testing::square_tiles(24 * inch, 36 * inch, tile * inch, inch / 8), disc * inch, 16, kind);
      MESSAGE("tile ", tile, " disc ", disc, " kind ", kind, ": one ", c.one, " two ", c.two, " truth ", c.truth, " miss ", c.miss, " error ", c.error);
    }
  }
}
