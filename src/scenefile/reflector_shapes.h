// SPDX-License-Identifier: MIT
// Reads what a reflector is. One reader a family of shapes; all report what is missing or wrong and then give nothing or a shape that is not used.
#pragma once

#include <filesystem>
#include <optional>

#include "base/error.h"
#include "base/files.h"
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
/// Reports what a reader of another file threw: problems without a place in that file stand at `file`, those with one name the key too. Where what
/// stands in the file may not be shown, only that it does not fit.
void report_beside(TableReader& table, bool shows, const InputError& error);
/// Runs a reader of the file; what it throws is reported.
template <class Reader>
auto read_beside(TableReader& table, const FilesBeside& files, const std::filesystem::path& file, const Reader& reader)
    -> std::optional<decltype(reader())> {
  try {
    return reader();
  } catch (const FileRefused& error) {  // tells nothing of what stands in it
    report_beside(table, true, error);
  } catch (const InputError& error) {
    report_beside(table, files.shows(file), error);
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
