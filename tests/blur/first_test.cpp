// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include "blur/quadrature.h"
TEST_CASE("x") { CHECK(true); }
