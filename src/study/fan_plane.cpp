// SPDX-License-Identifier: MIT
#include "study/fan_plane.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace dishwright {

namespace {

constexpr int side = 64;               // bins of a grid, each way
constexpr int stride = side + 1;       // from row to row: a box at the edge may stick out
constexpr double least_rate = 0.05;    // of a ray through a plane: 3 degrees
constexpr double wide_light = 4;       // rms widths of the light on a plane that are looked at
constexpr double tails = 3;            // of a Gaussian that are kept [rms]
constexpr double least_spread = 1e-5;  // [m]
constexpr int most_parts = 16;         // of a tube, each way
constexpr double most_stretch = 10;

}  // namespace

/// A tube where it crosses the plane: a parallelogram, in the plane's own axes.
struct FanGrid::Tube {
  double x, y, ux, uy, vx, vy;  // [m]
  double power, skin, blur;     // [W, m, m]
  double way;                   // [m]
  Vector3 at, at_u, at_v;       // the same in the frame [m]
};

FanPlane plane_across(const LightFan& fan, const Vector3& origin, const Vector3& normal) {
  FanPlane plane{origin, normal, normal.unitOrthogonal()};
  const Vector3 slant = fan.along - fan.along.dot(normal) * normal;
  if (slant.norm() > 1e-3) plane.east = slant.normalized();
  return plane;
}

FanGrid::FanGrid(const LightFan& fan, const FanPlane& plane, const std::vector<FanWall>& walls,
                 const std::optional<PlaneBox>& window, const Sun* sun)
    : plane_(plane), north_(plane.normal.cross(plane.east)) {
  const std::vector<Tube> tubes = tubes_of(fan);
  bins_.assign(static_cast<std::size_t>(stride) * stride, 0);
  if (tubes.empty()) return;
  if (!plane.any_way) stretch_ = 1 / std::max(1 / most_stretch, std::abs(fan.along.dot(plane.normal)));
  find_blur(tubes);
  if (window) {
    box_ = *window;
  } else {
    find_box(tubes);
  }
  step_x_ = (box_.high_x - box_.low_x) / side, step_y_ = (box_.high_y - box_.low_y) / side;
  lay(tubes, walls);
  spread(sun);
  const float per_area = static_cast<float>(1 / (step_x_ * step_y_));
  for (float& bin : bins_) bin *= per_area;
}

std::vector<FanGrid::Tube> FanGrid::tubes_of(const LightFan& fan) const {
  std::vector<Tube> tubes;
  tubes.reserve(fan.beams.size());
  for (const Beamlet& beam : fan.beams) {
    const double rate = beam.along.dot(plane_.normal), way = (plane_.origin - beam.from).dot(plane_.normal) / rate;
    if (!(plane_.both ? std::abs(rate) > least_rate : rate > least_rate) || !(way > 0)) continue;
    Tube tube;
    tube.at = beam.from + way * beam.along - plane_.origin;
    tube.at_u = beam.from_u + way * beam.along_u, tube.at_v = beam.from_v + way * beam.along_v;
    tube.at_u -= tube.at_u.dot(plane_.normal) / rate * beam.along, tube.at_v -= tube.at_v.dot(plane_.normal) / rate * beam.along;
    tube.x = tube.at.dot(plane_.east), tube.y = tube.at.dot(north_);
    tube.ux = tube.at_u.dot(plane_.east), tube.uy = tube.at_u.dot(north_);
    tube.vx = tube.at_v.dot(plane_.east), tube.vy = tube.at_v.dot(north_);
    tube.power = plane_.any_way ? beam.power / std::abs(rate) : beam.power;
    tube.way = way, tube.skin = way * beam.skin, tube.blur = way * beam.blur;
    tubes.push_back(tube);
  }
  return tubes;
}

/// The box around the bulk of the light.
void FanGrid::find_box(const std::vector<Tube>& tubes) {
  double power = 0, x = 0, y = 0, xx = 0, yy = 0;
  for (const Tube& one : tubes) {
    power += one.power, x += one.power * one.x, y += one.power * one.y;
    xx += one.power * one.x * one.x, yy += one.power * one.y * one.y;
  }
  x /= power, y /= power;
  const double wide_x = wide_light * std::sqrt(std::max(0.0, xx / power - x * x)),
               wide_y = wide_light * std::sqrt(std::max(0.0, yy / power - y * y));
  box_ = {x, x, y, y};
  for (const Tube& one : tubes) {
    const double half_x = (std::abs(one.ux) + std::abs(one.vx)) / 2, half_y = (std::abs(one.uy) + std::abs(one.vy)) / 2;
    box_.low_x = std::min(box_.low_x, std::max(one.x - half_x, x - wide_x));
    box_.high_x = std::max(box_.high_x, std::min(one.x + half_x, x + wide_x));
    box_.low_y = std::min(box_.low_y, std::max(one.y - half_y, y - wide_y));
    box_.high_y = std::max(box_.high_y, std::min(one.y + half_y, y + wide_y));
  }
  const double room = tails * blur_ + least_spread;
  box_.low_x -= room * stretch_, box_.high_x += room * stretch_, box_.low_y -= room, box_.high_y += room;
}

