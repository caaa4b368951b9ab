// SPDX-License-Identifier: MIT
// Quadrature and tracing over a random family of scenes: their differences follow their stated errors.
#include <Eigen/Geometry>
#include <map>
#include <random>
#include <sstream>

#include "../effort.h"
#include "two_methods.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

/// Scenes such as a shop meets, and some that it does not: nine shapes, five kinds of targets in focus and out of it, turned or
/// aside, with and without a shadow, slopes from 1 to 60 mrad, spreads, suns, aims.
class Family {
 public:
  explicit Family(unsigned seed) : random_(seed) {}

  Scene next() {
    Scene made = scene(any_sun(), mirror(any_shape()), target(any_target(), Vector3(0, 0, focus_)), 500'000, random_());
    Reflector& dish = made.reflectors[0];
    dish.reflectance = 0.9;
    dish.slope_error = log_between(1e-3, 60e-3);
    if (chance(0.25)) dish.specular_spread = log_between(1e-3, 15e-3);
    Target& spot = made.targets[0];
    if (chance(0.5)) spot.pose.at.z() *= chance(0.7) ? between(0.85, 1.2) : log_between(0.5, 2);
    if (chance(0.3)) spot.pose.at += Vector3(between(-0.05, 0.05), between(-0.05, 0.05), 0);
    if (chance(0.25)) spot.pose.turn = rotation(between(-0.6, 0.6), between(-0.6, 0.6), 0);
    spot.shades = chance(0.7);
    return made;
  }

 private:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  double log_between(double low, double high) { return low * std::exp(between(0, std::log(high / low))); }
  bool chance(double share) { return between(0, 1) < share; }

  Sun any_sun() {
    Sun made = chance(0.3) ? uniform_sun() : limb_sun();
    if (chance(0.2)) made.disc = DiscProfile::aureole, made.aureole_share = between(0, 0.2);
    if (chance(0.1)) made.half_angle = 0;
    if (chance(0.6))
      made.aim_error = chance(0.5) ? log_between(1e-3, 0.1) : between(0, 0.4), made.aim_direction = between(-pi, pi);
    return made;
  }
  ReflectorShape any_shape() {
    const double width = between(0.3, 1.5), f = between(0.4, 1.2) * std::max(width, 0.5), length = between(0.15, 1.5),
                 hole = chance(0.4) ? between(0.05, 0.3) * width : 0;
    focus_ = f;
    switch (std::uniform_int_distribution<int>(0, 9)(random_)) {
      case 0: focus_ = 0.4 * width; return SphereBowl{0.8 * width, width, hole};
      case 1: return Trough{f, width, length};
      case 2: focus_ = 0.6 * width; return ArcTrough{1.2 * width, width, length};
      case 3: return Flat{width, length};
      case 4: return OffsetParaboloid{f, width * between(-0.3, 0.3), width, hole};
      case 5: return Petals{f, width, 12, chance(0.5), hole};
      case 6: focus_ = width / 1.6; return Catenary{width, 0.1 * width, hole};
      case 7: return Ellipsoid{f, f * log_between(3, 20), width, hole};
      default: return Paraboloid{f, width, hole};
    }
  }
  TargetShape any_target() {
    const double width = log_between(0.03, 0.4);
    switch (std::uniform_int_distribution<int>(0, 6)(random_)) {
      case 0: return BallTarget{width};
      case 1: return PotTarget{width, width * between(0.3, 1.2)};
      case 2: return TubeTarget{width, between(0.1, 1)};
      case 3:
      case 4: return RectangleTarget{width, log_between(0.03, 1)};
      default: return DiskTarget{width};
    }
  }
  std::mt19937 random_;
  double focus_ = 1;
};

using Figures = std::map<std::string, std::optional<Estimate>>;

Figures figures_of(const TraceFigures& figures) {
  const TargetFigures& t = figures.targets[0];
  Figures out = {{"power", t.power},
                 {"intercept", t.intercept},
                 {"mean irradiance", t.mean_irradiance},
                 {"width 50", t.spot_width_50},
                 {"width 90", t.spot_width_90},
                 {"rms radius", t.spot_rms_radius},
                 {"shaded", ledger(figures, "shaded by spot")}};
  if (t.centroid) out["centroid x"] = (*t.centroid)[0], out["centroid y"] = (*t.centroid)[1];
  return out;
}

/// How many joint errors each figure is off.
struct Offs {
  std::map<std::string, std::vector<double>> by_figure;
  double worst = 0;
  std::string where;

  void add(const Figures& q, const Figures& t, double leaving, const std::string& scene) {
    for (const auto& [name, a] : q) {
      const auto& b = t.at(name);
      if (!a || !b) continue;
      // Where less than a hundred thousandth of the light arrives, figures of its shape hang on single paths.
      const bool faint = t.at("power")->value < 1e-4 * leaving;
      if (faint && name != "power" && name != "intercept") continue;
      const double joint = std::hypot(a->std_error.value_or(0), b->std_error.value_or(0)), apart = std::abs(a->value - b->value);
      if (!(joint > 0)) continue;
      by_figure[name].push_back(apart / joint);
      if (apart > worst * joint) {
        worst = apart / joint;
        std::ostringstream told;
        told << scene << ": " << name << " " << a->value << " ± " << a->std_error.value_or(0) << " and " << b->value << " ± "
             << b->std_error.value_or(0);
        where = told.str();
      }
    }
  }
};

std::optional<TraceFigures> solved_within(const Scene& made, const QuadratureOptions& options) {
  auto ready = prepare_quadrature(made, options);
  if (!std::holds_alternative<PreparedQuadrature>(ready)) return std::nullopt;
  auto figures = std::get<PreparedQuadrature>(ready).solve();
  if (!std::holds_alternative<TraceFigures>(figures)) return std::nullopt;
  return std::get<TraceFigures>(std::move(figures));
}

}  // namespace

TEST_CASE("two methods: over random scenes the differences follow the stated errors" * doctest::test_suite("slow")) {
  const int wanted = testing::repeats(120);
  Family family(20);
  Offs offs;
  int solved = 0;
  for (int k = 0; solved < wanted && k < 60 * wanted; ++k) {
    const Scene made = family.next();
    QuadratureOptions options;
    options.most_work = 8e7, options.settled = true;
    if (!solved_within(made, options)) continue;
    const TraceFigures t = traced(made);
    // The tracer finds the middle of its circles in a short first run; that is no error of either method.
    options.centre = t.targets[0].plane_centroid;
    const auto q = solved_within(made, options);
    REQUIRE(q);
    offs.add(figures_of(*q), figures_of(t), t.aperture_power.value, "scene " + std::to_string(k));
    ++solved;
  }
  REQUIRE(solved == wanted);
  CAPTURE(offs.where);
  // Ten figures of up to 120 scenes: one of them is beyond 4.6 in two hundred runs of a normal law; tails of 16 replicates are
  // longer.
  CHECK(offs.worst < 5.2);
  for (const auto& [name, off] : offs.by_figure) {
    CAPTURE(name);
    const int count = static_cast<int>(off.size());
    const auto beyond = [&off](double limit) {
      return static_cast<double>(std::count_if(off.begin(), off.end(), [limit](double z) { return z > limit; })) /
             static_cast<double>(off.size());
    };
    CHECK(beyond(1) <= 0.3173 + testing::share_allowance(0.3173, count));
    CHECK(beyond(2) <= 0.0455 + testing::share_allowance(0.0455, count));
    CHECK(beyond(3) <= 0.0027 + testing::share_allowance(0.0027, count, 5));
  }
}
