// SPDX-License-Identifier: MIT
// Reads what a reflector is. One reader a family of shapes; all report what is missing or wrong and then give nothing or a shape
// that is not used.
#pragma once

#include <filesystem>
#include <optional>

#include "base/error.h"
#include "base/files.h"
#include "scene/scene.h"
#include "scenefile/file_cache.h"
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

/// The path of key `file`; empty where there is none (reported). `why_needed`: what stands in it.
std::filesystem::path named_file(TableReader& table, const std::filesystem::path& folder, const char* why_needed);
/// Reports what a reader of another file threw: problems without a place in that file stand at `file`, those with one name the
/// key too. Where what stands in the file may not be shown, only that it does not fit.
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

// ---- One reader a shape, for the rows of scenefile/shapes.h. Notes on what was taken go into scene.notes. ----
using ShapeReader = std::optional<ReflectorShape>(TableReader& table, const FilesBeside& files, Scene& scene);
ShapeReader read_paraboloid, read_sphere, read_trough, read_arc_trough, read_flat, read_offset_paraboloid, read_facets,
    read_petals, read_profile, read_mesh, read_measured;

/// Round dishes given by width and depth.
template <class Dish>
std::optional<ReflectorShape> read_deep_dish(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  const std::string why = std::string(Dish::words.with_article) + " is given by width and depth";
  Dish dish;
  dish.width = needed("width", why), dish.depth = needed("depth", why), dish.hole_width = table.measure_or_standard("hole_width");
  return dish;
}

/// Conics given by their foci and width.
template <class Conic>
std::optional<ReflectorShape> read_two_foci(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  const std::string why = std::string(Conic::words.with_article) + " is given by near_focus, far_focus and width";
  Conic mirror;
  mirror.near_focus = needed("near_focus", why), mirror.far_focus = needed("far_focus", why), mirror.width = needed("width", why);
  mirror.hole_width = table.measure_or_standard("hole_width");
  return mirror;
}

}  // namespace dishwright
