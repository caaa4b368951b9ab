// SPDX-License-Identifier: MIT
#include "report/trace/map_csv.h"

#include <fmt/format.h>

#include <cmath>
#include <iterator>

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
  for (const MapFace& face : target.map) {
    const std::string name = csv_text(face.name);
    for (int row = 0; row < face.rows; ++row) {
      for (int column = 0; column < face.columns; ++column) {
        const double x = centre(face.x_from, face.x_to, face.columns, column), y = centre(face.y_from, face.y_to, face.rows, row);
        if (!on_face(face, x, y)) continue;
        const double irradiance = face.irradiance[static_cast<std::size_t>(row * face.columns + column)];
        fmt::format_to(std::back_inserter(out), "{},{:.7g},{:.7g},{:.6g}\n", name, x * scale, y * scale,
                       irradiance * light.per_si);
      }
    }
  }
  return out;
}

}  // namespace dishwright
