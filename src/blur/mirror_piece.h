// SPDX-License-Identifier: MIT
// A mirror as a list of smooth pieces, each with two parameters: all that the quadrature needs to know of a shape.
#pragma once

#include <functional>
#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// A place on a mirror, in the frame.
struct MirrorPoint {
  Vector3 place = Vector3::Zero();    ///< [m]
  Vector3 normal = Vector3::UnitZ();  ///< unit, on the bright side
  double area = 0;                    ///< surface area per du dv [m²]
};

/// A patch of mirror over 0 <= u, v <= 1, smooth all over. A new shape needs only a function that makes its pieces.
struct MirrorPiece {
  int reflector = 0;    ///< index in Scene::reflectors
  bool closed = false;  ///< v goes round: v = 1 is v = 0 again
  std::function<MirrorPoint(double u, double v)> at;
};

/// The pieces of all mirrors, in file order; none for a shape that is not known here. Bowls: u from hole to rim, v round the axis. Troughs and flats: u across, v along.
std::vector<MirrorPiece> mirror_pieces(const Scene& scene);

}  // namespace dishwright
