// SPDX-License-Identifier: MIT
// Reads the values of one table by the key table: kind, unit, interval; says in full what is wrong.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/scene.h"
#include "scenefile/document.h"
#include "scenefile/keys.h"
#include "scenefile/problems.h"

namespace dishwright {

/// One table of the file. Every getter gives an empty answer where the key is left out or wrong; wrong ones are reported once.
class TableReader {
 public:
  /// `path` is how messages name the table: "sun", "reflector.dish", "" for the top. All references must outlive this.
  TableReader(const Node& table, std::string section, std::string path, Problems& problems);

  /// The shape decides which keys the table has. Call before the getters.
  void set_shape(std::string shape) { shape_ = std::move(shape); }
  const std::string& shape() const { return shape_; }
  const std::string& path() const { return path_; }
  const Node* find(std::string_view key) const { return table_.find(key); }
  bool has(std::string_view key) const { return find(key) != nullptr; }

  std::optional<std::string> text(std::string_view key);
  std::optional<std::string> word(std::string_view key);  ///< one of the row's words
  std::optional<double> measure(std::string_view key);    ///< quantity or number [SI]
  std::optional<std::uint64_t> whole(std::string_view key);
  std::optional<bool> truth(std::string_view key);
  std::optional<std::array<double, 2>> pair(std::string_view key);  ///< two quantities [SI]
  std::optional<Vector3> triple(std::string_view key);              ///< three quantities [SI]; also a place written as a list
  std::optional<Moment> moment(std::string_view key);
  /// An angle with one of two letters behind it ("N", "S"), the second of which makes it negative; or with a sign of its own [rad].
  std::optional<double> compass_angle(std::string_view key, char plus, char minus);
  std::vector<double> measures(std::string_view key);  ///< one quantity or a list of 1 … 1000 [SI]; empty where wrong
  /// The same where a bare number counts in `unit`.
  std::optional<double> measure_in(std::string_view key, std::string_view unit);
  /// The same, or the row's standard value where the key is left out (0 where it is wrong: the file is refused anyway).
  double measure_or_standard(std::string_view key);

  /// Reports every key that this table does not have.
  void refuse_unknown_keys();
  /// Reports a problem of the key's value (of the table where the key is not there).
  void report(std::string_view key, const std::string& what, const std::string& why, const std::string& fix);
  /// Reports a problem of the table as a whole.
  void report_table(const std::string& what, const std::string& why, const std::string& fix);
  /// Reports problems inside another file, which the key names.
  void report_elsewhere(std::string_view key, std::vector<Problem> problems);
  /// Reports a key that has to be there.
  void report_missing(std::string_view key, const std::string& why);
  /// True if an unknown key was reported with `key` as its remedy: then a missing `key` is the same slip.
  bool was_misspelt(std::string_view key) const;
  /// True while nothing of this table was reported.
  bool sound() const { return sound_; }

  /// `reflector.dish.width` for messages.
  std::string full_key(std::string_view key) const;
  /// `reflector.dish.width = "48 in"` as it was written.
  std::string echo(std::string_view key) const;
  /// `write width = "48 in"`, or the --set form where the key came from there.
  std::string write(std::string_view key, std::string_view value) const;

 private:
  const KeyRow& row(std::string_view key) const;
  std::optional<double> parse_measure(const Node& node, const KeyRow& row, const std::string& shown);
  std::optional<double> bare_number(const Node& node, const KeyRow& row, const std::string& shown);
  std::optional<double> within(const Node& node, const KeyRow& row, const std::string& shown, double value, const Unit* unit);
  std::optional<std::int64_t> parse_whole(const Node& node, const KeyRow& row);
  std::optional<std::string> words_of(const Node& node, const KeyRow& row);
  void wrong_kind(const Node& node, const KeyRow& row, const std::string& shown, std::string_view wanted);
  void report_at(const Place& place, const std::string& what, const std::string& why, const std::string& fix);
  std::string assign(const Node& node, const KeyRow& row, std::string_view value) const;
  std::string write_at(const Node& node, const KeyRow& row, std::string_view value) const;
  std::string example_for(const Node& node, const KeyRow& row, const std::string& shown) const;
  void refuse_key(const Node& child);

  const Node& table_;
  std::string section_, path_, shape_;
  Problems& problems_;
  bool sound_ = true;
  std::vector<std::string> suggested_;  // remedies given for unknown keys
};

/// `KEY = VALUE` as written, cut to fit a message; tables and lists by their kind.
std::string echo_of(const std::string& key, const Node& node);

}  // namespace dishwright
