// SPDX-License-Identifier: MIT
// The account of a trace: counts, ledger sums, moments and windows of known ray ends, in any order.
#include "tally/counts.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

#include "approx.h"
#include "counting.h"

using namespace dishwright;
using testing::Ends;

namespace {

constexpr std::int64_t path = static_cast<std::int64_t>(full_weight);

std::int64_t total(const std::vector<std::int64_t>& counts) {
  return std::accumulate(counts.begin(), counts.end(), std::int64_t{0});
}

/// A scene with these targets and its account of `replicates`.
struct Account {
  Account(const std::vector<TargetShape>& shapes, std::uint32_t replicates, const std::vector<TargetScale>& scales,
          bool lamp = false)
      : scene(testing::scene_of(shapes, lamp)),
        list(make_surfaces(scene)),
        plan(make_tally_plan(scene, list, replicates, scales)) {}
  Account(const Account&) = delete;
  Account& operator=(const Account&) = delete;
  Scene scene;
  SurfaceList list;
  TallyPlan plan;
};

/// Random ends of a replicate on everything that is counted.
void random_ends(TallyCounts& counts, const Account& account, std::uint32_t replicate, int paths) {
  std::mt19937_64 random(replicate + 1000);
  std::normal_distribution<double> normal(0, 0.1);
  std::uniform_int_distribution<int> weight(1, 1 << 26);
  counts.begin(replicate);
  Ends landed, crossed;
  for (int k = 0; k < paths; ++k) {
    const double x = normal(random), y = normal(random);
    landed.add(std::clamp(x, -0.5, 0.5), std::clamp(y, -0.5, 0.5), 0, weight(random) / full_weight);
    crossed.add(x, y, 0, weight(random) / full_weight);
  }
  counts.started(paths);
  counts.reached_mirrors(weight(random)), counts.left_mirrors(weight(random)), counts.scored(0, weight(random));
  landed.land(counts, testing::surface_of(account.list, 0));
  crossed.cross(counts, 0);
}

bool same(const TallyCounts& a, const TallyCounts& b, const Account& account) {
  for (std::size_t r = 0; r < a.rows().size(); ++r) {
    const TallyCounts::Row &x = a.rows()[r], &y = b.rows()[r];
    for (std::size_t j = 0; j < 3; ++j) {
      if (x.moments[0][j].value() != y.moments[0][j].value()) return false;
    }
    if (x.started != y.started || x.reached != y.reached || x.left != y.left || x.slots != y.slots || x.radial != y.radial ||
        x.even != y.even)
      return false;
  }
  for (std::size_t c = 0; c < account.plan.charts.size(); ++c) {
    if (a.map(c) != b.map(c)) return false;
  }
  return a.window(0) == b.window(0);
}

TargetScale with_window(double half, double disc) {
  TargetScale aim = testing::scale_of(0.1, 0.2);
  aim.window.any = true;
  aim.window.disc = disc;
  aim.window.half_across = aim.window.half_up = half;
  return aim;
}

/// Which cells of target 0's window hold light: weight by cell.
std::vector<std::int64_t> seen(const Account& account, int surface, double x, double y, double z) {
  TallyCounts counts(account.plan);
  counts.begin(0);
  Ends one;
  one.add(x, y, z);
  one.land(counts, surface);
  return counts.window(0);
}

}  // namespace

