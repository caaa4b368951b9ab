// SPDX-License-Identifier: MIT
// The one table of keys of a project file. It drives reading, error messages and docs/scene-file.md.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"

namespace dishwright {

/// How the value of a key is written.
enum class ValueKind {
  text,        ///< any words, in quotes
  word,        ///< one of a list of words, in quotes
  quantity,    ///< a number with a unit, in quotes
  quantities,  ///< such a number, or a list of them
  number,      ///< a pure number, or a per cent in quotes
  whole,       ///< a whole number
  truth,       ///< true or false
  triple,      ///< a list of three quantities
  place,       ///< "focus of NAME" or one of `words`, or a list of three lengths
  pair,        ///< a list of two quantities
  table,       ///< { … } with keys of its own: the section of the same name
  tables,      ///< a list of such
  moment       ///< date, clock and offset from UTC, in quotes or as TOML's own
};

struct KeyRow {
  /// "" (top of the file), "sun", "place", "mount", "lamp", "sound", "radio", "air", "link", "load", "reflector", "target",
  /// "trace", or an inner table.
  std::string_view section;
  std::string_view key;
  std::string_view shapes;  ///< shapes that have the key, "paraboloid, sphere"; empty = all
  ValueKind kind = ValueKind::text;
  Dimension dimension = Dimension::number;
  double low = 0, high = 0;                  ///< allowed interval in SI units; of each entry for a triple
  bool open_low = false, open_high = false;  ///< the end itself is not allowed
  std::string_view words;                    ///< kinds word and place: the list, "uniform, limb-darkened"
  std::string_view standard;                 ///< value taken where the key is left out; empty = none
  std::string_view example;                  ///< as one would write it, with quotes
  std::string_view help;                     ///< one line
};

const std::vector<KeyRow>& all_keys();

/// The row for a key of a table of the given shape; null where that table has no such key. An empty shape finds any row.
const KeyRow* find_key(std::string_view section, std::string_view key, std::string_view shape);
/// All keys of a table of the given shape (empty: of any shape), each once, in the order of the table.
std::vector<std::string> keys_of(std::string_view section, std::string_view shape);
/// Shapes of lamps, reflectors or targets.
std::vector<std::string> shapes_of(std::string_view section);
/// Shapes of `section` that have the key.
std::vector<std::string> shapes_with(std::string_view section, std::string_view key);

/// "a, b, c" cut at the commas.
std::vector<std::string> split_words(std::string_view list);
/// "a", "a or b", "a, b or c".
std::string join_words(const std::vector<std::string>& words, std::string_view last);
/// "a paraboloid", "an arc trough", "a dish of petals".
std::string with_article(std::string_view word);
/// "from 0.1 mm to 1 km", in units like `like`.
std::string interval_text(const KeyRow& row, const Unit* like);
/// The unit of the row's example, for its interval; null for lengths, which are told in metric units unless the user wrote US
/// ones.
const Unit* unit_of_example(const KeyRow& row);
/// Our word for one that people often write: diameter → width, disc → disk, rays → paths. Empty where there is none.
std::string our_word(std::string_view common);

}  // namespace dishwright