void FanGrid::find_blur(const std::vector<Tube>& tubes) {
  double power = 0, skin = 0, blur = 0, way = 0;
  for (const Tube& one : tubes)
    power += one.power, skin += one.power * one.skin * one.skin, blur += one.power * one.blur * one.blur,
        way += one.power * one.way;
  skin_ = std::sqrt(skin / power), blur_ = std::sqrt(blur / power), way_ = way / power;
}

/// A box of at most a bin's size, shared between the bins that it touches: boxes side by side make even light. In bins.
inline void FanGrid::lay_box(float column, float row, float per_x, float per_y, float power) {
  if (!(column > 0 && row > 0 && column < side && row < side)) return;
  const int i = static_cast<int>(column), j = static_cast<int>(row);
  const float left = std::min(1.0F, (static_cast<float>(i + 1) - column) * per_x),
              low = std::min(1.0F, (static_cast<float>(j + 1) - row) * per_y);
  float* bin = &bins_[static_cast<std::size_t>(j * stride + i)];
  bin[0] += power * left * low, bin[1] += power * (1 - left) * low;
  bin[stride] += power * left * (1 - low), bin[stride + 1] += power * (1 - left) * (1 - low);
}

void FanGrid::lay(const std::vector<Tube>& tubes, const std::vector<FanWall>& walls) {
  const auto past_a_wall = [&](const Vector3& at) {
    return std::any_of(walls.begin(), walls.end(), [&](const FanWall& wall) { return wall.inward.dot(at) < wall.level; });
  };
  const double per_x = 1 / step_x_, per_y = 1 / step_y_;
  for (const Tube& one : tubes) {
    const double ux = one.ux * per_x, uy = one.uy * per_y, vx = one.vx * per_x, vy = one.vy * per_y;
    const int u_parts = std::clamp(static_cast<int>(std::ceil(std::max(std::abs(ux), std::abs(uy)))), 1, most_parts),
              v_parts = std::clamp(static_cast<int>(std::ceil(std::max(std::abs(vx), std::abs(vy)))), 1, most_parts);
    const float power = static_cast<float>(one.power / (u_parts * v_parts));
    const double wide_x = std::clamp(std::abs(ux) / u_parts + std::abs(vx) / v_parts, 1e-3, 1.0),
                 wide_y = std::clamp(std::abs(uy) / u_parts + std::abs(vy) / v_parts, 1e-3, 1.0);
    const double x = (one.x - box_.low_x) * per_x - wide_x / 2, y = (one.y - box_.low_y) * per_y - wide_y / 2;
    for (int i = 0; i < u_parts; ++i) {
      const double u = (i + 0.5) / u_parts - 0.5;
      for (int j = 0; j < v_parts; ++j) {
        const double v = (j + 0.5) / v_parts - 0.5;
        if (!walls.empty() && past_a_wall(plane_.origin + one.at + u * one.at_u + v * one.at_v)) continue;
        lay_box(static_cast<float>(x + u * ux + v * vx), static_cast<float>(y + u * uy + v * vy), static_cast<float>(1 / wide_x),
                static_cast<float>(1 / wide_y), power);
      }
    }
  }
}

/// What the bins spread already is taken off: a twelfth of a bin's square.
void FanGrid::spread(const Sun* sun) {
  const double rms = sun != nullptr && sun->half_angle > 0 ? skin_ : blur_;
  if (sun != nullptr && sun->half_angle > 0) spread_disc(*sun);
  const auto rest = [](double bins) { return std::sqrt(std::max(0.0, bins * bins - 1.0 / 12)); };
  spread_gauss(rest(rms * stretch_ / step_x_), rest(rms / step_y_));
}

void FanGrid::spread_gauss(double bins_x, double bins_y) {
  constexpr double least = 0.2;
  std::vector<float> line(side), kernel;
  const auto run = [&](double rms, std::size_t step, std::size_t next) {
    if (rms < least) return;
    const int reach = std::min(side - 1, static_cast<int>(std::ceil(tails * rms)));
    kernel.assign(static_cast<std::size_t>(reach) + 1, 0);
    float sum = 0;
    for (int k = 0; k <= reach; ++k) {
      kernel[static_cast<std::size_t>(k)] = static_cast<float>(std::exp(-k * k / (2 * rms * rms)));
      sum += (k == 0 ? 1.0F : 2.0F) * kernel[static_cast<std::size_t>(k)];
    }
    for (std::size_t other = 0; other < side; ++other) {
      std::fill(line.begin(), line.end(), 0.0F);
      for (int from = 0; from < side; ++from) {
        const float power = bins_[other * next + static_cast<std::size_t>(from) * step] / sum;
        if (power == 0) continue;
        for (int to = std::max(0, from - reach); to <= std::min(side - 1, from + reach); ++to)
          line[static_cast<std::size_t>(to)] += power * kernel[static_cast<std::size_t>(std::abs(to - from))];
      }
      for (std::size_t to = 0; to < side; ++to) bins_[other * next + to * step] = line[to];
    }
  };
  run(bins_x, 1, stride);
  run(bins_y, stride, 1);
}

