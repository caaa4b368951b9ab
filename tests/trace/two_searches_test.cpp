// SPDX-License-Identifier: MIT
// The direct search and the tree, asked the same: same surface, same petal, same distance to the last digit.
#include <bit>
#include <cstdint>
#include <limits>
#include <memory>

#include "base/sobol.h"
#include "compare_paths.h"
#include "sample_shapes.h"
#include "trace/world.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr float endless = std::numeric_limits<float>::infinity();

/// Even numbers of (0, 1), one after another.
class Numbers {
 public:
  double operator()() { return (static_cast<double>(mix_bits(++count_) >> 11U) + 0.5) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * (*this)(); }

 private:
  std::uint64_t count_ = 0;
};

Vector3 any_direction(Numbers& next) {
  const double z = next.between(-1, 1), r = std::sqrt(1 - z * z), turn = 2 * std::acos(-1.0) * next();
  return {r * std::cos(turn), r * std::sin(turn), z};
}

/// Moves the start of a ray onto a mirror, or onto whatever of a target lies in the middle of its box.
void start_on(Numbers& next, const Surface& surface, int index, RayBlock& rays, std::size_t i) {
  const Vector3 size = surface.box_high - surface.box_low, way(rays.dx[i], rays.dy[i], rays.dz[i]);
  Vector3 own = surface.box_low + Vector3(next() * size.x(), next() * size.y(), size.z() / 2);
  const Quadric<double>& q = surface.quadric;
  rays.own_again[i] = endless;
  if (surface.is_mirror()) {
    own.z() = bowl_height(q, q.a * own.x() * own.x() + q.b * own.y() * own.y());
    const Vector3 along = surface.pose.turn.transpose() * way;
    const RayEquation eq = ray_equation(q, own.x(), own.y(), own.z(), along.x(), along.y(), along.z());
    rays.own_again[i] = static_cast<float>(distance_again(eq.a, eq.b));
  }
  const Vector3 start = surface.pose.turn * own + surface.pose.at;
  rays.ox[i] = start.x(), rays.oy[i] = start.y(), rays.oz[i] = start.z();
  rays.own_surface[i] = index;
}

/// Rays that start anywhere near the scene: half of them toward a place on or near a surface, since most others miss.
void any_rays(Numbers& next, const SurfaceList& list, double away, RayBlock& rays) {
  rays.n = block_size - 5;  // not whole vectors
  for (std::size_t i = 0; i < static_cast<std::size_t>(rays.n); ++i) {
    const std::size_t k =
        std::min(list.surfaces.size() - 1, static_cast<std::size_t>(next() * static_cast<double>(list.surfaces.size())));
    const Surface& surface = list.surfaces[k];
    Vector3 goal = surface.middle();
    if (i % 2 == 0) {
      const Vector3 size = surface.box_high - surface.box_low;
      goal = surface.pose.turn * (surface.box_low + Vector3(next() * size.x(), next() * size.y(), next() * size.z())) +
             surface.pose.at;
    }
    const Vector3 start = goal + away * std::pow(next(), 3) * any_direction(next);
    const Vector3 along = i % 4 == 3 ? any_direction(next) : Vector3((goal - start).normalized());
    rays.ox[i] = start.x(), rays.oy[i] = start.y(), rays.oz[i] = start.z();
    rays.dx[i] = along.x(), rays.dy[i] = along.y(), rays.dz[i] = along.z();
    rays.start_gap[i] = i % 3 == 0 ? static_cast<float>(0.3 * next()) : 0;
    rays.own_surface[i] = -1, rays.own_again[i] = 0;
    if (i % 5 == 0 && surface.kind == SurfaceKind::quadric) start_on(next, surface, static_cast<int>(k), rays, i);
  }
}

struct Outcome {
  int rays = 0, hits = 0, other_surface = 0, other_element = 0, other_distance = 0;
};

/// Both searches' answers about the same rays; `most` by how much distances may differ [m].
Outcome ask_both(const Scene& made, int blocks, float most, SearchBy by = SearchBy::direct) {
  const SurfaceList list = make_surfaces(made);
  REQUIRE((by != SearchBy::direct || direct_can(list)));
  const World direct(list, by), tree(list, SearchBy::tree);
  Numbers next;
  Outcome outcome;
  const auto one = std::make_unique<RayBlock>(), other = std::make_unique<RayBlock>();
  for (int block = 0; block < blocks; ++block) {
    any_rays(next, list, direct.way_out(), *one);
    *other = *one;
    const RayMask among = static_cast<RayMask>(block % mask_count);
    const float limit = block % 8 < 4 ? endless : static_cast<float>(0.7 * direct.way_out());
    direct.nearest(among, *one, limit), tree.nearest(among, *other, limit);
    for (std::size_t i = 0; i < static_cast<std::size_t>(one->n); ++i) {
      ++outcome.rays;
      outcome.hits += other->surface[i] >= 0;
      outcome.other_surface += one->surface[i] != other->surface[i];
      outcome.other_element += other->surface[i] >= 0 && one->element[i] != other->element[i];
      const float a = one->distance[i], b = other->distance[i];
      outcome.other_distance += !(a == b || std::abs(a - b) <= most);
    }
  }
  return outcome;
}

