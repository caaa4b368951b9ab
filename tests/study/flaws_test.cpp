// SPDX-License-Identifier: MIT
// Light from mirrors with flaws, against closed forms for a very flat dish (f/D = 10), where all rays travel about f.
#include <cmath>

#include "approx.h"
#include "scenes.h"
#include "shape/facets.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double f = 1, width = 0.1;

Scene flawed(const Flaws& flaws, const TargetShape& goal, double z = f, std::uint64_t paths = 200'000) {
  Scene made = scene(point_sun(), mirror(Paraboloid{f, width, 0}), target(goal, {0, 0, z}), paths, 21);
  made.reflectors[0].flaws = flaws;
  return made;
}

void check_share(const Scene& made, double expected, double tolerance) {
  const TraceFigures figures = traced(made);
  const Estimate share = *figures.targets[0].intercept;
  CAPTURE(expected);
  CHECK(std::abs(share.value - expected) < tolerance + 4 * share.std_error.value_or(0));
}

/// Part of a disc of radius 1 within |y| <= c.
double strip_of_disc(double c) { return 2 / pi * (std::asin(c) + c * std::sqrt(1 - c * c)); }

}  // namespace

// Two focal lengths: at z = f (1 + s) all light crosses x = 0; along y the disc of light is |s| a wide: y = Y (1 − f_x/f_y).
TEST_CASE("flaws: sag makes two line images" * doctest::test_suite("slow")) {
  const double s = 0.1, extent = width / 2 * s;
  Flaws flaws;
  flaws.sag_x = s;
  for (const double c : {0.3, 0.5, 0.8})
    check_share(flawed(flaws, RectangleTarget{1, 2 * c * extent}, f * (1 + s)), strip_of_disc(c), 0.003);
  check_share(flawed(flaws, RectangleTarget{0.04 * extent, 1}, f * (1 + s)), 1, 0.01);
  // At z = f it is the other way round: y = 0, and x = X (1 − f/(f (1 + s))).
  const double across = width / 2 * (1 - 1 / (1 + s));
  check_share(flawed(flaws, RectangleTarget{2 * 0.5 * across, 1}, f), strip_of_disc(0.5), 0.003);
  check_share(flawed(flaws, RectangleTarget{1, 0.04 * across}, f), 1, 0.01);
}

// A twist t: slopes t y/R along x, t x/R along y, R the rim: at the focus the light fills a disc of radius 2 f t.
TEST_CASE("flaws: twist spreads the focus evenly over a disc") {
  Flaws flaws;
  flaws.twist = 0.005;
  const double spot = 2 * f * flaws.twist;
  for (const double part : {0.5, 0.8}) check_share(flawed(flaws, DiskTarget{2 * part * spot}), part * part, 0.004);
  check_share(flawed(flaws, DiskTarget{2 * 1.02 * spot}), 1, 0.002);
}

// The same of a dish cut beside the axis: it is twisted about its own middle, so its disc stays at the focus. About the axis of
// the parent it would lean as a whole by t (clearance + R)/R = 3 t and miss the focus by 6 f t, three times the disc's radius.
TEST_CASE("flaws: an offset dish is twisted about the middle of its outline") {
  Flaws flaws;
  flaws.twist = 0.005;
  const double spot = 2 * f * flaws.twist;
  for (const double part : {0.5, 0.8}) {
    Scene made = flawed(flaws, DiskTarget{2 * part * spot});
    made.reflectors[0].shape = OffsetParaboloid{f, width, width, 0};
    check_share(made, part * part, 0.02);
  }
}

// 400 petals focus all but the width of one, 0.4 mm a side: the twist's disc of 10 mm is theirs too.
TEST_CASE("flaws: petals are twisted as the dish that they make") {
  Flaws flaws;
  flaws.twist = 0.005;
  const double spot = 2 * f * flaws.twist;
  for (const double part : {0.5, 0.8}) {
    Scene made = flawed(flaws, DiskTarget{2 * part * spot});
    made.reflectors[0].shape = Petals{f, width, 400};
    check_share(made, part * part, 0.01);
  }
}

// Petals whose tips hang by a tenth of the dish's depth D: f' = f D/(D − D/10) = f/0.9. All light goes through that place, but
// for the width of a petal (0.4 mm a side); at f the disc of light is R (1 − f/f') = R/10 in radius.
TEST_CASE("flaws: petals whose tips hang have the focus of a flatter dish") {
  constexpr double depth = width * width / (16 * f), spot = width / 2 * 0.1;
  Flaws flaws;
  flaws.rim_sag_x = flaws.rim_sag_y = depth / 10;
  const auto hanging = [&](double disk, double z) {
    Scene made = flawed(flaws, DiskTarget{disk}, z);
    made.reflectors[0].shape = Petals{f, width, 400};
    return made;
  };
  check_share(hanging(0.0012, f / 0.9), 1, 0.005);
  for (const double part : {0.5, 0.8}) check_share(hanging(2 * part * spot, f), part * part, 0.02);
}

