// SPDX-License-Identifier: MIT
// Maps for the eye: the grain of the sampling taken off, within stated limits. Tables and EXR files keep the raw bins.
#pragma once

#include "result/figures.h"

namespace dishwright {

struct CalmMap {
  std::vector<double> irradiance;  ///< [W/m²], as in MapFace
  double blur = 0;                 ///< standard deviation of the smoothing along x and y [bins]; 0 = raw
};

/// Random error of one bin, as a share of the bright bins' mean: from fourth differences (1, −4, 6, −4, 1)/√70, which smooth
/// light leaves near 0, along the direction where they are smaller. 0 without light or on faces below 5 × 5 bins.
double map_grain(const MapFace& face);

/// The map after n passes of (1, 2, 1)/4 along x and y, within the face; n is the least that brings the grain below 3 %, at most
/// 12 (a blur of 2.4 bins). n passes leave C(4n, 2n)/16ⁿ of it. Light in sum is kept to first order; edges of the face do not
/// darken.
CalmMap smoothed_map(const MapFace& face);

/// Value of the darkest ink of a target's maps [W/m²]: its peak, so that picture and figure say the same; noise above it is drawn
/// as the peak. Where the brightest bin is off the peak by more than a quarter, as no grain is, it is the ink: light gathered
/// more closely than the peak's disc stands above the peak, bins wider than the spot stay below it.
double darkest_ink(const TargetFigures& target, double brightest_bin);

}  // namespace dishwright
