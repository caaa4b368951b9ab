// SPDX-License-Identifier: MIT
#include "quadrature/spot.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"

namespace dishwright {

namespace {

/// Part of a cell that lies within a circle about the origin: share of its area, and the place of that part's centre.
struct Covered {
  double share = 1, x = 0, y = 0;  // x, y from the cell's centre [m]
};

Covered covered(double x, double y, double width, double height, double radius) {
  const double far = std::hypot(std::abs(x) + width / 2, std::abs(y) + height / 2);
  if (far <= radius) return {};
  const double near = std::hypot(std::max(0.0, std::abs(x) - width / 2), std::max(0.0, std::abs(y) - height / 2));
  if (near >= radius) return {0, 0, 0};
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

/// Sums over the face while its cells are gone through.
struct Moments {
  double power = 0, x = 0, y = 0, r2 = 0;
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
  const std::vector<double> field = field_on_grid(images, front, grid, effort);

  FaceLight out;
  out.irradiance.assign(static_cast<std::size_t>(face.columns) * static_cast<std::size_t>(face.rows), 0);
  Moments sums;
  const double area = grid.step_x * grid.step_y, radius = (face.x_to - face.x_from) / 2,
               spread_x = grid.step_x * grid.step_x / 12, spread_y = grid.step_y * grid.step_y / 12;  // variances of a cell
  for (int row = 1; row + 1 < grid.rows; ++row) {
    const double y = grid.y(row);
    const double* here = field.data() + static_cast<std::ptrdiff_t>(row) * grid.columns;
    const double *above = here + grid.columns, *below = here - grid.columns;
    double* to = out.irradiance.data() + static_cast<std::ptrdiff_t>((row - 1) / parts_y) * face.columns;
    for (int column = 1; column + 1 < grid.columns; ++column) {
      const double bend = here[column - 1] + here[column + 1] + above[column] + below[column] - 4 * here[column];
      double mean = here[column] + bend / 24;
      if (mean == 0) continue;
      double x = grid.x(column), place_y = y, share = 1;
      const double slope_x = (here[column + 1] - here[column - 1]) / (2 * grid.step_x),
                   slope_y = (above[column] - below[column]) / (2 * grid.step_y);
      if (face.round) {
        const Covered part = covered(x, y, grid.step_x, grid.step_y, radius);
        if (part.share <= 0) continue;
        if (part.share < 1) {
          mean += part.x * slope_x + part.y * slope_y;
          mean *= part.share, share = part.share;
          x += part.x, place_y += part.y;
        }
      }
      const double power = mean * area;
      to[(column - 1) / parts_x] += mean / (parts_x * parts_y);
      // Inside a cell the light leans to its brighter side: that matters where the edge of the face cuts the light.
      const double lean_x = share * area * slope_x * spread_x, lean_y = share * area * slope_y * spread_y;
      sums.power += power, sums.x += power * x + lean_x, sums.y += power * place_y + lean_y;
      sums.r2 += power * (x * x + place_y * place_y + share * (spread_x + spread_y)) + 2 * (x * lean_x + place_y * lean_y);
    }
  }
  out.power = sums.power;
  if (sums.power > 0) {
    out.centroid = {sums.x / sums.power, sums.y / sums.power};
    out.rms_radius =
        std::sqrt(std::max(0.0, sums.r2 / sums.power - out.centroid[0] * out.centroid[0] - out.centroid[1] * out.centroid[1]));
  }
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
    const int around = all_on ? 12 : 64;
    const Rule rings = gauss_rule(all_on ? 5 : 32);
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
  search.look(x, y, disc / 6, 2 * static_cast<int>(std::ceil(half / disc * 6)) + 1, 3);
  search.settle_at_edge(x, y);
  return Peak{search.mean(x, y), search.whole(x, y) ? 1e-4 : 1e-3, x, y};
}

double disc_mean(const PeakField& field, double disc, double x, double y) { return PeakSearch(field, disc).mean(x, y); }

}  // namespace dishwright
