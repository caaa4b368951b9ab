// SPDX-License-Identifier: MIT
// A project file for a reader that does not know where the sun is.
#include <fmt/format.h>

#include <numbers>
#include <set>
#include <sstream>

#include "scenefile/read_scene.h"
#include "sky/moment.h"

namespace dishwright {

namespace {

/// Lines of a table and of all its keys.
void add_lines(const Node& table, std::set<int>& lines) {
  lines.insert(table.key_place.line);
  for (const Node& key : table.children) lines.insert(key.key_place.line);
}

std::string sun_lines(const Scene& scene) {
  constexpr double degree = std::numbers::pi / 180;
  return fmt::format(
      "# Worked out for {}: the sun {:.2f} deg up, azimuth {:.2f} deg.\nbeam = \"{:.6g} W/m2\"\naim_error = \"{:.9g} deg\"\n"
      "aim_direction = \"{:.9g} deg\"\n",
      moment_text(scene.outdoors->time), scene.outdoors->sun.apparent_elevation / degree, scene.outdoors->sun.azimuth / degree,
      scene.sun.beam, scene.sun.aim_error / degree, scene.sun.aim_direction / degree);
}

}  // namespace

std::string ProjectFile::text_without_time() const {
  const Node* sun = root_.find("sun");
  if (sun == nullptr || !sun->is_table() || sun->find("time") == nullptr) return source_.text();
  ReadOptions read;
  if (source_words(read).size() > 1) read.as = "light";
  const Scene scene = this->scene(read);
  if (!scene.outdoors) return source_.text();
  std::set<int> hidden;
  for (const char* name : {"place", "mount"}) {
    if (const Node* table = root_.find(name)) add_lines(*table, hidden);
  }
  for (const char* key : {"time", "turbidity", "beam", "aim_error", "aim_direction"}) {
    if (const Node* node = sun->find(key)) hidden.insert(node->key_place.line);
  }
  // Header and keys must have lines of their own for that.
  const bool plain = sun->find("time")->key_place.line > sun->key_place.line && hidden.count(sun->key_place.line) == 0;
  if (!plain)
    throw InputError("[sun] does not stand as a table with its keys below it",
                     "the page's copy of the file gets lines in place of the time",
                     "write [sun] on a line, and each key on its own");
  std::string out, line;
  std::istringstream lines(source_.text());
  for (int number = 1; std::getline(lines, line); ++number) {
    out += (hidden.count(number) != 0 ? "# " : "") + line + "\n";
    if (number == sun->key_place.line) out += sun_lines(scene);
  }
  return out;
}

}  // namespace dishwright
