// SPDX-License-Identifier: MIT
// How the lines of a chart are told apart.
#pragma once

#include <cstddef>

#include "picture/canvas.h"

namespace dishwright {

/// How line number `number` (from 0) is drawn. Dashes tell lines apart; ink of different depth helps where there is colour. All are
/// dark enough to read on paper. They repeat after 8.
struct ChartLineStyle {
  Dash dash = Dash::solid;
  Colour colour;
};
ChartLineStyle chart_line_style(std::size_t number);
/// A pen of that style; the first four are wider.
Pen line_pen(std::size_t number);

}  // namespace dishwright
