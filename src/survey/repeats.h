// SPDX-License-Identifier: MIT
// Places that were read more than once: one place is one reading, the mean of its repeats, and the scatter of the repeats is the
// noise.
#pragma once

#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// A reading that its own place speaks against.
struct WildRepeat {
  int row = 0;            ///< row (line) or number of the point in the file
  int other_row = 0;      ///< of another reading of that place
  double off = 0;         ///< its height less the middle of the others at that place, + = toward the sun [m]
  bool set_aside = true;  ///< false: nothing says which of the readings is the wrong one, so their mean counts
  std::size_t place = 0;  ///< number of the place in the merged survey
};

/// Readings put together by place.
struct Repeats {
  SurveyPoints raw;  ///< as read; empty where no place was read twice
  std::vector<std::vector<std::size_t>>
      readings;  ///< of each place: numbers in `raw` that count; empty where no place was read twice
  std::vector<WildRepeat> wild;
  std::size_t read = 0;      ///< readings in all
  std::size_t repeated = 0;  ///< places with more than one reading
  double tolerance = 0;      ///< how far the heights of a place may lie apart before one of them is wild [m]
  bool alike = false;        ///< all repeats are the same to a millionth of the depth: copies, they say nothing of the noise
  double scatter = 0;        ///< of one reading about the mean of its place, pooled over the places [m]
  double freedom = 0;        ///< readings less places, over the places with repeats
  std::size_t most = 1;      ///< readings at one place
};

/// How near two readings of a typed table count as one place [m]: 1/8 in (3.2 mm), for nobody sets a rule down truer than a
/// pencil cross and the edge
/// of the rule are wide, and a clock typed as 11.99 lies within it; but never more than a tenth of the mean spacing width/√count.
double same_place(double width, std::size_t count);
/// The readings of each place, in the order of the file; nothing where no place was read twice.
std::vector<std::vector<std::size_t>> place_groups(const SurveyPoints& survey);

/// Puts readings of the same place together (`survey` becomes one point a place: means). Depths under a rim: the same place in x
/// and y within `same_place`.
/// Clouds: the same x and y to a millionth of the cloud, and z within 3 % of it; corners of triangles are such repeats. `merge`
/// sets aside a repeat that differs from the middle of three or more by more than 6 robust standard deviations of all repeats, 3
/// steps and 1 % of the
/// depth, where more than half agree. `keep_all`: nothing is set aside. Throws InputError where fewer than ten places are left.
Repeats merge_repeats(SurveyPoints& survey, bool keep_all);

/// Settles the places whose readings differ that much without a majority: the reading that the places around it bear out counts,
/// the others are set aside.
/// Takes the fit of the merged points; changes their means.
void settle_disputes(Repeats& repeats, SurveyPoints& survey, const ShapeFit& fit, bool keep_all);

/// Finds the scatter from the distances of all readings to the fitted shape, so that a few millimetres between repeats on a slope
/// do no harm, and tells it
/// the survey (`survey.noise`) where at least five places with repeats and 5 degrees of freedom stand behind it.
void use_scatter(Repeats& repeats, SurveyPoints& survey, const ShapeFit& fit);

}  // namespace dishwright
