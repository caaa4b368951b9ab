// SPDX-License-Identifier: MIT
// Reads the plain tables of outside truth that lie beside this header.
#pragma once

#include <cstddef>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>
#include "folders.h"

namespace dishwright::known {

/// One row: column name → number. Empty cells and the column `source` are left out.
using Row = std::map<std::string, double>;

/// All rows of a table. No cell but the last (`source`) holds a comma.
inline std::vector<Row> read_table(const std::string& name) {
  std::ifstream file(dishwright::testing::source_folder() / "tests" / "known_values" / name);
  if (!file) throw std::runtime_error("no table " + name);
  std::string line, cell;
  std::vector<std::string> columns;
  std::getline(file, line);
  for (std::istringstream head(line); std::getline(head, cell, ',');) columns.push_back(cell);
  std::vector<Row> rows;
  while (std::getline(file, line)) {
    Row row;
    std::istringstream cells(line);
    for (std::size_t i = 0; i + 1 < columns.size() && std::getline(cells, cell, ','); ++i) {
      if (!cell.empty()) row[columns[i]] = std::stod(cell);
    }
    rows.push_back(row);
  }
  return rows;
}

}  // namespace dishwright::known
