// SPDX-License-Identifier: MIT
#include "base/tape_marks.h"

#include <fmt/format.h>

#include <cmath>
#include <numeric>

namespace dishwright {

std::string tape_inches(double metres, int parts) {
  const long long marks = std::llround(std::abs(metres) / 0.0254 * parts);
  const long long whole = marks / parts, rest = marks % parts, common = std::gcd(rest, static_cast<long long>(parts));
  const std::string sign = metres < 0 && marks > 0 ? "-" : "";
  if (rest == 0) return fmt::format("{}{} in", sign, whole);
  const std::string fraction = fmt::format("{}/{}", rest / common, parts / common);
  return whole == 0 ? fmt::format("{}{} in", sign, fraction) : fmt::format("{}{} {} in", sign, whole, fraction);
}

std::string tape_millimetres(double metres) {
  const double size = metres * 1e3;
  if (std::abs(size) >= 3) return fmt::format("{:.0f} mm", size);
  const double half = std::round(2 * size) / 2 + 0.0;
  return half == std::round(half) ? fmt::format("{:.0f} mm", half) : fmt::format("{:.1f} mm", half);
}

}  // namespace dishwright
