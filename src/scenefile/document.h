// SPDX-License-Identifier: MIT
// A project file as a tree of keys and values with their places. The only file that knows the TOML library is document.cpp.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "scenefile/source.h"

namespace dishwright {

/// A value, list or table.
struct Node {
  enum class Kind { table, list, text, whole, decimal, truth, date, from_set };
  Kind kind = Kind::table;
  std::string name;     ///< the key; empty inside a list
  Place key_place;      ///< of the key (of the header for a table)
  Place place;          ///< of the value
  std::string text;     ///< content of a text, or of a value from --set
  std::string written;  ///< the value as it stands in the file
  std::int64_t whole = 0;
  double decimal = 0;
  bool truth = false;
  bool table_list = false;     ///< a list written as [[name]]
  std::vector<Node> children;  ///< of a table (in file order) or of a list

  bool is_table() const { return kind == Kind::table; }
  const Node* find(std::string_view key) const;
  Node* find(std::string_view key);
  /// "a text", "a whole number", "a table", …
  std::string kind_word() const;
};

/// Reads TOML. Throws InputError with the first syntax error in plain words.
Node parse_document(const Source& source);

}  // namespace dishwright
