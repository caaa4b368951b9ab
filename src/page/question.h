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
///   "study"   "trace", "sweep", "compare" or "tolerance"
///   "set"     ["sun.aim_error=2 deg", …] as the command line's --set
///   "as"      "light", "sound" or "radio", where the file has several
///   "units"   "us" or "si" for words
///   "method"  "rays", "quadrature" or "auto"; light
///   "paths"   whole number from 1,000 to 10,000,000, in place of the file's; light by rays
///   "shape"   trace: what the first mirror is bent to
///   "parts"   trace: any of "map", "view" (a cut with rays), "why" (what costs light), "range" (of the finish), "best" (the
///             brightest anywhere), "words"; none if not given
///   "vary"    sweep: ["KEY=FROM:TO:COUNT"], one or two
///   "target"  sweep, tolerance: its name; the first if not given
///   "wanted"  tolerance of light: share above 0 and below 1; 0.9 if not given
///   "loss"    tolerance of sound and radio [dB]; 1 if not given
///   "shapes"  compare: what the first mirror is bent to
///   "within"  a time after which the work ends as if stopped [ms]
struct Question {
  std::string study;
  std::vector<std::string> set, parts, vary, shapes;
  std::string as, method, target, shape;
  Units units = Units::us;
  std::optional<std::uint64_t> paths;
  double wanted = 0.9, loss = 1;
  std::optional<double> within;
  bool asks(const char* part) const;
};

/// Throws InputError for what is no such object: an unknown key, a value of another kind or out of its range.
Question read_question(const std::string& json);

}  // namespace dishwright
