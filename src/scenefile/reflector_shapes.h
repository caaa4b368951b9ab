// SPDX-License-Identifier: MIT
// Reads what a reflector is. One reader a family of shapes; all report what is missing or wrong and then give nothing or a shape that is not used.
#pragma once

#include <filesystem>
#include <optional>

#include "base/error.h"
#include "scene/scene.h"
#include "scenefile/file_shelf.h"
#include "scenefile/values.h"

namespace dishwright {

/// Reads keys that the shape cannot do without.
class Needed {
 public:
  explicit Needed(TableReader& table) : table_(table) {}
  double operator()(std::string_view key, std::string_view why) {
    if (!table_.has(key)) table_.report_missing(key, std::string(why));
    return table_.measure(key).value_or(0);
  }

 private:
  TableReader& table_;
};

/// A value that follows from others has to lie in the interval of its own key, too; `law` says how it follows.
void check_derived(TableReader& table, std::string_view key, double value, std::string_view law);
/// A word of the row, or its standard where it is left out or wrong.
std::string word_or_standard(TableReader& table, std::string_view key);

/// Any shape. Notes on what was taken go into scene.notes.
std::optional<ReflectorShape> read_reflector_shape(TableReader& table, const FilesBeside& files, Scene& scene);

/// The path of key `file`; empty where there is none (reported). `why_needed`: what stands in it.
std::filesystem::path named_file(TableReader& table, const std::filesystem::path& folder, const char* why_needed);
/// Runs a reader of another file; what it throws is reported. Problems without a place in that file stand at `file`.
template <class Reader>
auto read_beside(TableReader& table, const Reader& reader) -> std::optional<decltype(reader())> {
  try {
    return reader();
  } catch (const InputError& error) {
    if (!error.problems().front().file.empty()) {
      table.report_elsewhere("file", error.problems());
      return std::nullopt;
    }
    for (const Problem& problem : error.problems())
      table.report("file", table.echo("file") + ": " + problem.what, problem.why, problem.fix);
  }
  return std::nullopt;
}

std::optional<ReflectorShape> read_offset_paraboloid(TableReader& table, Scene& scene);
std::optional<ReflectorShape> read_facets(TableReader& table);
std::optional<ReflectorShape> read_petals(TableReader& table);
std::optional<ReflectorShape> read_profile(TableReader& table, const FilesBeside& files, Scene& scene);
std::optional<ReflectorShape> read_measured(TableReader& table, const FilesBeside& files, Scene& scene);
std::optional<ReflectorShape> read_mesh(TableReader& table, const FilesBeside& files, Scene& scene);

}  // namespace dishwright
