// SPDX-License-Identifier: MIT
// Equality within a relative tolerance.
#pragma once

#include <doctest/doctest.h>

namespace dishwright::testing {

/// Equal to within a share of the larger of both (1.2e-5 unless .epsilon() tells); of zero within that much itself. doctest's own
/// tolerance is epsilon × (1 + size): of lengths of millimetres it would let everything pass.
inline doctest::Approx approx(double value) { return doctest::Approx(value).scale(value == 0 ? 1.0 : 0.0); }

/// How far a value is from the truth, in its own unit.
inline double off(double value, double truth) { return value > truth ? value - truth : truth - value; }

}  // namespace dishwright::testing
