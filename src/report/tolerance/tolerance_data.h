// SPDX-License-Identifier: MIT
// A tolerance for other programs.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "study/tolerance.h"

namespace dishwright {

/// {"scene", "version", "seed", "paths", "target", "wanted": Q, "share": Q, "limits": {KEY: Q or null}, "sides": [{"key", "side",
/// "limit", "open", "best"}], "budget", "words": […], "holds"}; SI units. Of sound and radio "source", "frequency", "wavelength",
/// "gain" and "true_gain" stand in the place of "share", and "wanted" is the loss [dB]. Of a key with several sides `limits` has
/// the smallest. Of light each side has "way" and "here" too, and there are "table" (rows of words), "sentences", and
/// "needed_width" where a wider target is told. Ends with a newline.
std::string tolerance_json(const Tolerance& all, const std::string& name, Units units);

}  // namespace dishwright
