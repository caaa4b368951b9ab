// SPDX-License-Identifier: MIT
#include "shape/hyperboloid.h"

namespace dishwright {

std::vector<ShapeProblem> Hyperboloid::problems(const std::string& /*called*/) const {
  return wrong_foci(near_focus, far_focus, "such a hyperboloid is flat", "write shape = \"flat\", or make far_focus larger");
}

}  // namespace dishwright
