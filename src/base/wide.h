// SPDX-License-Identifier: MIT
// Loops over whole blocks, run on the widest vector lanes that the processor has. A build for x86-64-v3 (AVX2) holds a second copy
// of such a loop for AVX-512; both give the same digits (docs/decisions/0032).
#pragma once

#include <type_traits>

// Only where the build itself has fused multiply-add: then both copies round alike. GCC alone, and not where it adds checks.
#if defined(__x86_64__) && defined(__FMA__) && !defined(__AVX512F__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)
#define DISHWRIGHT_TWO_COPIES
#endif

namespace dishwright {

/// Has the processor AVX-512, and does this build hold a copy for it? DISHWRIGHT_LANES=narrow in the environment says no, for tests.
bool has_wide_lanes();

#ifdef DISHWRIGHT_TWO_COPIES
/// The copy. All that `loop` calls is compiled into it.
template <auto loop, class First, class... Rest>
[[gnu::target("arch=x86-64-v4"), gnu::flatten, gnu::noinline]] auto run_wide(First& first, Rest&... rest) {
  if constexpr (std::is_member_function_pointer_v<decltype(loop)>) {
    return (first.*loop)(rest...);
  } else {
    return loop(first, rest...);
  }
}
#endif

/// Calls a function, or a member function of the first argument, whose loops go over a block. What it adds up must be whole numbers:
/// the order of sums is not the same in both copies.
template <auto loop, class First, class... Rest>
auto on_wide_lanes(First& first, Rest&... rest) {
#ifdef DISHWRIGHT_TWO_COPIES
  if (has_wide_lanes()) return run_wide<loop>(first, rest...);
#endif
  if constexpr (std::is_member_function_pointer_v<decltype(loop)>) {
    return (first.*loop)(rest...);
  } else {
    return loop(first, rest...);
  }
}

}  // namespace dishwright
