// SPDX-License-Identifier: MIT
#include "scenefile/reshape.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/nearest.h"
#include "scenefile/overrides.h"
#include "scenefile/parts.h"
#include "scenefile/shapes.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

std::string with_article(std::string_view shape) {
  if (shape == "flat") return "a flat mirror";
  if (shape == "facets" || shape == "petals") return fmt::format("a dish of {}", shape);
  if (shape == "measured") return "a measured mirror";
  return fmt::format("{} {}", std::string_view("aeiou").find(shape[0]) != std::string_view::npos ? "an" : "a", shape);
}

void refuse_words(const std::vector<std::string>& shapes) {
  const std::vector<std::string> known = reshape_words();
  const std::string list = fmt::format("a mirror can become {}", join_words(known, "or"));
  std::vector<Problem> problems;
  const auto refuse = [&](const std::string& what, const std::string& fix) {
    Problem problem;
    problem.what = printable(what), problem.why = list, problem.fix = printable(fix);
    problems.push_back(std::move(problem));
  };
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    const std::string& word = shapes[i];
    const auto here = shapes.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(known.begin(), known.end(), word) == known.end()) {
      std::string near = our_word(word);
      if (std::find(known.begin(), known.end(), near) == known.end()) near = nearest_word(word, known);
      refuse(fmt::format("--shape: \"{}\" is not a shape that a mirror can be bent to", clipped(word, 40)),
             near.empty() ? "write shapes with commas between them: --shape paraboloid,sphere" : fmt::format("write {}", near));
    } else if (std::find(shapes.begin(), here, word) != here) {
      refuse(fmt::format("--shape: {} is named twice", word), "name each shape once");
    }
  }
  if (!problems.empty()) throw InputError(problems);
}

/// One file on its way to several shapes.
class Bend {
 public:
  Bend(const Source& source, std::filesystem::path folder, const ReadOptions& options, const std::vector<std::string>& shapes)
      : source_(source), folder_(std::move(folder)), options_(options), shapes_(shapes), root_(parse_document(source)) {}

  std::vector<Reshaped> all() {
    read_pattern();
    std::vector<Reshaped> made;
    std::vector<Problem> found;
    for (const std::string& shape : shapes_) {
      try {
        made.push_back(one(shape));
      } catch (const InputError& error) {
        for (Problem problem : error.problems()) {
          problem.what = fmt::format("as {}: {}", with_article(shape), problem.what);
          found.push_back(std::move(problem));
        }
      }
    }
    if (!found.empty()) throw InputError(found);
    return made;
  }

 private:
  /// The key of a --set if it belongs to the reflector that is bent; empty if not.
  std::string own_key(const std::vector<std::string>& key) const {
    return key.size() == 3 && key[0] == "reflector" && key[1] == name_ ? key[2] : "";
  }
  bool has(std::string_view shape, std::string_view key) const { return find_key("reflector", key, shape) != nullptr; }
  bool only_others_have(const std::string& key) const {
    return !key.empty() && !has(shape_, key) &&
           std::any_of(shapes_.begin(), shapes_.end(), [&](const std::string& other) { return has(other, key); });
  }

  /// The scene as the file has it: its own errors are told first, and it gives width and focal length.
  void read_pattern() {
    if (const Node* all = root_.find("reflector"); all != nullptr && all->is_table() && !all->children.empty()) {
      const Node& first = all->children.front();
      name_ = first.name;
      if (const Node* shape = first.is_table() ? first.find("shape") : nullptr) shape_ = shape->text;
    }
    Problems problems(source_, options_.set);
    apply_overrides(options_.set, root_, problems, [this](const std::vector<std::string>& key) {
      const std::string own = own_key(key);
      if (own != "shape") return !only_others_have(own);
      throw InputError(fmt::format("--set reflector.{}.shape stands beside --shape", name_), "--shape names the shapes already",
                       "leave one of the two out");
    });
    scene_ = read_document(root_, {folder_, options_.cache}, options_.as, {}, problems);
    problems.raise_if_any();
    pattern_ = pattern_of(scene_.reflectors.front().shape);
  }

  Reshaped one(const std::string& shape) const {
    Node root = root_;
    Problems problems(source_, options_.set);
    Node& table = *root.find("reflector")->find(name_);
    const ShapeRow& row = *find_shape_row(shape);
    std::vector<std::string> notes;
    if (shape != shape_) bend(row, table, notes, problems);
    problems.raise_if_any();
    apply_overrides(options_.set, root, problems, [&](const std::vector<std::string>& key) {
      const std::string own = own_key(key);
      return only_others_have(own) && has(shape, own);
    });
    const Reflector& before = scene_.reflectors.front();
    FocusStandIns stand_ins;
    if (const auto focus = own_focus(before.shape))
      stand_ins[name_] = {before.pose.at + before.pose.turn * *focus, before.pose.turn};
    Scene scene = read_document(root, {folder_, options_.cache}, options_.as, stand_ins, problems);
    problems.raise_if_any();
    if (!own_focus(scene.reflectors.front().shape) && own_focus(before.shape)) add_stay_notes(root, notes);
    scene.notes.insert(scene.notes.end(), notes.begin(), notes.end());
    return {shape, shape == shape_ ? "as in the file" : std::string(row.reshape->rule), std::move(scene)};
  }

