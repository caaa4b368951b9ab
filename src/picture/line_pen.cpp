// SPDX-License-Identifier: MIT
#include "picture/line_pen.h"

#include <array>

namespace dishwright {

ChartLineStyle chart_line_style(std::size_t number) {
  static constexpr Colour black{29, 29, 31}, brick{158, 58, 38}, plum{98, 38, 84}, umber{118, 78, 16};
  static constexpr std::array<ChartLineStyle, 8> styles{{{Dash::solid, black},
                                                         {Dash::dashed, brick},
                                                         {Dash::dotted, plum},
                                                         {Dash::dash_dot, umber},
                                                         {Dash::long_dash, black},
                                                         {Dash::dotted, brick},
                                                         {Dash::solid, umber},
                                                         {Dash::dash_dot, plum}}};
  return styles[number % styles.size()];
}

Pen line_pen(std::size_t number) {
  const ChartLineStyle style = chart_line_style(number);
  Pen pen;
  pen.width = number < 4 ? 3.2 : 2.0;
  pen.dash = style.dash, pen.colour = style.colour;
  return pen;
}

}  // namespace dishwright