TEST_CASE("ledger lines and paths are summed by replicate") {
  const Account account({DiskTarget{1}}, 3, {testing::scale_of(0.1, 0.2)});
  TallyCounts counts(account.plan);
  counts.begin(1);
  counts.started(500), counts.started(12);
  counts.left_mirrors(3 * full_weight), counts.left_mirrors(7);
  counts.reached_mirrors(5);
  counts.scored(account.list.missed_slot, 2 * full_weight), counts.scored(account.list.missed_slot, 1), counts.scored(0, 9);
  counts.begin(2);
  counts.scored(account.list.missed_slot, 4);
  const auto missed = static_cast<std::size_t>(account.list.missed_slot);
  CHECK(counts.rows()[0].started == 0);
  CHECK(total(counts.rows()[0].slots) == 0);
  CHECK(counts.rows()[1].started == 512);
  CHECK(counts.rows()[1].left == 3 * path + 7);
  CHECK(counts.rows()[1].reached == 5);
  CHECK(counts.rows()[1].slots[missed] == 2 * path + 1);
  CHECK(counts.rows()[1].slots[0] == 9);
  CHECK(counts.rows()[2].slots[missed] == 4);
  CHECK(total(counts.rows()[2].slots) == 4);
}

TEST_CASE("a million paths of the smallest weight are not lost beside one of the largest sum") {
  const Account account({DiskTarget{1}}, 1, {testing::scale_of(0.1, 0.2)});
  TallyCounts counts(account.plan);
  counts.begin(0);
  counts.scored(0, 0x1p52);
  for (int k = 0; k < 1'000'000; ++k) counts.scored(0, 1);
  CHECK(counts.rows()[0].slots[0] == (std::int64_t{1} << 52) + 1'000'000);
}

TEST_CASE("the account is the same in whatever order threads finish") {
  const Account account({DiskTarget{1}}, 4, {with_window(0.2, 0.03)}, true);
  REQUIRE(account.plan.even[0].any);
  TallyCounts whole(account.plan), forward(account.plan), backward(account.plan);
  std::vector<TallyCounts> parts(4, TallyCounts(account.plan));
  for (std::uint32_t r = 0; r < 4; ++r) random_ends(whole, account, 3 - r, 700), random_ends(parts[r], account, r, 700);
  for (std::size_t k = 0; k < 4; ++k) forward.merge(parts[k]), backward.merge(parts[3 - k]);
  CHECK(same(whole, forward, account));
  CHECK(same(whole, backward, account));
  random_ends(forward, account, 2, 1);
  CHECK(!same(whole, forward, account));  // the comparison sees one path
}

TEST_CASE("merging: an account without light, before or after, changes nothing") {
  const Account account({DiskTarget{1}}, 2, {with_window(0.2, 0.03)});
  TallyCounts lit(account.plan), first(account.plan), second(account.plan);
  const TallyCounts dark(account.plan);
  random_ends(lit, account, 1, 600), random_ends(first, account, 1, 600);
  first.merge(dark), second.merge(lit);
  CHECK(same(lit, first, account));
  CHECK(same(lit, second, account));
}

TEST_CASE("maps hold all of the light that landed, on edges and corners too") {
  const Account account({RectangleTarget{2, 1}}, 1, {testing::scale_of(0.1, 0.2)});
  TallyCounts counts(account.plan);
  counts.begin(0);
  Ends ends;
  for (const double x : {-1.0, 0.0, 1.0, 1 + 1e-15}) {
    for (const double y : {-0.5, 0.0, 0.5}) ends.add(x, y);
  }
  ends.land(counts, testing::surface_of(account.list, 0));
  const MapFace& face = account.plan.charts[0].face;
  const std::vector<std::int64_t>& map = counts.map(0);
  REQUIRE(map.size() == static_cast<std::size_t>(face.columns * face.rows));
  CHECK(total(map) == 12 * path);
  CHECK(map.front() == path);
  CHECK(map.back() == 2 * path);  // the edge, and rounding beyond it
  CHECK(map[static_cast<std::size_t>(face.columns - 1)] == 2 * path);
}

