// SPDX-License-Identifier: MIT
#include "shape/meshes/polygons.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/decimal.h"
#include "base/text.h"

namespace dishwright {

namespace {

constexpr const char* blanks = " \t\r\f\v";

}  // namespace

bool TextLines::next() {
  while (at_ < text_.size()) {
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    rest_ = text_.substr(at_, end - at_);
    at_ = std::min(end + 1, text_.size());
    ++line_;
    if (rest_.find_first_not_of(blanks) != std::string_view::npos) return true;
  }
  return false;
}

std::string_view TextLines::word() {
  const std::size_t from = std::min(rest_.find_first_not_of(blanks), rest_.size());
  const std::size_t end = std::min(rest_.find_first_of(blanks, from), rest_.size());
  const std::string_view found = rest_.substr(from, end - from);
  rest_.remove_prefix(end);
  return found;
}

std::optional<double> number_of(std::string_view word) {
  if (word.size() > 1 && word.front() == '+' && word[1] != '-') word.remove_prefix(1);
  double value = 0;
  const auto [end, code] = decimal_from(word.data(), word.data() + word.size(), value);
  if (code != std::errc() || end != word.data() + word.size()) return std::nullopt;
  return value;
}

double corner_number(std::string_view word, int line, Wanted wanted, const char* of) {
  const std::optional<double> value = number_of(word);
  const bool strange = !value || !(std::abs(*value) < farthest_number);
  if (value && (!strange || (wanted == Wanted::points && !std::isfinite(*value)))) return *value;
  throw BrokenFile(line, fmt::format("\"{}\" is not a number", clipped(word, 20)), fmt::format("{} takes ordinary numbers", of));
}

void check_face_size(double count, int line, std::size_t face) {
  const std::string which = line > 0 ? "a face" : fmt::format("face {}", face);
  if (count == 0 || count == 1 || count == 2) {
    throw BrokenFile(line, fmt::format("{} has {} corner{}", which, count, count == 1 ? "" : "s"),
                     "a face has 3 or more; the file may be cut off");
  }
  if (count >= 3 && count <= most_face_corners) return;
  throw BrokenFile(line, fmt::format("{} has {} corners", which, count),
                   fmt::format("a face has 3 to {}: how a larger one is meant would be a guess", most_face_corners),
                   "export the surface as triangles");
}

Polygons read_polygons(std::string_view bytes, MeshFormat format, Wanted wanted) {
  if (bytes.find_first_not_of(" \t\r\n") == std::string_view::npos) throw BrokenFile(0, "the file is empty", "");
  if (format == MeshFormat::obj) return read_obj(bytes, wanted);
  return format == MeshFormat::stl ? read_stl(bytes, wanted) : read_ply(bytes, wanted);
}

}  // namespace dishwright
