// SPDX-License-Identifier: MIT
// How the lines of a chart are told apart.
#pragma once

#include <cstddef>

#include "picture/pages.h"

namespace dishwright {

/// The pen of line number `number` (from 0) in a picture with type of that size [points]. Dashes tell lines apart; ink of
/// different depth helps where there is colour. All are dark enough to read on paper; the first four are wider. They repeat after
/// 8.
Pen line_pen(std::size_t number, double type);

}  // namespace dishwright