TEST_CASE("a pot's faces have maps of their own") {
  TargetScale aim;
  const Account account({PotTarget{0.2, 0.1}}, 1, {aim});
  REQUIRE(account.plan.charts.size() == 2);
  TallyCounts counts(account.plan);
  counts.begin(0);
  Ends rim;  // where base and side meet
  rim.add(0.1, 0, 0), rim.add(0, 0.1, 0);
  rim.land(counts, testing::surface_of(account.list, 0, 0));
  rim.land(counts, testing::surface_of(account.list, 0, 0));
  rim.land(counts, testing::surface_of(account.list, 0, 1));
  CHECK(total(counts.map(0)) == 4 * path);
  CHECK(total(counts.map(1)) == 2 * path);
}

TEST_CASE("moments about the pilot's centre, of weighted places") {
  TargetScale aim = testing::scale_of(0.1, 0.25);
  aim.centre_x = 0.05, aim.centre_y = -0.02;
  const Account account({DiskTarget{1}}, 1, {aim});
  TallyCounts counts(account.plan);
  counts.begin(0);
  Ends ends;
  ends.add(0.15, -0.02, 0, 1), ends.add(0.05, 0.18, 0, 0.5), ends.add(-0.05, -0.12, 0, 0.25);
  ends.land(counts, testing::surface_of(account.list, 0));
  // Offsets (0.1, 0), (0, 0.2), (−0.1, −0.1) in units of 0.25 m; each block's sum is rounded to 2^-30.
  const auto& sums = counts.rows()[0].moments[0];
  CHECK(std::abs(sums[0].value() - (0.4 - 0.25 * 0.4)) <= 0x1p-31);
  CHECK(std::abs(sums[1].value() - (0.5 * 0.8 - 0.25 * 0.4)) <= 0x1p-31);
  CHECK(std::abs(sums[2].value() - (0.16 + 0.5 * 0.64 + 0.25 * 0.32)) <= 0x1p-31);
}

TEST_CASE("crossings of the plane: a disk counts by distance from the centre, a rectangle by distance across") {
  TargetScale aim = testing::scale_of(0.1, 0.2);
  aim.centre_x = 0.03, aim.centre_y = 0.01;
  const Account account({DiskTarget{1}, RectangleTarget{1, 1}}, 1, {aim, aim});
  TallyCounts counts(account.plan);
  counts.begin(0);
  Ends ends;
  ends.add(0.03 + 0.06, 0.01 + 0.08);
  ends.cross(counts, 0), ends.cross(counts, 1);
  const auto where = [&](std::size_t target) {
    const std::vector<std::int64_t>& bins = counts.rows()[0].radial[target];
    CHECK(total(bins) == path);
    return static_cast<std::uint32_t>(std::max_element(bins.begin(), bins.end()) - bins.begin());
  };
  CHECK(where(0) == account.plan.radial[0].bin(0.01F));
  CHECK(where(1) == account.plan.radial[1].bin(0.0036F));
  CHECK(account.plan.radial[0].bin(0.01F) != account.plan.radial[0].bin(0.0036F));
}

TEST_CASE("bodies without a plane have neither widths nor moments") {
  const Account account({TubeTarget{0.1, 1}, BallTarget{0.1}}, 1, {TargetScale{}, TargetScale{}});
  for (const RadialBins& bins : account.plan.radial) CHECK(bins.count == 0);
  for (const bool plate : account.plan.plate) CHECK_FALSE(plate);
}

TEST_CASE("a pot has widths, on the plane of its base, but no moments") {
  const Account account({PotTarget{0.1, 0.1}, DiskTarget{0.1}}, 1, {TargetScale{}, TargetScale{}});
  CHECK(account.plan.radial[0].count == account.plan.radial[1].count);
  CHECK(account.plan.radial[0].count > 0);
  CHECK_FALSE(account.plan.plate[0]);
  CHECK(account.plan.plate[1]);
}

