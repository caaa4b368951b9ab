// SPDX-License-Identifier: MIT
#include "report/trace/text_map.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

constexpr int most_columns = 41, most_rows = 25, stretched_rows = 13, fewest_columns = 15, fewest_rows = 7;
constexpr double cell_shape = 2;         // a terminal's cell: height / width
constexpr double outside_share = 0.005;  // of the light that each end of an axis may cut off

struct Range {
  double from = 0, to = 0;
  double length() const { return to - from; }
};

double bin(const MapFace& face, int row, int column) {
  return face.irradiance[static_cast<std::size_t>(row * face.columns + column)];
}

/// The part of an axis that holds all but outside_share of the light at each end, with a little air around, on the face.
Range lit_part(const std::vector<double>& light, const Range& whole) {
  double total = 0;
  for (const double value : light) total += value;
  const double step = whole.length() / static_cast<double>(light.size());
  std::size_t first = 0, last = light.size();
  for (double sum = 0; first + 1 < last && (sum += light[first]) <= outside_share * total;) ++first;
  for (double sum = 0; last > first + 1 && (sum += light[last - 1]) <= outside_share * total;) --last;
  Range part{whole.from + static_cast<double>(first) * step, whole.from + static_cast<double>(last) * step};
  const double air = 0.05 * part.length();
  return {std::max(whole.from, part.from - air), std::min(whole.to, part.to + air)};
}

struct Grid {
  Range x, y;
  int columns = most_columns, rows = most_rows;
  bool stretched = false;
  std::vector<double> cells;  // row 0 is the lowest
};

/// Columns and rows that show the part at its true shape; a long thin part is stretched to stay readable.
void choose_size(Grid& grid) {
  const double shape = grid.y.length() / grid.x.length() / cell_shape;  // rows a column
  double columns = most_columns, rows = most_columns * shape;
  if (rows > most_rows) {
    rows = most_rows;
    columns = most_rows / shape;
  }
  grid.stretched = columns < fewest_columns || rows < fewest_rows;
  // Odd counts: a spot in the middle has a middle cell.
  const auto odd = [](double count) { return 2 * static_cast<int>(count / 2) + 1; };
  grid.columns = grid.stretched ? most_columns : odd(columns);
  grid.rows = grid.stretched ? stretched_rows : odd(rows);
}

/// Overlap of bin i (of `count` over `whole`) with [from, to], in bin widths.
double overlap(const Range& whole, int count, int i, double from, double to) {
  const double step = whole.length() / count;
  const double a = std::max(from, whole.from + i * step), b = std::min(to, whole.from + (i + 1) * step);
  return std::max(0.0, b - a) / step;
}

/// Mean irradiance over a cell: bins weighted by their overlap.
double cell_mean(const MapFace& face, const Range& x, const Range& y) {
  const Range across{face.x_from, face.x_to}, up{face.y_from, face.y_to};
  const auto first = [](const Range& whole, int count, double from) {
    return std::clamp(static_cast<int>((from - whole.from) / whole.length() * count), 0, count - 1);
  };
  double light = 0, area = 0;
  for (int row = first(up, face.rows, y.from); row <= first(up, face.rows, y.to); ++row) {
    const double high = overlap(up, face.rows, row, y.from, y.to);
    for (int column = first(across, face.columns, x.from); column <= first(across, face.columns, x.to); ++column) {
      const double part = high * overlap(across, face.columns, column, x.from, x.to);
      light += part * bin(face, row, column);
      area += part;
    }
  }
  return area > 0 ? light / area : 0;
}

Grid sampled(const MapFace& face) {
  std::vector<double> across(static_cast<std::size_t>(face.columns), 0), up(static_cast<std::size_t>(face.rows), 0);
  for (int row = 0; row < face.rows; ++row) {
    for (int column = 0; column < face.columns; ++column) {
      across[static_cast<std::size_t>(column)] += bin(face, row, column);
      up[static_cast<std::size_t>(row)] += bin(face, row, column);
    }
  }
  Grid grid;
  grid.x = lit_part(across, {face.x_from, face.x_to});
  grid.y = lit_part(up, {face.y_from, face.y_to});
  choose_size(grid);
  const double dx = grid.x.length() / grid.columns, dy = grid.y.length() / grid.rows;
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) {
      const Range x{grid.x.from + column * dx, grid.x.from + (column + 1) * dx},
          y{grid.y.from + row * dy, grid.y.from + (row + 1) * dy};
      grid.cells.push_back(cell_mean(face, x, y));
    }
  }
  return grid;
}

char cell_character(double value, double most) {
  if (value <= 0) return ' ';
  const int tenths = static_cast<int>(10 * value / most + 1e-9);  // rounding must not lower a step
  return tenths < 1 ? '.' : static_cast<char>('0' + std::min(9, tenths));
}

/// Decimals that tell the two ends of a range apart to about a hundredth of it.
std::string place(double metres, const Range& range, Units units) {
  const double scale = lengths_per_metre(units), span = range.length() * scale;
  const int decimals = std::clamp(2 - static_cast<int>(std::floor(std::log10(span))), 0, 6);
  const double value = std::abs(metres) < 1e-6 * range.length() ? 0 : metres * scale;
  return fmt::format("{:.{}f}", value, decimals);
}

}  // namespace

const MapFace* hottest_face(const TargetFigures& target) {
  const MapFace* hottest = nullptr;
  double most = 0;
  for (const MapFace& face : target.map) {
    for (const double value : face.irradiance) {
      if (value <= most) continue;
      most = value;
      hottest = &face;
    }
  }
  return hottest;
}

std::string text_map(const TargetFigures& target, Units units, const LightUnits& light) {
  const MapFace* face = hottest_face(target);
  if (face == nullptr) return "";
  const Grid grid = sampled(*face);
  const double most = *std::max_element(grid.cells.begin(), grid.cells.end());
  const std::string unit = length_unit(units), top = place(grid.y.to, grid.y, units), bottom = place(grid.y.from, grid.y, units);
  const int margin = 4 + std::max(characters(top), characters(bottom));

  std::string out = flush_left("", margin) + fmt::format("{} [{}], upward\n", face->up, unit);
  for (int row = grid.rows - 1; row >= 0; --row) {
    out += flush_right(row == grid.rows - 1 ? top : row == 0 ? bottom : "", margin - 1) + "|";
    for (int column = 0; column < grid.columns; ++column)
      out += cell_character(grid.cells[static_cast<std::size_t>(row * grid.columns + column)], most);
    out += "|\n";
  }
  const std::string left = place(grid.x.from, grid.x, units), right = place(grid.x.to, grid.x, units);
  const std::string name = fmt::format("{} [{}]", face->across, unit);
  const int middle = std::max(grid.columns - characters(left) - characters(right), characters(name) + 2);
  out += flush_left("", margin) + left + flush_left(flush_right(name, (middle + characters(name)) / 2), middle) + right + "\n";
  out += wrapped(
      fmt::format(
          "9 = at least nine tenths of the brightest cell ({}), 8 = eight tenths, and so on; a dot = lit, but under a tenth; "
          "blank = dark.{}",
          irradiance_text({most, std::nullopt, light.si}, light),
          grid.stretched ? " The lit part is long and thin, so it is drawn stretched: go by the numbers at the ends." : ""),
      "  ", "  ");
  return out;
}

}  // namespace dishwright
