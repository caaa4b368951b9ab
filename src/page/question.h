// SPDX-License-Identifier: MIT
// What the browser page asks of a scene.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "report/numbers/number_text.h"

namespace dishwright {

/// A JSON object; every key but "study" may be left out:
///   "study"   "trace", "sweep", "compare", "tolerance", "drift" (how long it can be left standing), "burn" (a day of the
///             spot of a parked dish), "uses" (what else it is fit for), "form" (the blank table of its depths) or "survey"
///   "set"     ["sun.aim_error=2 deg", …] as the command line's --set
///   "as"      "light", "sound" or "radio", where the file has several
///   "units"   "us" or "si" for words
///   "method"  "rays", "quadrature" or "auto"; light
///   "paths"   whole number from 1,000 to 10,000,000, in place of the file's; light by rays
///   "shape"   trace: what the first mirror is bent to
///   "parts"   trace: any of "map", "rough map" (of sound and radio: quick, without pattern and curve), "view" (a cut with rays),
///             "solid" (lines in space), "why" (what costs light), "range" (of the finish), "best" (the brightest anywhere, and how
///             far to keep clear), "words"; none if not given
///   "vary"    sweep: ["KEY=FROM:TO:COUNT"], one or two
///   "figure"  sweep: of which figure the words are; the usual one if not given
///   "target"  sweep, tolerance, drift: its name; the first if not given
///   "park"    burn: "face up", "leaning" as it was aimed last, or "in a vehicle"; "face up" if not given
///   "wanted"  tolerance of light, drift, survey: share above 0 and below 1; 0.9 if not given
///   "readings" survey: the table as text, up to 1 MB
///   "loss"    tolerance of sound and radio [dB]; 1 if not given
///   "shapes"  compare: what the first mirror is bent to; of more than two those that do not fit are left out, and named
///   "within"  a time after which the work ends as if stopped [ms]
struct Question {
  std::string study;
  std::vector<std::string> set, parts, vary, shapes;
  std::string as, method, target, shape, figure, readings, park;
  Units units = Units::us;
  std::optional<std::uint64_t> paths;
  double wanted = 0.9, loss = 1;
  std::optional<double> within;
  bool asks(const char* part) const;
};

/// Throws InputError for what is no such object: an unknown key, a value of another kind or out of its range.
Question read_question(const std::string& json);

}  // namespace dishwright
