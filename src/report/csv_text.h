// SPDX-License-Identifier: MIT
// Cells of CSV files that we write.
#pragma once

#include <string>

namespace dishwright {

/// The text as a cell: in quotes where a comma, a quote or a line's end asks for them (RFC 4180).
std::string csv_text(const std::string& text);

}  // namespace dishwright
