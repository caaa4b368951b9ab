// SPDX-License-Identifier: MIT
// Figures without chance against closed forms.
#include "quadrature/quadrature.h"

#include <boost/math/distributions/non_central_chi_squared.hpp>
#include <thread>

#include "../known_values/read_table.h"
#include "approx.h"
#include "base/error.h"
#include "scenes.h"
#include "study/light_figures.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

/// |value − expected| <= 3 × the stated error + allowance.
void check_near(const std::string& what, const Estimate& estimate, double expected, double allowance) {
  const double margin = 3 * estimate.std_error.value_or(0) + allowance;
  INFO(what, ": ", estimate.value, " ± ", estimate.std_error.value_or(0), ", expected ", expected, ", margin ", margin);
  CHECK(std::abs(estimate.value - expected) <= margin);
  CHECK(estimate.std_error.value_or(0) < 0.01 * std::abs(expected));
}

std::string refusal(const Scene& made) {
  const auto no = quadrature_refusal(made);
  return no ? no->why : "";
}

}  // namespace

TEST_CASE("quadrature: Gaussian intercept of a circle and of a slit") {
  // Long focus (f/D = 20); what the closed forms leave out is 2e-4, as stated in gaussian_test.cpp.
  const double slope = 2e-3, sigma = 2 * slope;
  for (const auto& row : known::read_table("gaussian_intercept.csv")) {
    const double n = row.at("n_sigma");
    CAPTURE(n);
    const Scene circle = scene(point_sun(), mirror(Paraboloid{1, 0.05, 0}, slope), target(DiskTarget{2 * n * sigma}, {0, 0, 1}));
    const Scene slit =
        scene(point_sun(), mirror(Trough{1, 0.05, 0.05}, slope), target(RectangleTarget{2 * n * sigma, 0.2}, {0, 0, 1}));
    for (const bool map : {true, false}) {
      QuadratureOptions options;
      options.map = map;
      check_near("circle", *quadrature_figures(circle, options).targets[0].intercept, row.at("circle_intercept"), 2e-4);
      check_near("slit", *quadrature_figures(slit, options).targets[0].intercept, row.at("slit_intercept"), 2e-4);
    }
  }
  // Closed form for a Gaussian: half the light within 2 · 1.177410 σ, nine tenths within 2 · 2.145966 σ.
  const Scene wide = scene(point_sun(), mirror(Paraboloid{1, 0.05, 0}, slope), target(DiskTarget{12 * sigma}, {0, 0, 1}));
  const TargetFigures spot = quadrature_figures(wide).targets[0];
  check_near("width 50", *spot.spot_width_50, 2 * 1.177410 * sigma, 2e-4 * 3 * sigma);
  check_near("width 90", *spot.spot_width_90, 2 * 2.145966 * sigma, 2e-4 * 5 * sigma);
  check_near("rms radius", *spot.spot_rms_radius, std::sqrt(2.0) * sigma, 3e-4 * 2 * sigma);
  // Mean over the middle disc of a tenth of the half width: 1 − (1 − e^(−q))/… = peak · (1 − q/2), q = (0.117741)²/2.
  const double aperture = 1000 * pi * 0.025 * 0.025;
  const double q = 0.117741 * 0.117741 / 2;
  check_near("peak", *spot.peak_irradiance, aperture / (2 * pi * sigma * sigma) * (1 - std::exp(-q)) / q,
             5e-4 * aperture / (2 * pi * sigma * sigma));
}

TEST_CASE("quadrature: centre flux of a perfect dish and trough under a uniform sun" * doctest::test_suite("slow")) {
  for (const auto& row : known::read_table("concentration_limits.csv")) {
    const double rim = row.at("rim_angle_deg");
    if (rim != 20 && rim != 40 && rim != 60) continue;
    CAPTURE(rim);
    const Scene dish = scene(uniform_sun(), mirror(dish_of(degrees(rim))), target(DiskTarget{0.05}, {0, 0, 1}));
    const double centre = row.at("dish_centre_flux_uniform_sun_C0");
    check_near("dish", *quadrature_figures(dish).targets[0].peak_concentration, centre, 5e-4 * centre);
  }
}

