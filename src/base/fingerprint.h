// SPDX-License-Identifier: MIT
// A number that differs between different data.
#pragma once

#include <cstdint>
#include <string_view>

#include "base/bits.h"

namespace dishwright {

/// FNV-1a, 64 bits [fnv].
class Fingerprint {
 public:
  void add_byte(std::uint8_t byte) { hash_ = (hash_ ^ byte) * 0x100000001b3U; }
  void add(std::string_view text) {
    for (const char c : text) add_byte(static_cast<std::uint8_t>(c));
  }
  /// A number by its bytes, the lowest first; −0 is 0.
  void add(double value) { add_bits(bits_as<std::uint64_t>(value + 0.0), 8); }
  void add(std::uint32_t value) { add_bits(value, 4); }
  std::uint64_t value() const { return hash_; }

 private:
  void add_bits(std::uint64_t bits, int bytes) {
    for (int k = 0; k < bytes; ++k) add_byte(static_cast<std::uint8_t>(bits >> (8 * k)));
  }
  std::uint64_t hash_ = 0xcbf29ce484222325U;
};

}  // namespace dishwright
