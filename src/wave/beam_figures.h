// SPDX-License-Identifier: MIT
// Width, nulls and side lobes of a beam from its samples and a function that gives it anywhere.
#pragma once

#include <functional>
#include <vector>

#include "wave/pattern.h"

namespace dishwright {

/// `angles` rise in equal steps, fine enough that a lobe holds several; `strength(angle)` is |reflected|. convergence is left
/// empty.
Beam beam_figures(const std::vector<double>& angles, const std::vector<Complex>& reflected,
                  const std::function<double(double)>& strength);

}  // namespace dishwright
