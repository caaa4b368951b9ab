// SPDX-License-Identifier: MIT
// The brightest disc of a face from counts in a window about it: smooth surfaces through the counts, not single noisy discs.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "base/vector.h"

namespace dishwright {

/// Counts about the brightest place, by replicate, on a grid of equal cells.
struct PeakCounts {
  static constexpr int cells = 64;                    ///< of the window, each way
  double half_x = 0, half_y = 0;                      ///< the window reaches this far from its middle each way [m]
  double start_x = 0, start_y = 0;                    ///< where the search begins, from the window's middle [m]
  double disc = 0;                                    ///< diameter of the disc over which the peak is averaged [m]
  std::vector<double> paths;                          ///< by replicate
  const std::vector<std::int64_t>* weight = nullptr;  ///< by replicate, row and column, from the window's low corner
  std::vector<double> on_face;                        ///< by row and column: share of the cell that is face
  std::vector<double> facing;                         ///< by row and column: cosine of the face's normal there with the window's
  std::function<void(double& x, double& y)>
      keep_on_face;  ///< moves a disc's middle [m] to the nearest place that has the disc on the face
};

/// Weight per path and area [1/m²] of the brightest disc.
struct FoundPeak {
  double value = 0;
  std::vector<double> without_one;  ///< the same from all replicates but one; empty below two replicates
  double x = 0, y = 0;              ///< middle of the disc, from the window's middle; 0 where single discs were counted [m]
  double reach_x = 0, reach_y = 0;  ///< half widths of the part of the window that the surface went through; 0 without one [m]
};

/// Half widths of the parts of the window that are tried, as shares of the window's own.
inline constexpr std::array<double, 6> peak_parts = {1, 0.7, 0.5, 0.35, 0.25, 1.0 / 6};
/// Below so many whole paths in the window the place of the peak cannot be told.
inline constexpr double least_peak_paths = 50;

/// The maximum over places of the mean over a disc, from whole-number counts.
///
/// In a rectangle of the window a polynomial of the fourth degree is laid through the counts (least squares); its mean over a
/// disc is
/// exact: f + a²/8 Δf + a⁴/192 Δ²f. The rectangle is the one with the most light in which the polynomials of the second and of
/// the fourth degree agree about its middle within the noise. Two halves of the replicates each name the brightest place of their
/// own surface; the surface of all is read at both. Each half flatters the place that it found by as much as the other half,
/// which did not look for it, puts it down, so that the sum has no bias to second order of the noise. Where no rectangle will do,
/// single discs are
/// counted: the two halves each measure the disc that the other found.
/// Empty where too little light came. Decision 16 tells how it was measured.
std::optional<FoundPeak> find_peak(const PeakCounts& counts);

}  // namespace dishwright
