// SPDX-License-Identifier: MIT
// Which part of a map is worth showing, and where its light lies.
#pragma once

#include <array>

#include "picture/axes.h"
#include "result/figures.h"

namespace dishwright {

/// The whole face as a window [m].
MapWindow whole_window(const MapFace& face);

/// The window to show [m]: the whole face; a square around the spot where the light fills little of a disk or rectangle (90 %
/// width below 3/10 of its smaller side); a piece about the middle of the light where a face is more than six times as long as
/// wide.
MapWindow map_view(const TargetFigures& figures, const MapFace& face);

/// Centroid of the light on this face [m]; the middle of the face without light.
std::array<double, 2> light_centre(const MapFace& face);

/// Share of the light on all faces that falls on this one [1]; 0 without light.
double face_share(const TargetFigures& figures, const MapFace& face);

/// Diameter of the circle about the light's centroid on this face that holds a share of the light on it [m]; 0 without light.
double share_width(const MapFace& face, double share);

}  // namespace dishwright
