// SPDX-License-Identifier: MIT
#include "shape/flaws.h"

#include <cmath>
#include <numbers>
#include <vector>

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

struct Columns {
  int n;
  const double *x, *y;
  double *h, *slope_x, *slope_y;
};

void add_rim_sag(const Columns& c, double at_x, double at_y, double x_middle, double y_middle) {
  for (int i = 0; i < c.n; ++i) {
    const double x = c.x[i] - x_middle, y = c.y[i] - y_middle;
    c.h[i] -= at_x * x * x + at_y * y * y;
    c.slope_x[i] -= 2 * at_x * x;
    c.slope_y[i] -= 2 * at_y * y;
  }
}

void add_twist(const Columns& c, double twist, double rim, double x_middle, double y_middle) {
  const double k = twist / rim;
  for (int i = 0; i < c.n; ++i) {
    const double x = c.x[i] - x_middle, y = c.y[i] - y_middle;
    c.h[i] += k * x * y;
    c.slope_x[i] += k * y;
    c.slope_y[i] += k * x;
  }
}

void add_waviness(const Columns& c, const Waviness& wave) {
  const double number = 2 * pi / wave.period, along_x = number * std::cos(wave.direction),
               along_y = number * std::sin(wave.direction);
  for (int i = 0; i < c.n; ++i) {
    const double phase = along_x * c.x[i] + along_y * c.y[i], fall = -wave.amplitude * std::sin(phase);
    c.h[i] += wave.amplitude * std::cos(phase);
    c.slope_x[i] += fall * along_x;
    c.slope_y[i] += fall * along_y;
  }
}

// sin²(nφ/2) = (1 − cos nφ)/2; slopes along r and across it, turned to x and y.
void add_scallop(const Columns& c, const Scallop& scallop, double rim) {
  for (int i = 0; i < c.n; ++i) {
    const double r = std::hypot(c.x[i], c.y[i]);
    if (r == 0) continue;
    const double turn = scallop.ribs * std::atan2(c.y[i], c.x[i]), part = r / rim, hang = (1 - std::cos(turn)) / 2;
    const double along = -2 * scallop.depth * part / rim * hang,
                 across = -scallop.depth * part / rim * scallop.ribs * std::sin(turn) / 2;
    c.h[i] -= scallop.depth * part * part * hang;
    c.slope_x[i] += (along * c.x[i] - across * c.y[i]) / r;
    c.slope_y[i] += (along * c.y[i] + across * c.x[i]) / r;
  }
}

void add_dent(const Columns& c, const Dent& dent) {
  for (int i = 0; i < c.n; ++i) {
    const double dx = c.x[i] - dent.x, dy = c.y[i] - dent.y, r = std::hypot(dx, dy);
    if (r >= dent.width / 2) continue;
    const double phase = pi * r / dent.width, cosine = std::cos(phase);
    c.h[i] -= dent.depth * cosine * cosine;
    const double slope = dent.depth * pi / dent.width * std::sin(2 * phase);
    if (r == 0) continue;
    c.slope_x[i] += slope * dx / r;
    c.slope_y[i] += slope * dy / r;
  }
}

}  // namespace

void QuadricSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  const Quadric<double>& q = quadric_;
  for (int i = 0; i < n; ++i) {
    const double r2 = q.a * x[i] * x[i] + q.b * y[i] * y[i];
    h[i] = r2 > 0 ? bowl_height(q, r2) : 0;
    // Beyond the edge of a ball there is no surface; the slope stays finite.
    const double under = std::max(q.d - q.c * h[i], 1e-3 * q.d);
    slope_x[i] = under > 0 ? q.a * x[i] / under : 0;
    slope_y[i] = under > 0 ? q.b * y[i] / under : 0;
  }
}

FlawedSurface::FlawedSurface(std::shared_ptr<const HeightSurface> base, Flaws flaws, const PlanOutline& plan)
    : base_(std::move(base)),
      flaws_(std::move(flaws)),
      rim_((plan.high_x() - plan.low_x()) / 2),
      half_y_((plan.high_y() - plan.low_y()) / 2),
      x_middle_((plan.low_x() + plan.high_x()) / 2),
      y_middle_((plan.low_y() + plan.high_y()) / 2) {
  if (flaws_.roughness) bumps_ = random_half_paths(*flaws_.roughness, plan);
}

void FlawedSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  base_->heights(n, x, y, h, slope_x, slope_y);
  const Columns columns{n, x, y, h, slope_x, slope_y};
  if (flaws_.rim_sag_x != 0 || flaws_.rim_sag_y != 0)
    add_rim_sag(columns, flaws_.rim_sag_x / (rim_ * rim_), flaws_.rim_sag_y / (half_y_ * half_y_), x_middle_, y_middle_);
  if (flaws_.twist != 0) add_twist(columns, flaws_.twist, rim_, x_middle_, y_middle_);
  if (flaws_.waviness) add_waviness(columns, *flaws_.waviness);
  if (flaws_.scallop) add_scallop(columns, *flaws_.scallop, rim_);
  for (const Dent& dent : flaws_.dents) add_dent(columns, dent);
  if (flaws_.roughness) add_bumps(n, x, y, h, slope_x, slope_y);
}

// Height = half-path × q, q = 1 + slope² of the surface without flaws; the slopes of q by central differences.
void FlawedSurface::add_bumps(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  const double step = 1e-5 * rim_;
  // The place, and one step to each side along x and y.
  constexpr int places = 5;
  const auto count = static_cast<std::size_t>(places * n);
  std::vector<double> at_x(count), at_y(count), height(count), steep_x(count), steep_y(count);
  const double dx[places] = {0, step, -step, 0, 0}, dy[places] = {0, 0, 0, step, -step};
  for (int i = 0; i < n; ++i) {
    for (int k = 0; k < places; ++k) {
      const auto j = static_cast<std::size_t>(places * i + k);
      at_x[j] = x[i] + dx[k], at_y[j] = y[i] + dy[k];
    }
  }
  base_->heights(places * n, at_x.data(), at_y.data(), height.data(), steep_x.data(), steep_y.data());
  for (int i = 0; i < n; ++i) {
    const auto q = [&](int k) {
      const auto j = static_cast<std::size_t>(places * i + k);
      return 1 + steep_x[j] * steep_x[j] + steep_y[j] * steep_y[j];
    };
    const GridHeight bump = bumps_.at(x[i], y[i]);
    h[i] += bump.height * q(0);
    slope_x[i] += bump.slope_x * q(0) + bump.height * (q(1) - q(2)) / (2 * step);
    slope_y[i] += bump.slope_y * q(0) + bump.height * (q(3) - q(4)) / (2 * step);
  }
}

}  // namespace dishwright