TEST_CASE("quadrature: a target out of focus sees an even disc of light as wide as the cone there") {
  // Long focus: at 1 + d the cone of the rim is a·d wide (a = 0.025 m, 1.00016 of f away); an even disc holds half its light in
  // √½ of its width; the small blur moves light across that circle evenly.
  const Scene made = scene(point_sun(), mirror(Paraboloid{1, 0.05, 0}, 0.2e-3), target(DiskTarget{0.05}, {0, 0, 1.4}));
  const TargetFigures spot = quadrature_figures(made).targets[0];
  const double radius = 0.025 * 0.4 / (1 - 0.025 * 0.025 / 4);
  check_near("width 50", *spot.spot_width_50, 2 * radius * std::sqrt(0.5), 1e-3 * radius);
  check_near("peak", *spot.peak_irradiance, 1000 * 0.025 * 0.025 / (radius * radius), 20.0);
}

TEST_CASE("quadrature: the ledger adds up, the map holds the power, a wide target catches all") {
  for (const double aim : {0.0, 0.03}) {
    Scene made = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}, 5e-3), target(DiskTarget{0.25}, {0, 0, 0.6}));
    made.sun.aim_error = aim;
    made.reflectors[0].reflectance = 0.8;
    made.targets[0].shades = true;
    const TraceFigures figures = quadrature_figures(made);
    double sum = 0;
    for (const LedgerLine& line : figures.ledger) sum += line.power.value;
    CHECK(sum == testing::approx(figures.aperture_power.value).epsilon(1e-9));
    CHECK(figures.aperture_power.value == testing::approx(1000 * pi * (0.36 - 0.000625) * std::cos(aim)).epsilon(1e-12));
    const TargetFigures& spot = figures.targets[0];
    const MapFace& face = spot.map.at(0);
    double power = 0;
    for (const double light : face.irradiance)
      power += light * (face.x_to - face.x_from) * (face.y_to - face.y_from) / (face.columns * face.rows);
    CHECK(power == testing::approx(spot.power.value).epsilon(1e-6));
    CHECK(spot.intercept->value > 0.9999);
    CHECK(spot.intercept->value <= 1);
    // The shadow lies on the mirror and covers the hole: its area as seen from the sun, less the hole.
    if (aim == 0)
      CHECK(ledger(figures, "shaded by spot").value == testing::approx(1000 * pi * (0.125 * 0.125 - 0.000625)).epsilon(1e-6));
  }
}

TEST_CASE("quadrature: the map is good to the tolerance, and the stated errors cover a much finer one" *
          doctest::test_suite("slow")) {
  for (const double slope : {2e-3, 10e-3}) {
    Scene made =
        scene(limb_sun(), mirror(Paraboloid{0.6096, 1.2192, 0.0508}, slope), target(DiskTarget{0.1524}, {0.01, 0, 0.64}));
    made.targets[0].shades = true;
    QuadratureOptions usual, fine;
    usual.columns = usual.rows = fine.columns = fine.rows = 128;
    fine.tolerance = 1e-6;
    const TraceFigures a = quadrature_figures(made, usual), b = quadrature_figures(made, fine);
    const std::vector<double>&map_a = a.targets[0].map[0].irradiance, &map_b = b.targets[0].map[0].irradiance;
    double difference = 0, all = 0;
    for (std::size_t i = 0; i < map_b.size(); ++i) difference += std::pow(map_a[i] - map_b[i], 2), all += map_b[i] * map_b[i];
    CHECK(std::sqrt(difference / all) < 1e-3);
    CHECK(b.paths > a.paths);
    check_near("intercept", *a.targets[0].intercept, b.targets[0].intercept->value, 0);
    check_near("peak", *a.targets[0].peak_irradiance, b.targets[0].peak_irradiance->value,
               1e-4 * b.targets[0].peak_irradiance->value);
  }
}

