// SPDX-License-Identifier: MIT
// Images of strips of a trough, against sums over the places of the strip.
#include <doctest/doctest.h>

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <numbers>

#include "approx.h"
#include "quadrature/field.h"
#include "quadrature/setting.h"

using namespace dishwright;

namespace {

constexpr double length = 0.4;

Scene trough(double slope, double spread, double aim, double direction, double half_angle = 4.65e-3) {
  Scene scene;
  scene.sun.half_angle = half_angle, scene.sun.aim_error = aim, scene.sun.aim_direction = direction;
  Reflector mirror;
  mirror.name = "trough", mirror.shape = Trough{0.3, 0.6, length};
  mirror.slope_error = slope, mirror.specular_spread = spread;
  scene.reflectors.push_back(mirror);
  Target target;
  target.name = "bar", target.shape = RectangleTarget{0.08, length};
  target.pose.at = Vector3(0, 0, 0.3);
  scene.targets.push_back(target);
  return scene;
}

Setting setting_of(const Scene& scene) {
  auto made = make_setting(scene);
  REQUIRE(std::holds_alternative<Setting>(made));
  return std::get<Setting>(std::move(made));
}

}  // namespace

// Steps of a fiftieth of the blur along the strip, at their middles: at the ends wrong by (1/50)²/24 of the slope there, 1e-5.
// An end off by a hundredth of the blur would be 4e-3.
TEST_CASE("the image of a strip is the sum of the images of its places: in the middle, at its ends and beyond") {
  for (const auto& [slope_error, spread, aim, toward] : {std::array{4e-3, 0.0, 0.0, 0.0},
                                                         {0.0, 3e-3, 0.01, 0.0},
                                                         {5e-3, 3e-3, 0.02, std::numbers::pi / 2},
                                                         {1e-3, 0.0, 0.01, 1.0}}) {
    const Scene scene = trough(slope_error, spread, aim, toward);
    const Setting setting = setting_of(scene);
    const double slope = slope_error, direction = toward;
    CAPTURE(slope);
    CAPTURE(direction);
    REQUIRE(setting.counts[0].strips);
    const double u = 0.83, part = 0.1;  // a strip of the middle tenth: 0.04 m
    const auto place = [&](double v) { return setting.patches[0].at(u, v); };
    MirrorSample strip{0, place(0.5), 0};
    strip.strip = part * (place(1).place - place(0).place);
    const auto whole = image_of(strip, setting.blurs[0], setting.receiver, setting.sun, 1);
    REQUIRE(whole);
    // Points from one end's far side over its edge to the middle.
    PlanePoints points;
    for (int k = 0; k <= 40; ++k) {
      points.x.push_back(whole->x0 + ((k % 5) - 2) * 0.7 * whole->sigma), points.y.push_back(whole->y0 + k * 0.04 / 40);
    }
    Effort effort;
    const std::vector<double> light = field_at_points({*whole}, true, points, effort);
    const int steps = static_cast<int>(std::ceil(part * length / (0.02 * whole->smooth)));
    std::vector<Image> images;
    for (int k = 0; k < steps; ++k) {
      const MirrorPoint at = place(0.5 + part * ((k + 0.5) / steps - 0.5));
      images.push_back(*image_on(setting.blurs[0], setting.receiver, at, setting.sun, 1.0 / steps));
    }
    const std::vector<double> summed = field_at_points(images, true, points, effort);
    double brightest = 0, worst = 0;
    for (std::size_t k = 0; k < light.size(); ++k) {
      brightest = std::max(brightest, summed[k]), worst = std::max(worst, std::abs(light[k] - summed[k]));
    }
    CHECK(summed.back() < 1e-3 * brightest);  // the points do go beyond its end
    CHECK(worst < 5e-5 * brightest);
    CHECK(whole->width2 == testing::approx(images[0].width2 + std::pow(part * length, 2) / 12).epsilon(1e-6));
  }
}

TEST_CASE("rows of a strip are what its points are, and its light is all there") {
  const Setting setting = setting_of(trough(4e-3, 0, 0.01, 0.5));
  MirrorSample strip{0, setting.patches[0].at(0.3, 0.5), 0};
  strip.strip = Vector3(0, 0.1, 0);
  const auto image = image_of(strip, setting.blurs[0], setting.receiver, setting.sun, 7);
  const PlaneGrid grid{image->x0 - 0.03, image->y0 - 0.1, 5e-4, 5e-4, 121, 401};
  Effort effort;
  const std::vector<double> rows = field_on_grid({*image}, true, grid, effort);
  PlanePoints points;
  double power = 0;
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) points.x.push_back(grid.x(column)), points.y.push_back(grid.y(row));
  }
  const std::vector<double> alone = field_at_points({*image}, true, points, effort);
  for (std::size_t k = 0; k < rows.size(); ++k) {
    power += rows[k] * grid.step_x * grid.step_y;
    REQUIRE(std::abs(rows[k] - alone[k]) < 1e-5 * 7 / (0.1 * 0.01));
  }
  CHECK(power == testing::approx(7).epsilon(3e-4));
}

TEST_CASE("troughs fall in strips where the target lies along them and nothing has sharp edges, and only there") {
  CHECK(setting_of(trough(4e-3, 0, 0.02, 0.3)).counts[0].strips);
  Scene turned = trough(4e-3, 0, 0, 0);
  turned.targets[0].pose.turn = Eigen::AngleAxisd(0.1, Vector3::UnitZ()).toRotationMatrix();
  CHECK_FALSE(setting_of(turned).counts[0].strips);
  turned.targets[0].shades = false;  // no shadow tells
  CHECK_FALSE(setting_of(turned).counts[0].strips);
  Scene round = trough(4e-3, 0, 0, 0);
  round.targets[0].shape = DiskTarget{0.08};
  CHECK_FALSE(setting_of(round).counts[0].strips);
  CHECK_FALSE(setting_of(trough(0, 0, 0, 0)).counts[0].strips);
  Scene dish = trough(4e-3, 0, 0, 0);
  dish.reflectors[0].shape = Paraboloid{0.3, 0.6, 0};
  CHECK_FALSE(setting_of(dish).counts[0].strips);
}
