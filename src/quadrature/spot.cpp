// SPDX-License-Identifier: MIT
#include "quadrature/spot.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"
#include "quadrature/between.h"

namespace dishwright {

namespace {

/// Part of a cell that lies within a circle about the origin: share of its area, and the place of that part's centre.
struct Covered {
  double share = 1, x = 0, y = 0;  // x, y from the cell's centre [m]
};

Covered covered(double x, double y, double width, double height, double radius) {
  const auto square = [](double a, double b) { return a * a + b * b; };
  const double far2 = square(std::abs(x) + width / 2, std::abs(y) + height / 2);
  if (far2 <= radius * radius) return {};
  const double near2 = square(std::max(0.0, std::abs(x) - width / 2), std::max(0.0, std::abs(y) - height / 2));
  if (near2 >= radius * radius) return {0, 0, 0};
  // Strips along x.
  constexpr int strips = 16;
  Covered out{0, 0, 0};
  for (int k = 0; k < strips; ++k) {
    const double dy = ((k + 0.5) / strips - 0.5) * height, half = std::sqrt(std::max(0.0, radius * radius - (y + dy) * (y + dy)));
    const double from = std::clamp(-half - x, -width / 2, width / 2), to = std::clamp(half - x, -width / 2, width / 2);
    const double share = (to - from) / width / strips;
    out.share += share;
    out.x += share * (from + to) / 2;
    out.y += share * dy;
  }
  if (out.share > 0) out.x /= out.share, out.y /= out.share;
  return out;
}

/// A face's cells, gone through row by row: their means, and sums over the face.
class CellSums {
 public:
  CellSums(const PlaneGrid& grid, const std::vector<double>& field, const MapFace& face)
      : grid_(grid),
        field_(field),
        round_(face.round),
        radius_((face.x_to - face.x_from) / 2),
        area_(grid.step_x * grid.step_y) {}

  /// Adds the row's cells; their light over their areas goes to `means` [W/m²].
  void add_row(int row, std::vector<double>& means) {
    const double y = grid_.y(row), far = std::abs(y) + grid_.step_y / 2, half2 = radius_ * radius_ - far * far;
    // The columns whose cells lie on the face with all of them; of a rectangle all do.
    int from = 1, to = grid_.columns - 1;
    if (round_) {
      const double half = half2 > 0 ? std::sqrt(half2) - grid_.step_x / 2 : -1, middle = (grid_.columns - 1) / 2.0;
      const int most = half < 0 ? -1 : static_cast<int>(half / grid_.step_x - 0.5);
      from = std::max(1, static_cast<int>(std::ceil(middle - most))), to = std::min(to, static_cast<int>(middle + most) + 1);
      if (from >= to) from = to = grid_.columns / 2;
    }
    for (int column = 1; column < from; ++column) means[static_cast<std::size_t>(column)] = add_edge(row, column);
    add_inner(row, from, to, means.data());
    for (int column = to; column + 1 < grid_.columns; ++column) means[static_cast<std::size_t>(column)] = add_edge(row, column);
  }
  double power() const { return power_; }
  std::array<double, 2> centroid() const { return {x_ / power_, y_ / power_}; }
  double rms_radius() const {
    const auto [x, y] = centroid();
    return std::sqrt(std::max(0.0, r2_ / power_ - x * x - y * y));
  }

 private:
  /// Field at a cell's middle and differences there.
  struct Cell {
    double mean, slope_x, slope_y;
  };
  const double* at(int row) const { return field_.data() + static_cast<std::ptrdiff_t>(row) * grid_.columns; }
  static Cell cell(const double* here, const double* above, const double* below, int column, double per_2x, double per_2y) {
    const double bend = here[column - 1] + here[column + 1] + above[column] + below[column] - 4 * here[column];
    return {here[column] + bend / 24, (here[column + 1] - here[column - 1]) * per_2x, (above[column] - below[column]) * per_2y};
  }
  // Inside a cell the light leans to its brighter side: that matters where the edge of the face cuts the light.
  void add_inner(int row, int from, int to, double* means) {
    const double *here = at(row), *above = here + grid_.columns, *below = here - grid_.columns;
    const double y = grid_.y(row), step_x = grid_.step_x, step_y = grid_.step_y, x_first = grid_.x_first, area = area_;
    const double lean_x = area * step_x * step_x / 12, lean_y = area * step_y * step_y / 12;
    const double own = (step_x * step_x + step_y * step_y) / 12, per_2x = 0.5 / step_x, per_2y = 0.5 / step_y;
    double power = 0, sum_x = 0, sum_r2 = 0, leans_y = 0;
#pragma omp simd reduction(+ : power, sum_x, sum_r2, leans_y)
    for (int column = from; column < to; ++column) {
      const Cell one = cell(here, above, below, column, per_2x, per_2y);
      means[column] = one.mean;
      const double x = x_first + column * step_x, light = one.mean * area, aside = one.slope_x * lean_x;
      power += light, sum_x += light * x + aside, leans_y += one.slope_y * lean_y;
      sum_r2 += light * (x * x + own) + 2 * x * aside;
    }
    power_ += power, x_ += sum_x, y_ += power * y + leans_y, r2_ += sum_r2 + y * (power * y + 2 * leans_y);
  }
  double add_edge(int row, int column) {
    const double *here = at(row), *above = here + grid_.columns, *below = here - grid_.columns;
    const Cell one = cell(here, above, below, column, 0.5 / grid_.step_x, 0.5 / grid_.step_y);
    if (one.mean == 0) return 0;
    const Covered on = covered(grid_.x(column), grid_.y(row), grid_.step_x, grid_.step_y, radius_);
    if (on.share <= 0) return 0;
    const double mean = on.share * (one.mean + on.x * one.slope_x + on.y * one.slope_y), power = mean * area_;
    const double x = grid_.x(column) + on.x, y = grid_.y(row) + on.y;
    const double spread_x = on.share * grid_.step_x * grid_.step_x / 12, spread_y = on.share * grid_.step_y * grid_.step_y / 12;
    const double lean_x = area_ * one.slope_x * spread_x, lean_y = area_ * one.slope_y * spread_y;
    power_ += power, x_ += power * x + lean_x, y_ += power * y + lean_y;
    r2_ += power * (x * x + y * y + spread_x + spread_y) + 2 * (x * lean_x + y * lean_y);
    return mean;
  }

