// SPDX-License-Identifier: MIT
// See pages_test.cpp.
#include <doctest/doctest.h>

#include "command/page_figures.h"

using namespace dishwright::testing;

TEST_CASE("waves.md says what its commands print" * doctest::test_suite("slow")) { check_page("docs/waves.md"); }