TEST_CASE("parts of a lamp's half-light circle take the weight that falls there, no more") {
  const Account account({DiskTarget{1}}, 1, {with_window(0.2, 0.03)}, true);
  TallyCounts counts(account.plan);
  counts.begin(0);
  Ends ends;  // the circle has the radius r50 = 0.1
  ends.add(0, 0), ends.add(0.099, 1e-6, 0, 0.5), ends.add(0.101, 0), ends.add(0.099, -1e-6, 0, 0.25);
  ends.land(counts, testing::surface_of(account.list, 0));
  const UniformityParts& parts = counts.rows()[0].even[0];
  CHECK(parts[0] == path);
  CHECK(parts[16] == path / 2);
  CHECK(parts[24] == path / 4);
  CHECK(std::accumulate(parts.begin(), parts.end(), std::int64_t{0}) == path + path / 2 + path / 4);
}

TEST_CASE("the window about the peak: cells by row and column from its low corner, and nothing from outside") {
  const Account account({DiskTarget{1}}, 2, {with_window(0.32, 0.03)});  // cells of 10 mm
  const int surface = testing::surface_of(account.list, 0);
  const auto cell_of = [&](double x, double y) {
    const std::vector<std::int64_t> cells = seen(account, surface, x, y, 0);
    REQUIRE(cells.size() == std::size_t{2} * 64 * 64);
    if (total(cells) == 0) return std::ptrdiff_t{-1};
    CHECK(total(cells) == path);
    return std::max_element(cells.begin(), cells.end()) - cells.begin();
  };
  CHECK(cell_of(-0.3199, -0.3199) == 0);
  CHECK(cell_of(0.3199, -0.3199) == 63);
  CHECK(cell_of(-0.3199, -0.3099) == 64);
  CHECK(cell_of(0.005, 0.005) == 32 * 64 + 32);
  CHECK(cell_of(0.3199, 0.3199) == 64 * 64 - 1);
  CHECK(cell_of(0.3201, 0) == -1);
  CHECK(cell_of(0, -0.3201) == -1);
  // Each replicate has cells of its own.
  TallyCounts counts(account.plan);
  counts.begin(1);
  Ends one;
  one.add(-0.3199, -0.3199);
  one.land(counts, surface);
  CHECK(counts.window(0)[0] == 0);
  CHECK(counts.window(0)[64 * 64] == path);
}

TEST_CASE("the window on a tube does not see its far side, nor a pot's side the base") {
  TargetScale aim = with_window(0.04, 0.01);
  aim.window.radius = 0.05;
  aim.window.middle = Vector3(0.05, 0, 0), aim.window.up = Vector3::UnitY();
  aim.window.across = aim.window.up.cross(Vector3::UnitX());
  const Account tube({TubeTarget{0.1, 1}}, 1, {aim});
  const int surface = testing::surface_of(tube.list, 0);
  CHECK(total(seen(tube, surface, 0.05, 0.01, 0)) == path);
  CHECK(total(seen(tube, surface, 0.03, 0, 0.04 - 1e-6)) == path);  // 53° round
  CHECK(total(seen(tube, surface, -0.05, 0.01, 0)) == 0);           // opposite
  CHECK(total(seen(tube, surface, -0.04, 0, 0.03)) == 0);

  TargetScale side = with_window(0.04, 0.01);
  side.window.radius = 0.1;
  side.window.middle = Vector3(0.1, 0, 0.04), side.window.up = Vector3::UnitZ();
  side.window.across = side.window.up.cross(Vector3::UnitX());
  const Account pot({PotTarget{0.2, 0.1}}, 1, {side});
  CHECK(total(seen(pot, testing::surface_of(pot.list, 0, 0), 0.1, 0, 0.001)) == path);
  CHECK(total(seen(pot, testing::surface_of(pot.list, 0, 1), 0.09, 0, 0)) == 0);

  const Account base({PotTarget{0.2, 0.1}}, 1, {with_window(0.15, 0.01)});
  CHECK(total(seen(base, testing::surface_of(base.list, 0, 1), 0.09, 0, 0)) == path);
  CHECK(total(seen(base, testing::surface_of(base.list, 0, 0), 0.1, 0, 0.001)) == 0);
}