  /// Swaps the keys of the old curve for those of the new one.
  void bend(const ShapeRow& row, Node& table, std::vector<std::string>& notes, Problems& problems) const {
    if (refuse_bend(row, table, problems)) return;
    const std::string new_word(row.words.word);
    const std::vector<std::string> curve = split_words(find_shape_row(shape_)->curve);
    std::erase_if(table.children, [&](const Node& child) {
      const bool of_curve = std::find(curve.begin(), curve.end(), child.name) != curve.end();
      if (of_curve && child.name == "length" && !has(new_word, "length"))
        notes.push_back(fmt::format("the length of reflector.{} is left out: {} is round", name_, row.words.with_article));
      if (of_curve || has(new_word, child.name)) return of_curve;
      if (is_standard(child)) return true;
      problems.add(child.key_place,
                   fmt::format("{} would be lost", echo_of(fmt::format("reflector.{}.{}", name_, child.name), child)),
                   fmt::format("{} has no {}", row.words.with_article, child.name),
                   fmt::format("take {} out of the file, or {} out of --shape", child.name, new_word));
      return false;
    });
    write(table, "shape", new_word);
    if (table.find("width") == nullptr) write(table, "width", fmt::format("{:.17g} m", pattern_.width));
    for (const auto& [key, text] : row.reshape->keys(pattern_)) write(table, key, text);
    notes.insert(notes.begin(), fmt::format("reflector.{} was bent from {} to {}: width kept; {}", name_, with_article(shape_),
                                            row.words.with_article, row.reshape->rule));
  }

  bool refuse_bend(const ShapeRow& row, const Node& table, Problems& problems) const {
    const Node* at = table.find("shape");
    const std::string leave = fmt::format("take {} out of --shape", row.words.word);
    if (!find_shape_row(shape_)->reshape || pattern_.width <= 0) {
      problems.add(at->place, fmt::format("reflector.{} cannot be bent to another shape", name_),
                   fmt::format("{} has no width and focal length to keep", with_article(shape_)),
                   "compare files instead: dishwright compare A.toml B.toml");
    } else if (row.reshape->needs_focal_length && pattern_.focal_length <= 0) {
      problems.add(at->place, fmt::format("{} has no focal length", with_article(shape_)), "the new shape would have to keep it",
                   leave + ", or compare files instead: dishwright compare A.toml B.toml");
    } else if (row.reshape->circle && pattern_.width > 4 * pattern_.focal_length * (1 + 1e-9)) {
      const auto length = [](double value) { return format_quantity(value, Dimension::length, nullptr); };
      problems.add(at->place, fmt::format("reflector.{} is too deep for a circle", name_),
                   fmt::format("the circle of radius 2 x focal length is only {} wide, the mirror {}",
                               length(4 * pattern_.focal_length), length(pattern_.width)),
                   leave + ", or make the focal length a quarter of the width or more");
    } else {
      return false;
    }
    return true;
  }

  /// A key that says no more than its absence: hole_width = "0 in".
  bool is_standard(const Node& node) const {
    const KeyRow* row = find_key("reflector", node.name, "");
    if (row == nullptr || row->kind != ValueKind::quantity || row->standard.empty()) return false;
    const auto given = parse_quantity(node.text, row->dimension), standard = parse_quantity(row->standard, row->dimension);
    const auto *a = std::get_if<Quantity>(&given), *b = std::get_if<Quantity>(&standard);
    return a != nullptr && b != nullptr && a->value == b->value;
  }

  /// Puts a value in the place of an old one; a new one stands where the shape is written.
  static void write(Node& table, const std::string& key, const std::string& text) {
    Node node;
    node.kind = Node::Kind::from_set;
    node.name = key;
    node.text = text;
    node.written = fmt::format("\"{}\"", text);
    Node* old = table.find(key);
    const Node& at = old != nullptr ? *old : *table.find("shape");
    node.key_place = at.key_place, node.place = at.place;
    if (old != nullptr) {
      *old = std::move(node);
    } else {
      table.children.push_back(std::move(node));
    }
  }

  void add_stay_notes(const Node& root, std::vector<std::string>& notes) const {
    for (const Node& target : root.find("target")->children) {
      const Node* at = target.find("at");
      const bool at_focus = at != nullptr && !at->text.empty() && at->text.rfind("focus of", 0) == 0 &&
                            at->text.find(name_, 8) != std::string::npos;
      if (!at_focus) continue;
      notes.push_back(fmt::format("target.{} stays at the focus of the file's own shape, for the new one has none", target.name));
    }
  }

  const Source& source_;
  std::filesystem::path folder_;  // where files are looked up that the project file names
  const ReadOptions& options_;
  const std::vector<std::string>& shapes_;
  Node root_;
  std::string name_, shape_;  // of the first reflector
  Scene scene_;
  MirrorPattern pattern_;
};

std::vector<Reshaped> bent(const Source& source, const std::filesystem::path& folder, const ReadOptions& options,
                           const std::vector<std::string>& shapes) {
  refuse_words(shapes);
  return Bend(source, folder, options, shapes).all();
}

}  // namespace

std::vector<Reshaped> read_reshaped(const std::filesystem::path& path, const ReadOptions& options,
                                    const std::vector<std::string>& shapes) {
  return bent(read_source(path), path.parent_path(), options, shapes);
}

std::vector<Reshaped> read_reshaped_text(const std::string& text, const std::string& file_name, const ReadOptions& options,
                                         const std::vector<std::string>& shapes) {
  return bent(check_source(text, file_name), std::filesystem::path(file_name).parent_path(), options, shapes);
}

std::vector<std::string> reshape_words() {
  std::vector<std::string> words;
  for (const ShapeRow& row : all_shape_rows()) {
    if (row.reshape) words.emplace_back(row.words.word);
  }
  return words;
}

std::string reshape_rules() {
  std::string lines;
  for (const std::string& word : reshape_words())
    lines += fmt::format("  {:<11} {}\n", word, find_shape_row(word)->reshape->rule);
  return lines;
}

}  // namespace dishwright
