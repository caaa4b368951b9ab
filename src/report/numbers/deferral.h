// SPDX-License-Identifier: MIT
// To whom every caution defers: one sentence, and the same behind a semicolon.
#pragma once

#include <string>

namespace dishwright {

inline const std::string deferral = "Local code, school policy and licensed practice govern.";
inline const std::string deferral_clause = "local code, school policy and licensed practice govern.";

}  // namespace dishwright
