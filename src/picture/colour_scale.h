// SPDX-License-Identifier: MIT
// The false-colour scale of light maps, "ink on paper": no light is white paper, more light is more ink.
#pragma once

#include <cstdint>

namespace dishwright {

struct Colour {
  std::uint8_t red = 0, green = 0, blue = 0;  ///< sRGB
};

/// CIELAB lightness L* of an sRGB colour, 0 (black) … 100 (white), D65. IEC 61966-2-1 for sRGB, CIE 15 for L*.
double lightness(const Colour& colour);

/// The colour for a share of the scale's top, 0 … 1 (clamped): white, straw, orange, brick, plum, near-black.
///
/// L* falls evenly from 100 to 10, so that equal steps of light are equal steps of grey: a photocopy keeps the whole meaning. Hue
/// and chroma are drawn through control points in OKLab [ottosson2020], where equal distances look equal. Accuracy of L*:
/// one step of an 8-bit channel, about 0.3.
Colour ink_colour(double share);

}  // namespace dishwright
