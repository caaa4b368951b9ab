// SPDX-License-Identifier: MIT
// How the values and figures of a sweep are called and printed.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/detail.h"
#include "report/numbers/figure_words.h"
#include "report/numbers/number_text.h"
#include "study/sweep.h"

namespace dishwright {

/// A figure of the sweep by its name.
FigureWords figure_words(const Sweep& sweep, const std::string& name, Units units);

/// A value of an axis in the unit that the user wrote, and that unit: "deg"; empty for a pure number.
double axis_number(const SweepAxis& axis, double si);
std::string axis_unit(const SweepAxis& axis);
/// "sun.aim_error [deg]".
std::string axis_label(const SweepAxis& axis);
/// "1.5 deg".
std::string axis_value(const SweepAxis& axis, double si);

/// The title of the project, or the name of its file.
std::string sweep_title(const Sweep& sweep, const std::string& name);

/// One or two sentences on what the figure does over the sweep: where it begins, ends, is greatest and smallest; of the share
/// caught also between which values it is 90 % or more (straight lines between the points).
std::string sweep_sentence(const Sweep& sweep, const std::string& figure, Units units);

/// A place where the share caught falls below 90 %, or comes up to it.
struct ShareEdge {
  double at = 0;      ///< on a straight line between two points; of whole things the last value that is still good [si_unit]
  bool ends = false;  ///< it falls below with growing value of the key
};
/// All such places of a sweep of one key, rising. Stretches between two others that chance alone may have made (no point 2
/// standard errors off 90 %) are passed over. Empty of waves and of two keys.
std::vector<ShareEdge> share_edges(const Sweep& sweep);
/// "90 % ends at about 1.4 deg."; "You are here: 0.5 deg, share caught about 98.2 %." Each only where it lies within the range of
/// the one key.
std::string edge_sentence(const Sweep& sweep);
std::string here_sentence(const Sweep& sweep, const std::string& figure, Units units);
/// Does the file's own value lie within the range of the one key?
bool shows_own(const Sweep& sweep);

/// Cautions and provenance of the figures.
/// Why aim error blurs, by three rays of the last point; empty where something else varies.
std::string sweep_reason(const Sweep& sweep, Units units);
std::string sweep_caution(const Sweep& sweep);
std::string sweep_caution_line(const Sweep& sweep);
std::string sweep_settings_line(const Sweep& sweep, Detail detail = Detail::method);

/// Who did the points, by which method; of waves that did not settle, how good they are. With Detail::answer only the latter.
std::string method_sentence(const Sweep& sweep, Detail detail = Detail::method);
/// That a broken-off sweep is not complete; empty where it is.
std::string broken_off_sentence(const Sweep& sweep);

}  // namespace dishwright
