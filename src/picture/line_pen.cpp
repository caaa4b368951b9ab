// SPDX-License-Identifier: MIT
#include "picture/line_pen.h"

#include <array>

namespace dishwright {

Pen line_pen(std::size_t number, double type) {
  struct Look {
    Dash dash;
    Colour colour;
  };
  static constexpr Colour brick{158, 58, 38}, plum{98, 38, 84}, umber{118, 78, 16};
  static constexpr std::array<Look, 8> looks{{{Dash::solid, ink},
                                              {Dash::dashed, brick},
                                              {Dash::dotted, plum},
                                              {Dash::dash_dot, umber},
                                              {Dash::long_dash, ink},
                                              {Dash::dotted, brick},
                                              {Dash::solid, umber},
                                              {Dash::dash_dot, plum}}};
  const Look& look = looks[number % looks.size()];
  return {(number < 4 ? 0.076 : 0.048) * type, look.colour, look.dash};
}

}  // namespace dishwright