/// By the disc itself; an aureole's light is taken as the disc's.
void FanGrid::spread_disc(const Sun& sun) {
  const DiscProfile profile = sun.disc == DiscProfile::uniform ? DiscProfile::uniform : DiscProfile::limb_darkened;
  const DiscSampler disc(profile, sun.half_angle, 0, false);
  const double reach = way_ * sun.half_angle, reach_x = reach * stretch_ / step_x_, reach_y = reach / step_y_;
  if (std::max(reach_x, reach_y) < 0.5) return;
  const int most_x = std::min(side - 1, static_cast<int>(reach_x)), most_y = std::min(side - 1, static_cast<int>(reach_y));
  struct Tap {
    int i, j;
    float weight;
  };
  std::vector<Tap> taps;
  float sum = 0;
  for (int j = -most_y; j <= most_y; ++j) {
    for (int i = -most_x; i <= most_x; ++i) {
      const double away = std::hypot(i / std::max(reach_x, 1e-9), j / std::max(reach_y, 1e-9));
      if (away > 1) continue;
      taps.push_back({i, j, static_cast<float>(disc.relative_radiance(away * sun.half_angle))});
      sum += taps.back().weight;
    }
  }
  const std::vector<float> before = bins_;
  std::fill(bins_.begin(), bins_.end(), 0.0F);
  for (const Tap& tap : taps) {
    const float weight = tap.weight / sum;
    const int first = std::max(0, -tap.i), last = std::min(side, side - tap.i);
    for (int row = std::max(0, -tap.j); row < std::min(side, side - tap.j); ++row) {
      const float* read = &before[static_cast<std::size_t>(row * stride)];
      float* write = &bins_[static_cast<std::size_t>((row + tap.j) * stride)];
      for (int column = first; column < last; ++column) write[column + tap.i] += weight * read[column];
    }
  }
}

PlaneLight FanGrid::brightest() const {
  float most = 0;
  int column = 0, row = 0;
  for (int j = 0; j < side; ++j) {
    for (int i = 0; i < side; ++i) {
      const float here = bins_[static_cast<std::size_t>(j * stride + i)];
      if (here > most) most = here, column = i, row = j;
    }
  }
  if (!(most > 0)) return {};
  const double x = box_.low_x + (column + 0.5) * step_x_, y = box_.low_y + (row + 0.5) * step_y_;
  return {static_cast<double>(most), plane_.origin + x * plane_.east + y * north_};
}

std::optional<PlaneBox> FanGrid::brighter_than(double level) const {
  const float least = static_cast<float>(level);
  int left = side, right = -1, low = side, high = -1;
  for (int row = 0; row < side; ++row) {
    const float* line = &bins_[static_cast<std::size_t>(row * stride)];
    for (int column = 0; column < side; ++column) {
      if (!(line[column] > least)) continue;
      left = std::min(left, column), right = std::max(right, column), low = std::min(low, row), high = std::max(high, row);
    }
  }
  if (right < 0) return std::nullopt;
  return PlaneBox{box_.low_x + left * step_x_, box_.low_x + (right + 1) * step_x_, box_.low_y + low * step_y_,
                  box_.low_y + (high + 1) * step_y_};
}

PlaneBox FanGrid::window_about_brightest() const {
  const Vector3 at = brightest().at - plane_.origin;
  const double x = at.dot(plane_.east), y = at.dot(north_);
  constexpr double bins_about = 2, blurs_about = 5;
  const double half_x = std::max(bins_about * step_x_, blurs_about * blur_ * stretch_ + least_spread),
               half_y = std::max(bins_about * step_y_, blurs_about * blur_ + least_spread);
  return {x - half_x, x + half_x, y - half_y, y + half_y};
}

PlaneLight brightest_on_plane(const LightFan& fan, const FanPlane& plane, const std::vector<FanWall>& walls, const Sun* sun) {
  const FanGrid whole(fan, plane, walls);
  if (whole.brightest().irradiance <= 0) return {};
  return FanGrid(fan, plane, walls, whole.window_about_brightest(), sun).brightest();
}

}  // namespace dishwright