void check_same(const Scene& made, int blocks) {
  const Outcome outcome = ask_both(made, blocks, 0);
  CHECK(outcome.hits * 10 > outcome.rays);
  CHECK(outcome.other_surface == 0);
  CHECK(outcome.other_element == 0);
  CHECK(outcome.other_distance == 0);
}

std::vector<SampleShape> direct_shapes() {
  std::vector<SampleShape> all = {{"paraboloid", Paraboloid{0.6, 1.2, 0.1}},
                                  {"sphere", SphereBowl{1.3, 1.2, 0.1}},
                                  {"trough", Trough{0.6, 1.2, 1}},
                                  {"arc trough", ArcTrough{1.3, 1.2, 1}},
                                  {"flat", Flat{1, 0.8}},
                                  {"hyperboloid", Hyperboloid{0.8, 2.4, 1.2, 0.1}}};
  for (const SampleShape& one : sample_shapes()) {
    const SurfaceList list = make_surfaces(scene({mirror("dish", one.shape)}, {}));
    if (list.surfaces[0].kind == SurfaceKind::quadric) all.push_back(one);
  }
  return all;
}

}  // namespace

TEST_CASE("both searches: every quadric before every target") {
  const std::vector<TargetShape> goals = {DiskTarget{0.2}, RectangleTarget{0.2, 0.3}, TubeTarget{0.1, 0.6}, BallTarget{0.15},
                                          PotTarget{0.18, 0.12}};
  for (const SampleShape& one : direct_shapes()) {
    CAPTURE(one.name);
    for (const TargetShape& goal : goals)
      check_same(scene({mirror("dish", one.shape)}, {target("spot", goal, {0.01, -0.02, 0.58})}), 8);
  }
}

TEST_CASE("both searches: turned, shifted, far from the origin, many surfaces") {
  std::vector<Reflector> mirrors;
  std::vector<Target> targets;
  Numbers next;
  const std::vector<SampleShape> shapes = direct_shapes();
  for (int k = 0; k < 12; ++k) {
    mirrors.push_back(mirror("m" + std::to_string(k), shapes[static_cast<std::size_t>(k) % shapes.size()].shape));
    mirrors.back().pose = {2000 * Vector3::UnitX() + 4 * any_direction(next), about(any_direction(next), 3 * next())};
    targets.push_back(target("t" + std::to_string(k),
                             k % 2 == 0 ? TargetShape(PotTarget{0.5, 0.3}) : TargetShape(BallTarget{0.4}),
                             2000 * Vector3::UnitX() + 4 * any_direction(next), k % 3 != 0));
    targets.back().pose.turn = about(any_direction(next), 3 * next());
    if (k % 4 == 3) check_same(scene(mirrors, targets), 40);
  }
}

TEST_CASE("both searches: petals and heights agree but for what lies within rounding of a seam") {
  for (const SampleShape& one : sample_shapes()) {
    const Scene made = scene({mirror("dish", one.shape)}, {target("spot", PotTarget{0.2, 0.1}, {0, 0, 0.6})});
    const SurfaceList list = make_surfaces(made);
    if (!direct_can(list) || list.surfaces[0].kind == SurfaceKind::quadric) continue;
    CAPTURE(one.name);
    const Outcome outcome = ask_both(made, 40, 1e-6F);
    CHECK(outcome.hits * 10 > outcome.rays);
    CHECK(outcome.other_surface <= 2);
    CHECK(outcome.other_element <= 2);
    CHECK(outcome.other_distance <= 2);
  }
}

TEST_CASE("both searches: what the direct one leaves to the tree") {
  for (const SampleShape& one : sample_shapes()) {
    const SurfaceList list = make_surfaces(scene({mirror("dish", one.shape)}, {}));
    const SurfaceKind kind = list.surfaces[0].kind;
    CHECK(direct_can(list) == (kind != SurfaceKind::tiles && kind != SurfaceKind::triangles));
  }
}

TEST_CASE("tiles and triangles by cells, without the library: what the tree finds") {
  for (const SampleShape& one : sample_shapes()) {
    Reflector turned = mirror("dish", one.shape);
    turned.pose = {Vector3(3, -2, 1), about(Vector3(0.3, 0.4, 0.866).normalized(), 0.7)};
    const Vector3 at = turned.pose.turn * Vector3(0, 0, 0.6) + turned.pose.at;
    const Scene made = scene({turned}, {target("spot", PotTarget{0.2, 0.1}, at)});
    if (direct_can(make_surfaces(made))) continue;
    CAPTURE(one.name);
    // The tree counts in float: by an edge, or at the very start of a ray, either may be right.
    const Outcome outcome = ask_both(made, 80, 3e-6F, SearchBy::cells);
    CHECK(outcome.hits * 10 > outcome.rays);
    CHECK(outcome.other_surface * 2000 <= outcome.rays);
    CHECK(outcome.other_element * 500 <= outcome.rays);
    CHECK(outcome.other_distance * 500 <= outcome.rays);
  }
}