TEST_CASE("quadrature says when it does not apply, and auto then traces") {
  const Reflector dish = mirror(Paraboloid{0.6, 1.2, 0}, 4e-3);
  const Scene good = scene(limb_sun(), dish, target(DiskTarget{0.15}, {0, 0, 0.6}), 20'000);
  CHECK(refusal(good).empty());
  Scene made = good;
  made.targets.push_back(target(DiskTarget{0.1}, {0.5, 0, 1}));
  CHECK(refusal(made) == "there is more than one target, and one may stand in the other's light");
  made = good;
  made.lamp = Lamp{};
  CHECK(refusal(made) == "the light comes from a lamp; the quadrature follows the sun only");
  made = good;
  made.reflectors[0].shape = Cone{0.6, 1.2};
  CHECK(refusal(made) == "some light may meet the mirror a second time");
  made = good;
  made.reflectors[0].shape = Hyperboloid{0.3, 0.9, 0.3, 0};
  CHECK(refusal(made) ==
        "dish is a hyperboloid, which passes on the light of another mirror; the quadrature follows one reflection");
  made = good;
  Facets tiles;  // steps between tiles of a flat frame that lean toward a near point
  tiles.frame = FacetFrame::flat, tiles.width = 0.8, tiles.tile = 0.1, tiles.gap = 1e-4;
  tiles.aim_at_target = true, tiles.aim_point = Vector3(0, 0, 0.6);
  made.reflectors[0].shape = tiles;
  CHECK(refusal(made) == "tiles of dish may stand in one another's light");
  made = good;
  made.targets[0].shape = TubeTarget{0.15, 0.1}, made.targets[0].shades = true;
  made.targets[0].pose.turn = rotation(degrees(90), 0, 0);
  CHECK(refusal(made) == "the sun shines through the open ends of spot");
  for (const TargetShape& body :
       {TargetShape(PotTarget{0.15, 0.12}), TargetShape(BallTarget{0.15}), TargetShape(TubeTarget{0.15, 0.2})}) {
    made = good;
    made.targets[0].shape = body;
    CHECK(refusal(made).empty());
  }
  made = good;
  made.sun.half_angle = 0, made.reflectors[0].slope_error = 0;
  CHECK(refusal(made) == "nothing blurs the light: the sun is a point and dish is perfect");
  made = good;
  made.reflectors[0].slope_error = 0.01e-3;
  CHECK(refusal(made) == "the slope_error of dish is far smaller than the sun's disc");
  made = good;
  made.reflectors[0].slope_error = 80e-3;
  CHECK(refusal(made) == "dish spreads the light too widely");
  made = good;
  made.reflectors[0].shape = SphereBowl{0.6, 1.19, 0};
  made.targets[0].pose.at.z() = 0.3;
  CHECK_FALSE(refusal(made).empty());  // light bounces twice near the rim
  made = good;
  made.reflectors[0].shape = Flat{1, 1};
  made.reflectors[0].pose.turn = rotation(degrees(120), 0, 0);
  CHECK(refusal(made) == "the sun shines on the back of dish, or of a part of it");
  made = good;
  made.targets[0].pose.at = Vector3(0, 0, -0.1);
  CHECK(refusal(made) == "a part of spot is below the rim of dish or behind it");
  made = good;
  made.targets[0].pose.turn = rotation(degrees(85), 0, 0);
  CHECK_FALSE(refusal(made).empty());
  made = good;
  made.reflectors.push_back(dish);
  made.reflectors[1].name = "other", made.reflectors[1].pose.at = Vector3(0.5, 0, 0);
  CHECK(refusal(made) == "dish may stand in the light of other");

  Watch watch;
  made = good;
  made.trace.method = Method::quadrature;
  CHECK(light_figures(made, LightMap::made, 1, watch).method == "quadrature");
  made.trace.method = Method::automatic;
  CHECK(light_figures(made, LightMap::made, 1, watch).method == "quadrature");
  made.reflectors[0].shape = Cone{0.6, 1.2};
  CHECK(light_figures(made, LightMap::made, 1, watch).method == "rays");
  made.trace.method = Method::quadrature;
  CHECK_THROWS_AS(light_figures(made, LightMap::made, 1, watch), InputError);
  CHECK_THROWS_AS(PreparedLight(made, LightMap::made), InputError);
}

TEST_CASE("quadrature: a face that cuts the light has the middle and the size of what it cuts out") {
  // A mirror of a few mm sends a Gaussian of σ = 2 · slope · distance to a face whose edges lie at a and b of it. Closed form of
  // the truncated
  // normal: mean (φ(a) − φ(b))/(Φ(b) − Φ(a)) σ, variance 1 + (a φ(a) − b φ(b))/(Φ(b) − Φ(a)) − mean². Left out: the mirror's own
  // size, 5e-6.
  const double slope = 5e-3, sigma = 2 * slope, width = 3 * sigma, shift = 0.7 * sigma;
  Scene made = scene(point_sun(), mirror(Flat{1e-4, 1e-4}, slope), target(RectangleTarget{width, 20 * sigma}, {shift, 0, 1}));
  const TargetFigures spot = quadrature_figures(made).targets[0];
  const double a = (-width / 2 + shift) / sigma, b = (width / 2 + shift) / sigma;
  const auto density = [](double t) { return std::exp(-t * t / 2) / std::sqrt(2 * pi); };
  const auto below = [](double t) { return 0.5 * std::erfc(-t / std::sqrt(2.0)); };
  const double part = below(b) - below(a), mean = (density(a) - density(b)) / part,
               variance = 1 + (a * density(a) - b * density(b)) / part - mean * mean;
  CHECK(spot.intercept->value == testing::approx(part).epsilon(2e-4));
  CHECK((*spot.centroid)[0].value == testing::approx(mean * sigma - shift).epsilon(2e-4));
  CHECK(spot.spot_rms_radius->value == testing::approx(sigma * std::sqrt(variance + 1)).epsilon(2e-4));
}

TEST_CASE("quadrature: where the face ends before the light is brightest, the brightest disc touches its edge") {
  // The same Gaussian, the face from 2 σ outward. Light in a disc of radius r whose middle is 2 σ + r from the Gaussian's: the
  // noncentral χ² distribution with two degrees of freedom (Boost.Math).
  const double sigma = 1e-2, edge = 2 * sigma;
  for (const double face : {2.6 * sigma, 3 * sigma, 3.5 * sigma, 4.1 * sigma}) {
    Scene wall = scene(point_sun(), mirror(Flat{1e-4, 1e-4}, sigma / 2),
                       target(RectangleTarget{face, 1.37 * face}, {edge + face / 2, 0, 1}));
    Scene disk = wall;
    disk.targets[0].shape = DiskTarget{face};
    disk.targets[0].pose.at = Vector3((edge + face / 2) * std::cos(0.5), (edge + face / 2) * std::sin(0.5), 1);
    for (const Scene& made : {wall, disk}) {
      CAPTURE(shape_word(made.targets[0].shape));
      const TraceFigures figures = quadrature_figures(made);
      const TargetFigures& spot = figures.targets[0];
      const double r = spot.spot_width_50->value / 20, away = (edge + r) / sigma;
      const double part = boost::math::cdf(boost::math::non_central_chi_squared(2, away * away), r * r / sigma / sigma);
      const double power = spot.power.value / spot.intercept->value;
      CHECK(spot.peak_irradiance->value == testing::approx(power * part / (pi * r * r)).epsilon(5e-4));
    }
  }
}

TEST_CASE("quadrature: on a face narrower than a tenth of the spot the brightest disc is as wide as the face") {
  // Even light there: the disc and the whole face have the same mean to (face/spot)².
  const Scene made = scene(limb_sun(), mirror(Paraboloid{0.6, 1, 0}, 4e-2), target(RectangleTarget{4e-3, 4e-3}, {0, 0, 0.6}));
  const TargetFigures spot = quadrature_figures(made).targets[0];
  CHECK(spot.peak_irradiance->value == testing::approx(spot.mean_irradiance->value).epsilon(5e-3));
  CHECK(spot.spot_width_50->value > 4e-2);
}

TEST_CASE("quadrature: bands of a perfect dish are those of the sun's disc") {
  // Every place of a long dish throws the same even disc of radius f · tan(half angle), all with their edges in one place. Closed
  // form: within
  // |x| < h of a disc of radius R lies (2/π)(t √(1 − t²) + asin t), t = h/R; half of the light at t = 0.403973, nine tenths at t
  // = 0.805382.
  const Scene made = scene(uniform_sun(), mirror(Paraboloid{1, 0.02, 0}), target(RectangleTarget{0.05, 0.05}, {0, 0, 1}));
  const TargetFigures spot = quadrature_figures(made).targets[0];
  const double width = 2 * std::tan(sun_angle);
  CHECK(spot.spot_width_50->value == testing::approx(0.403973 * width).epsilon(2e-3));
  CHECK(spot.spot_width_90->value == testing::approx(0.805382 * width).epsilon(2e-3));
}

namespace {

/// Scenes whose light is spread over many times its blur: they would take minutes.
std::vector<Scene> wide_spread() {
  std::vector<Scene> scenes = {
      scene(limb_sun(), mirror(ArcTrough{1.22, 1.02, 1.52}), target(DiskTarget{0.15}, {0, 0, 600}), 4096),
      scene(limb_sun(), mirror(Ellipsoid{0.15, 1.5, 0.3, 0}), target(DiskTarget{0.15}, {0, 0, 0.6}), 4096),
      scene(limb_sun(), mirror(Trough{0.4, 1.2, 2}, 3e-3), target(DiskTarget{0.02}, {0, 0, 0.4}), 4096),
      scene(limb_sun(), mirror(Trough{0.4, 1.2, 2}), target(DiskTarget{0.15}, {0, 0, 0.9}), 4096),
      scene(limb_sun(), mirror(Paraboloid{0.5, 1, 0}, 0.3e-3), target(DiskTarget{0.3}, {0, 0, 5}), 4096)};
  scenes[2].reflectors[0].specular_spread = 2e-3;
  return scenes;
}

}  // namespace

TEST_CASE("quadrature: what would take minutes is known ahead: auto traces, and the method by name is refused") {
  std::size_t k = 0;
  for (Scene made : wide_spread()) {
    CAPTURE(k++);
    CHECK(refusal(made).find("the light is spread over far more than its blur on spot") == 0);
    made.trace.method = Method::quadrature;
    CHECK_THROWS_AS(PreparedLight(made, LightMap::made), InputError);
    made.trace.method = Method::automatic;
    Watch watch;
    CHECK(light_figures(made, LightMap::made, 1, watch).method == "rays");
    CHECK(watch.in_paths);
  }
}

TEST_CASE("auto traces where the quadrature takes longer or does not settle, and a note says so where it is asked for") {
  // Out of focus narrow slopes take many places; a perfect mirror's images have sharp edges.
  Scene made = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}, 0.4e-3), target(DiskTarget{0.15}, {0, 0, 0.62}), 100'000);
  made.trace.method = Method::automatic;
  Watch watch;
  CHECK(light_figures(made, LightMap::made, 1, watch).method == "rays");
  made.reflectors[0].slope_error = 0;
  Watch second;
  CHECK(light_figures(made, LightMap::made, 1, second).method == "rays");
  made.reflectors[0].slope_error = 4e-3, made.targets[0].pose.at.z() = 0.6;
  Watch third;
  CHECK(light_figures(made, LightMap::made, 1, third).method == "quadrature");
  CHECK(third.done > 0);
  CHECK(third.done <= third.planned);
  CHECK_FALSE(third.in_paths);
  // The same choice on any number of threads.
  Watch fourth;
  CHECK(light_figures(made, LightMap::made, 4, fourth).method == "quadrature");
  made.trace.method = Method::quadrature;
  CHECK(PreparedLight(made, LightMap::made).scene().notes.empty());
  made.trace.paths = 4096, made.reflectors[0].slope_error = 0.8e-3, made.targets[0].pose.at.z() = 0.62;
  const PreparedLight slow(made, LightMap::made);
  REQUIRE(slow.scene().notes.size() == 1);
  CHECK(slow.scene().notes[0].find("times as long") != std::string::npos);
}

TEST_CASE("quadrature: a stop ends it wherever it is") {
  // A second of work or more, on a disk and on a ball; stopped as soon as it has begun.
  for (const TargetShape& shape : {TargetShape(DiskTarget{0.15}), TargetShape(BallTarget{0.3})}) {
    const Scene made = scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0.05}, 2e-3), target(shape, {0, 0, 0.66}));
    Watch watch;
    QuadratureOptions options;
    options.tolerance = 1e-9, options.most_work = 1e300;
    auto ready = prepare_quadrature(made, options);
    REQUIRE(std::holds_alternative<PreparedQuadrature>(ready));
    std::thread stops([&watch] {
      while (watch.done == 0) std::this_thread::yield();
      watch.stop = true;
    });
    CHECK_THROWS_AS(std::get<PreparedQuadrature>(ready).solve(&watch, 1000), Interrupted);
    stops.join();
  }
}
