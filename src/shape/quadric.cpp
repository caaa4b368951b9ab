// SPDX-License-Identifier: MIT
#include "shape/quadric.h"

namespace dishwright {

// The two kinds of number that the tracer uses.
template struct Quadric<float>;
template struct Quadric<double>;
template struct Region<float>;
template struct Region<double>;

}  // namespace dishwright
