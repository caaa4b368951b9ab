// SPDX-License-Identifier: MIT
#include "base/sobol.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <memory>
#include <set>

using namespace dishwright;

TEST_CASE("direction numbers are those of a general library (Boost.Random, Joe & Kuo's table)") {
  // Boost walks the points in Gray-code order: its first 2^12 points after the origin are ours in another order.
  boost::random::sobol_engine<std::uint32_t, 32> engine(draw_count);
  constexpr std::uint32_t count = 4096;
  std::vector<std::array<std::uint32_t, draw_count>> theirs = {{}}, ours;
  for (std::uint32_t i = 1; i < count; ++i) {
    std::array<std::uint32_t, draw_count> point{};
    for (std::uint32_t& number : point) number = engine();
    theirs.push_back(point);
  }
  for (std::uint32_t i = 0; i < count; ++i) {
    std::array<std::uint32_t, draw_count> point{};
    for (int d = 0; d < draw_count; ++d) point[static_cast<std::size_t>(d)] = sobol_bits(i, d);
    ours.push_back(point);
  }
  std::sort(theirs.begin(), theirs.end());
  std::sort(ours.begin(), ours.end());
  CHECK(ours == theirs);
}

TEST_CASE("a scrambled replicate keeps the stratification: one point in each of 512 equal steps, in every dimension") {
  // Definition of a (0, m, 1)-net and of Owen's nested scramble, which keeps it.
  const auto draws = std::make_unique<DrawBlock>();
  for (std::uint32_t replicate = 0; replicate < 20; ++replicate) {
    for (const std::uint32_t first : {0U, 512U, 512U * 77U}) {
      SobolReplicate(9, replicate).fill(first, 0, draw_count, *draws);
      for (const auto& numbers : *draws) {
        std::set<int> steps;
        for (const float u : numbers) {
          REQUIRE(u > 0);
          REQUIRE(u < 1);
          steps.insert(static_cast<int>(u * block_size));
        }
        CHECK(steps.size() == block_size);
      }
    }
  }
}

TEST_CASE("the first two numbers fill every 16 × 32 grid evenly (a (0, m, 2)-net)") {
  const auto draws = std::make_unique<DrawBlock>();
  SobolReplicate(3, 5).fill(1024, 0, 2, *draws);
  std::set<int> cells;
  for (std::size_t i = 0; i < block_size; ++i) {
    cells.insert(static_cast<int>((*draws)[0][i] * 16) * 32 + static_cast<int>((*draws)[1][i] * 32));
  }
  CHECK(cells.size() == block_size);
}

TEST_CASE("replicates and seeds are different scrambles: their means scatter like independent ones") {
  // Mean of u·v over 512 points against the closed form 1/4, within 4 standard errors of 400 replicates.
  const auto draws = std::make_unique<DrawBlock>();
  std::set<float> firsts;
  double sum = 0, squares = 0;
  for (std::uint32_t replicate = 0; replicate < 400; ++replicate) {
    SobolReplicate(11, replicate).fill(0, 0, 2, *draws);
    double mean = 0;
    for (std::size_t i = 0; i < block_size; ++i) mean += (*draws)[0][i] * (*draws)[1][i] / block_size;
    sum += mean;
    squares += mean * mean;
    firsts.insert((*draws)[0][0]);
  }
  const double mean = sum / 400, error = std::sqrt((squares / 400 - mean * mean) / 400);
  CHECK(firsts.size() == 400);
  CHECK(std::abs(mean - 0.25) < 4 * error);
  // Plain random points would scatter by √(7/144/512) = 0.0097; a net does far better.
  CHECK(error * 20 < 0.002);
}

TEST_CASE("hashed numbers depend on path, bounce and purpose only") {
  const HashedDraws draws(1, 2);
  CHECK(draws.at(5, 1, Draw::slope_a) == HashedDraws(1, 2).at(5, 1, Draw::slope_a));
  CHECK(draws.at(5, 1, Draw::slope_a) != draws.at(5, 2, Draw::slope_a));
  CHECK(draws.at(5, 1, Draw::slope_a) != draws.at(5, 1, Draw::slope_b));
  CHECK(draws.at(5, 1, Draw::slope_a) != HashedDraws(1, 3).at(5, 1, Draw::slope_a));
  double sum = 0;
  for (std::uint32_t i = 0; i < 100'000; ++i) sum += draws.at(i, 3, Draw::spread_b);
  CHECK(std::abs(sum / 100'000 - 0.5) < 4 * std::sqrt(1.0 / 12 / 100'000));  // mean of a uniform number, 4 standard errors
}
