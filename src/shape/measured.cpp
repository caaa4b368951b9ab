// SPDX-License-Identifier: MIT
#include "shape/measured.h"

#include <fmt/format.h>

namespace dishwright {

PlanOutline Measured::plan() const {
  PlanOutline plan = length > 0 ? rectangle(width, length) : ring(width, hole_width);
  plan.x_middle = middle_x, plan.y_middle = middle_y;
  plan.x_from += middle_x, plan.x_to += middle_x, plan.y_from += middle_y, plan.y_to += middle_y;
  return plan;
}

std::string Measured::details(const LengthWords& say) const {
  return fmt::format(", from {} readings about {} apart; light along its axis meets at {}", readings, say.rough(spacing),
                     say.place(meets_at));
}

}  // namespace dishwright
