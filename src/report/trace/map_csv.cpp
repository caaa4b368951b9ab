// SPDX-License-Identifier: MIT
#include "report/trace/map_csv.h"

#include <fmt/format.h>

#include <cmath>
#include <iterator>
#include <string>
#include <vector>

#include "base/csv.h"

namespace dishwright {

bool on_face(const MapFace& face, double x, double y) {
  const double across = (2 * x - face.x_from - face.x_to) / (face.x_to - face.x_from);  // -1 … 1
  const double up = (2 * y - face.y_from - face.y_to) / (face.y_to - face.y_from);
  if (face.round) return across * across + up * up <= 1;
  return std::abs(across) <= 1 && std::abs(up) <= 1;
}

namespace {

/// Centre of bin i; rounding noise about 0 is cleared.
double centre(double from, double to, int count, int i) {
  const double x = from + (i + 0.5) * (to - from) / count;
  return std::abs(x) < 1e-9 * (to - from) ? 0 : x;
}

}  // namespace

std::string map_csv(const TargetFigures& target, Units units, const LightUnits& light) {
  const std::string unit = length_unit(units);
  const double scale = lengths_per_metre(units);
  std::string out = fmt::format("face,x [{0}],y [{0}],{1} [{2}]\n", unit, light.quantity, light.in_tables);
  std::vector<double> x;
  std::vector<std::string> x_text;
  for (const MapFace& face : target.map) {
    const std::string name = csv_text(face.name);
    x.clear(), x_text.clear();
    for (int column = 0; column < face.columns; ++column) {
      x.push_back(centre(face.x_from, face.x_to, face.columns, column));
      x_text.push_back(fmt::format("{},{:.7g},", name, x.back() * scale));
    }
    for (int row = 0; row < face.rows; ++row) {
      const double y = centre(face.y_from, face.y_to, face.rows, row);
      const std::string y_text = fmt::format("{:.7g},", y * scale);
      for (std::size_t column = 0; column < x.size(); ++column) {
        if (!on_face(face, x[column], y)) continue;
        const std::size_t place = static_cast<std::size_t>(row) * x.size() + column;
        out.append(x_text[column]).append(y_text);
        fmt::format_to(std::back_inserter(out), "{:.6g}\n", face.irradiance[place] * light.per_si);
      }
    }
  }
  return out;
}

}  // namespace dishwright
