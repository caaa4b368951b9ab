// SPDX-License-Identifier: MIT
// The shapes of targets. Each says its word, its sizes and its faces; all else follows from the faces (shape/target_face.h).
//
// Own frame: a disk or rectangle lies in z = 0 and its front faces -z, toward the mirrors. Sizes in metres, from 0.1 mm to 1 km.
#pragma once

#include <string_view>
#include <tuple>
#include <vector>

#include "shape/target_face.h"

namespace dishwright {

struct DiskTarget {
  static constexpr std::string_view word = "disk";
  double width = 0;  ///< diameter [m]
  auto values() const { return std::tie(width); }
  std::vector<TargetFace> faces() const;
};

struct RectangleTarget {
  static constexpr std::string_view word = "rectangle";
  double width = 0, length = 0;  ///< along x, along y [m]
  auto values() const { return std::tie(width, length); }
  std::vector<TargetFace> faces() const;
};

/// Its axis along y, its ends open.
struct TubeTarget {
  static constexpr std::string_view word = "tube";
  double width = 0, length = 0;  ///< diameter, along y [m]
  auto values() const { return std::tie(width, length); }
  std::vector<TargetFace> faces() const;
};

struct BallTarget {
  static constexpr std::string_view word = "ball";
  double width = 0;  ///< diameter [m]
  auto values() const { return std::tie(width); }
  std::vector<TargetFace> faces() const;
};

/// Its base centre at the origin, its lid at +z; base and side count.
struct PotTarget {
  static constexpr std::string_view word = "pot";
  double width = 0, height = 0;  ///< diameter, base to lid [m]
  auto values() const { return std::tie(width, height); }
  std::vector<TargetFace> faces() const;
};

/// A place without a body, for sound and radio.
struct PointTarget {
  static constexpr std::string_view word = "point";
  static constexpr double width = 0;
  auto values() const { return std::tie(width); }
  std::vector<TargetFace> faces() const { return {}; }
};

}  // namespace dishwright
