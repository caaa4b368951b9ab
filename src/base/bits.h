// SPDX-License-Identifier: MIT
// The bits of a number read as another type: std::bit_cast, which the browser compiler's library does not have yet.
#pragma once

#include <type_traits>

namespace dishwright {

/// To and From: trivially copyable and of one size.
template <class To, class From>
constexpr To bits_as(const From& from) {
  static_assert(sizeof(To) == sizeof(From) && std::is_trivially_copyable_v<To> && std::is_trivially_copyable_v<From>);
  return __builtin_bit_cast(To, from);
}

}  // namespace dishwright