  const PlaneGrid& grid_;
  const std::vector<double>& field_;
  bool round_;
  double radius_, area_;
  double power_ = 0, x_ = 0, y_ = 0, r2_ = 0;
};

}  // namespace

FaceLight face_light(const std::vector<Image>& images, bool front, const MapFace& face, double sigma, Effort& effort) {
  const double cell_x = (face.x_to - face.x_from) / face.columns, cell_y = (face.y_to - face.y_from) / face.rows;
  const auto parts = [sigma](double cell) { return std::clamp(static_cast<int>(std::ceil(cell / (0.8 * sigma))), 1, 16); };
  const int parts_x = parts(cell_x), parts_y = parts(cell_y);
  // One more cell all round, for the differences.
  PlaneGrid grid;
  grid.step_x = cell_x / parts_x, grid.step_y = cell_y / parts_y;
  grid.columns = face.columns * parts_x + 2, grid.rows = face.rows * parts_y + 2;
  grid.x_first = face.x_from - grid.step_x / 2, grid.y_first = face.y_from - grid.step_y / 2;
  const ThinGrid thin = thin_grid(grid, smoothness(images, front));
  const std::vector<double> field = drawn_between(field_on_grid(images, front, thin.grid, effort), thin, grid);

  FaceLight out;
  out.irradiance.assign(static_cast<std::size_t>(face.columns) * static_cast<std::size_t>(face.rows), 0);
  CellSums sums(grid, field, face);
  const double part_area = 1.0 / (parts_x * parts_y);
  std::vector<double> means(static_cast<std::size_t>(grid.columns));
  for (int row = 1; row + 1 < grid.rows; ++row) {
    sums.add_row(row, means);
    double* to = out.irradiance.data() + static_cast<std::ptrdiff_t>((row - 1) / parts_y) * face.columns;
    const double* mean = means.data() + 1;
    for (int column = 0; column < face.columns; ++column) {
      for (int k = 0; k < parts_x; ++k) to[column] += *mean++ * part_area;
    }
  }
  out.power = sums.power();
  if (out.power > 0) out.centroid = sums.centroid(), out.rms_radius = sums.rms_radius();
  return out;
}

namespace {

/// Looks for the brightest disc in ever smaller squares.
class PeakSearch {
 public:
  PeakSearch(const PeakField& field, double disc) : field_(field), disc_(disc) {}

  /// The brightest of side × side places about (x, y), each the mean over a disc of `reach` steps (0: the place itself).
  void look(double& x, double& y, double step, int side, int reach) const {
    // The field on a grid with room for the disc all round; dark beyond the face.
    PlaneGrid grid;
    grid.step_x = grid.step_y = step;
    grid.columns = grid.rows = side + 2 * reach;
    grid.x_first = x - (grid.columns - 1) / 2.0 * step, grid.y_first = y - (grid.rows - 1) / 2.0 * step;
    std::vector<double> field = field_.on_grid(grid);
    const auto at = [&](int column, int row) -> double& {
      return field[static_cast<std::size_t>(row) * static_cast<std::size_t>(grid.columns) + static_cast<std::size_t>(column)];
    };
    for (int row = 0; row < grid.rows; ++row) {
      for (int column = 0; column < grid.columns; ++column) {
        if (!field_.inside(grid.x(column), grid.y(row), 0)) at(column, row) = 0;
      }
    }
    const auto disc_sum = [&](int column, int row) {
      double sum = 0;
      for (int dr = -reach; dr <= reach; ++dr) {
        for (int dc = -reach; dc <= reach; ++dc) sum += dr * dr + dc * dc <= reach * reach ? at(column + dc, row + dr) : 0;
      }
      return sum;
    };
    // The brightest disc.
    double most = -1;
    int best_column = reach, best_row = reach;
    for (int row = reach; row < grid.rows - reach; ++row) {
      for (int column = reach; column < grid.columns - reach; ++column) {
        const double sum = disc_sum(column, row);
        if (sum > most) most = sum, best_column = column, best_row = row;
      }
    }
    x = grid.x(best_column), y = grid.y(best_row);
    if (reach == 0 || best_column == reach || best_row == reach || best_column + reach + 1 == grid.columns ||
        best_row + reach + 1 == grid.rows)
      return;
    // Between the steps: the top of a parabola each way.
    const auto top = [most](double before, double after) {
      const double bend = before + after - 2 * most;
      return bend < 0 ? std::clamp((before - after) / (2 * bend), -0.5, 0.5) : 0.0;
    };
    x += step * top(disc_sum(best_column - 1, best_row), disc_sum(best_column + 1, best_row));
    y += step * top(disc_sum(best_column, best_row - 1), disc_sum(best_column, best_row + 1));
  }

