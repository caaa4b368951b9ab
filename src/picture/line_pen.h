// SPDX-License-Identifier: MIT
// Pens that tell the lines of a chart apart.
#pragma once

#include <cstddef>

#include "picture/canvas.h"

namespace dishwright {

/// Dashes tell lines apart; ink of different depth helps where there is colour. All are dark enough to read on paper. They repeat after 8.
Pen line_pen(std::size_t number);

}  // namespace dishwright
