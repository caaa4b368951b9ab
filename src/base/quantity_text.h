// SPDX-License-Identifier: MIT
// The signs and the ways of writing numbers that people's keyboards, word processors and school books have.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/quantity.h"

namespace dishwright {

/// The text in plain ASCII signs: ½ as 1/2, ′ as ', m² as m2, typographic spaces and minus signs as plain ones; one space between
/// words. A power that is not part of a unit stays one: 10² as 10^2.
std::string plain_quantity(std::string_view text);

/// Why a plain text is no number of ours although people write such: powers and products (10^3, 2×10^3), marks between thousands
/// (1'000, 1 000, 1_000, 1.000.000), other digits than 0 to 9, base 16. Empty where it is nothing of that kind.
std::optional<BadQuantity> other_notation(std::string_view plain);

}  // namespace dishwright
