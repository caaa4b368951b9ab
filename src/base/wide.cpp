// SPDX-License-Identifier: MIT
#include "base/wide.h"

#include <cstdlib>
#include <string_view>

namespace dishwright {

bool has_wide_lanes() {
#ifdef DISHWRIGHT_TWO_COPIES
  static const bool wide = [] {
    const char* asked = std::getenv("DISHWRIGHT_LANES");
    if (asked != nullptr && std::string_view(asked) == "narrow") return false;
    return __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512bw") && __builtin_cpu_supports("avx512cd") &&
           __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl");
  }();
  return wide;
#else
  return false;
#endif
}

}  // namespace dishwright