// Slopes s₀ sin(phase), s₀ = 2πa/period, evenly over the phase: the share within |x| <= X of the focus is (2/π) asin(X/(2 f s₀)).
TEST_CASE("flaws: waves spread the focus by the arcsine law") {
  const double amplitude = 2e-5, period = width / 10, steepest = 2 * pi * amplitude / period;
  Flaws flaws;
  flaws.waviness = Waviness{amplitude, period, 0};
  for (const double part : {0.3, 0.7})
    check_share(flawed(flaws, RectangleTarget{2 * part * 2 * f * steepest, 1}), 2 / pi * std::asin(part), 0.006);
  flaws.waviness->direction = pi / 2;
  check_share(flawed(flaws, RectangleTarget{1, 2 * 0.5 * 2 * f * steepest}), 1.0 / 3, 0.006);
}

// The dent's slope is (d π/w) sin(2πρ/w). What is steeper than the limit R/(2f) misses a disk of radius R: the ring between ρ₁ =
// w/(2π) asin(limit/steepest) and w/2 − ρ₁.
TEST_CASE("flaws: a dent sends away its part with a slope above the limit") {
  const Dent dent{0.02, 0.01, 0.04, 4e-4};
  Flaws flaws;
  flaws.dents = {dent};
  const double steepest = dent.depth * pi / dent.width;
  for (const double part : {0.2, 0.6}) {
    const double limit = part * steepest, inner = dent.width / (2 * pi) * std::asin(part), outer = dent.width / 2 - inner;
    const double away = (outer * outer - inner * inner) / std::pow(width / 2, 2);
    check_share(flawed(flaws, DiskTarget{2 * 2 * f * limit}), 1 - away, 0.004);
  }
}

TEST_CASE("flaws: tiles lean by the stated rms, the same for the same seed") {
  Facets facets;
  facets.frame = FacetFrame::flat;
  facets.width = 1, facets.tile = 0.02, facets.gap = 0.001;
  facets.tilt_error = 4e-3, facets.tilt_seed = 5;
  const auto tiles = facet_layout(facets), again = facet_layout(facets);
  facets.tilt_seed = 6;
  const auto other = facet_layout(facets);
  double x = 0, y = 0;
  bool same = true, different = false;
  for (std::size_t k = 0; k < tiles.size(); ++k) {
    const Vector3 normal = tiles[k].turn.col(2);
    x += normal.x() * normal.x(), y += normal.y() * normal.y();
    same = same && tiles[k].turn == again[k].turn;
    different = different || tiles[k].turn != other[k].turn;
  }
  const double count = static_cast<double>(tiles.size());
  REQUIRE(count > 1500);
  // The rms of n Gaussian numbers scatters by 1/√(2n): 1.8 % here.
  CHECK(std::abs(std::sqrt(x / count) - 4e-3) < 4 * 4e-3 / std::sqrt(2 * count));
  CHECK(std::abs(std::sqrt(y / count) - 4e-3) < 4 * 4e-3 / std::sqrt(2 * count));
  CHECK(same);
  CHECK(different);
}

// Bumps by chance: normal slopes of rms s = √2 ε/c along each axis, so the light within a circle of radius R about the focus is 1
// − exp(−R²/(8 s² f²)), as for that slope error; mean over dishes, each of some 450 bumps.
TEST_CASE("flaws: bumps by chance spread the focus like the slope error that belongs to them" * doctest::test_suite("slow")) {
  const double rms = 1.2e-5, correlation = width / 30, slope = std::sqrt(2) * rms / correlation;
  constexpr int dishes = 6;
  for (const double part : {1.0, 2.0}) {
    const double radius = part * 2 * f * slope;
    double share = 0;
    for (std::uint64_t seed = 1; seed <= dishes; ++seed) {
      Flaws flaws;
      flaws.roughness = Roughness{rms, correlation, seed};
      share += traced(flawed(flaws, DiskTarget{2 * radius}, f, 60'000)).targets[0].intercept->value / dishes;
    }
    CHECK(share == testing::approx(1 - std::exp(-part * part / 2)).epsilon(0.025));
  }
}

TEST_CASE("flaws: the ledger adds up for every shape that takes them, and no flaw changes nothing" *
          doctest::test_suite("slow")) {
  Flaws flaws;
  flaws.twist = 0.01;
  flaws.rim_sag_x = 2e-3;
  flaws.waviness = Waviness{2e-4, 0.2, 0.5};
  flaws.dents = {{0.2, 0.1, 0.15, 2e-3}};
  const ReflectorShape shapes[] = {Paraboloid{0.6, 1.2, 0.1},
                                   SphereBowl{1.2, 1.2, 0},
                                   Trough{0.6, 1.2, 1},
                                   ArcTrough{1.2, 1.2, 1},
                                   Flat{1.2, 1},
                                   Cone{0.3, 1.2, 0},
                                   Catenary{1.2, 0.3, 0.1},
                                   OffsetParaboloid{0.6, -0.6, 1.2, 0},
                                   Petals{0.6, 1.2, 12, false, 0.1}};
  for (const ReflectorShape& shape : shapes) {
    CAPTURE(shape_word(shape));
    Scene made = scene(limb_sun(), mirror(shape), target(DiskTarget{0.2}, {0, 0, 0.6}), 50'000, 4);
    const TraceFigures plain = traced(made);
    made.reflectors[0].flaws = flaws;
    const TraceFigures figures = traced(made);
    double sum = 0;
    for (const LedgerLine& line : figures.ledger) sum += line.power.value;
    CHECK(sum == testing::approx(figures.aperture_power.value).epsilon(1e-9));
    CHECK(figures.aperture_power.value == testing::approx(plain.aperture_power.value).epsilon(0.01));
    CHECK(figures.targets[0].power.value > 0);
  }
}