  /// Does the disc about (x, y) lie on the face?
  bool whole(double x, double y) const { return field_.inside(x, y, (0.5 - 1e-9) * disc_); }

  /// Moves a disc near an edge of the face to the brightest place that has all of it on the face.
  void settle_at_edge(double& x, double& y) const {
    constexpr int finer = 6, most_looks = 40;
    double step = disc_ / 3;
    if (field_.inside(x, y, disc_ / 2 + step)) return;
    field_.keep(x, y, disc_ / 2);
    double most = mean(x, y);
    for (int look = 0, round = 0; look < most_looks && round < finer; ++look) {
      const double from_x = x, from_y = y;
      bool better = false;
      for (int k = 0; k < 9; ++k) {
        double to_x = from_x + (k % 3 - 1) * step, to_y = from_y + (std::floor(k / 3.0) - 1) * step;
        field_.keep(to_x, to_y, disc_ / 2);
        const double value = mean(to_x, to_y);
        if (value > most) most = value, x = to_x, y = to_y, better = true;
      }
      if (!better) step /= 3, ++round;
    }
  }

  /// Mean over the disc about (x, y); what reaches beyond the face counts as dark.
  double mean(double x, double y) const {
    const double half = disc_ / 2;
    const bool all_on = whole(x, y);
    const bool smooth = all_on && disc_ < 0.5 * field_.smooth;
    const int around = smooth ? 8 : all_on ? 12 : 64;
    const Rule rings = gauss_rule(smooth ? 2 : all_on ? 5 : 32);
    PlanePoints points;
    for (const double share : rings.at) {
      for (int k = 0; k < around; ++k) {
        const double radius = half * std::sqrt(share), angle = 2 * std::numbers::pi * (k + 0.5) / around;
        points.x.push_back(x + radius * std::cos(angle)), points.y.push_back(y + radius * std::sin(angle));
      }
    }
    const std::vector<double> values = field_.at_points(points);
    double sum = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (field_.inside(points.x[i], points.y[i], 0))
        sum += rings.weight[i / static_cast<std::size_t>(around)] * values[i] / around;
    }
    return sum;
  }

 private:
  const PeakField& field_;
  double disc_;
};

}  // namespace

PeakField plane_field(const std::vector<Image>& images, const MapFace& face, Effort& effort) {
  PeakField field;
  field.smooth = smoothness(images, true);
  field.on_grid = [&images, &effort](const PlaneGrid& grid) { return field_on_grid(images, true, grid, effort); };
  field.at_points = [&images, &effort](const PlanePoints& points) { return field_at_points(images, true, points, effort); };
  field.keep = [round = face.round, half_x = face.x_to, half_y = face.y_to](double& x, double& y, double margin) {
    const double most_x = std::max(0.0, half_x - margin), most_y = std::max(0.0, half_y - margin), r = std::hypot(x, y);
    if (!round) {
      x = std::clamp(x, -most_x, most_x), y = std::clamp(y, -most_y, most_y);
    } else if (r > most_x) {
      x *= most_x / r, y *= most_x / r;
    }
  };
  field.inside = [round = face.round, half_x = face.x_to, half_y = face.y_to](double x, double y, double margin) {
    if (round) return std::hypot(x, y) + margin <= half_x;
    return std::abs(x) + margin <= half_x && std::abs(y) + margin <= half_y;
  };
  return field;
}

Peak brightest_disc(PeakStart start, double disc) {
  double &x = start.x, &y = start.y, half = start.half;
  const PeakSearch search(start.field, disc);
  while (half > disc / 2) {
    search.look(x, y, half / 3, 7, 0);
    half *= 0.4;
  }
  // At an edge of the target the brightest disc lies half a disc inside of the brightest place.
  half = std::max(half, 0.6 * disc);
  const int steps = disc < 0.5 * start.field.smooth ? 3 : 6;  // to the disc's width; the field may bend in it, or not
  search.look(x, y, disc / steps, 2 * static_cast<int>(std::ceil(half / disc * steps)) + 1, steps / 2);
  search.settle_at_edge(x, y);
  return Peak{search.mean(x, y), search.whole(x, y) ? 1e-4 : 1e-3, x, y};
}

double disc_mean(const PeakField& field, double disc, double x, double y) { return PeakSearch(field, disc).mean(x, y); }

}  // namespace dishwright
