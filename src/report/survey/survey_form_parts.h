// SPDX-License-Identifier: MIT
// What all forms for readings are drawn with.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "picture/pages.h"

namespace dishwright {

TextStyle plain(double size, Side side = Side::left);
TextStyle heavy(double size, Side side = Side::left);

/// How to hold the straightedge, seen from the side.
void draw_straightedge(Pages& pages, const Box& box);

/// A table to write into.
struct FormGrid {
  std::string corner;
  std::vector<std::string> columns, rows;
  std::function<bool(std::size_t, std::size_t)> is_read = [](std::size_t, std::size_t) { return true; };  ///< by row, column
};

/// The table, and lines for notes below it.
void draw_table_and_lines(Pages& pages, const Box& box, const FormGrid& grid);

}  // namespace dishwright
