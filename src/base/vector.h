// SPDX-License-Identifier: MIT
// Points and turns in space.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace dishwright {

using Vector3 = Eigen::Vector3d;
using Matrix3 = Eigen::Matrix3d;

}  // namespace dishwright
