// SPDX-License-Identifier: MIT
// What [reflector.NAME] and [target.NAME] have in common.
#include <fmt/format.h>

#include <algorithm>

#include "base/nearest.h"
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

constexpr int longest_name = 40;  // characters

std::string example_name(const std::string& section) { return section == "reflector" ? "dish" : "kettle"; }

/// Names go into ledgers, file names and dotted keys.
bool usable_name(const std::string& name) {
  if (name.empty() || name.front() == ' ' || name.back() == ' ' || character_count(name) > longest_name) return false;
  if (printable(name) != name) return false;
  return std::all_of(name.begin(), name.end(), [](char c) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    return plain || c == '-' || c == '_' || c == ' ' || (c & '\x80') != 0;
  });
}

void refuse_section(const Node& node, const std::string& section, Problems& problems) {
  const std::string name = example_name(section);
  const std::string fix = fmt::format("write a header [{}.{}] and its keys below it", section, name);
  if (node.table_list) {
    problems.add(node.place, fmt::format("[[{}]] has two brackets", section),
                 fmt::format("each {} has a name of its own instead", section), fix);
    return;
  }
  const std::string what = node.written.empty() ? fmt::format("{} is {}, not a table", section, node.kind_word())
                                                : fmt::format("{} is {}, not a table", echo_of(section, node), node.kind_word());
  problems.add(node.place, what, fmt::format("a {} is a table with a name", section), fix);
}

/// A --set that names a thing which the file does not have: most likely a slip in the name.
bool made_by_set(const Node& node) { return node.key_place.set >= 0 && node.find("shape") == nullptr; }

void refuse_made(const Node& node, const Node& all, const std::string& section, Problems& problems) {
  std::vector<std::string> names;
  for (const Node& other : all.children) {
    if (&other != &node && other.is_table()) names.push_back(other.name);
  }
  const std::string near = nearest_word(node.name, names);
  const std::string fix = !near.empty()   ? fmt::format("write {}.{}, the nearest name", section, near)
                          : names.empty() ? fmt::format("add a table [{}.{}] to the file", section, node.name)
                                          : fmt::format("write one of the names in the file: {}", join_words(names, "or"));
  problems.add(node.key_place, fmt::format("there is no {} named {}", section, node.name),
               "--set changes things that the file has", fix);
}

}  // namespace

std::vector<const Node*> named_tables(const Node& root, const std::string& section, Problems& problems) {
  std::vector<const Node*> tables;
  const Node* all = root.find(section);
  if (all == nullptr) return tables;
  if (!all->is_table()) {
    refuse_section(*all, section, problems);
    return tables;
  }
  const auto stray =
      std::find_if(all->children.begin(), all->children.end(), [](const Node& child) { return !child.is_table(); });
  if (stray != all->children.end() && find_key(section, stray->name, "") != nullptr) {
    problems.add(all->key_place.set >= 0 ? stray->key_place : all->key_place, fmt::format("[{}] has no name", section),
                 fmt::format("{} is a key of one {}, and each {} has a name for the results", stray->name, section, section),
                 fmt::format("write [{}.{}], with a name you like", section, example_name(section)));
    return tables;
  }
  for (const Node& child : all->children) {
    if (child.table_list) {
      problems.add(child.place, fmt::format("{} has two brackets", clipped(child.written, longest_name)),
                   fmt::format("each {} has a name of its own instead", section),
                   fmt::format("write [{}.{}]", section, usable_name(child.name) ? child.name : example_name(section)));
    } else if (!child.is_table()) {
      problems.add(child.place, fmt::format("{} is not a table", echo_of(section + "." + child.name, child)),
                   fmt::format("each {} is a table with keys", section),
                   fmt::format("write a header [{}.{}] and its keys below it", section,
                               usable_name(child.name) ? child.name : example_name(section)));
    } else if (!usable_name(child.name)) {
      problems.add(child.key_place, fmt::format("\"{}\" cannot be the name of a {}", clipped(child.name, longest_name), section),
                   fmt::format("a name has 1 to {} letters, digits, spaces, - or _", longest_name),
                   fmt::format("write [{}.{}]", section, example_name(section)));
    } else if (made_by_set(child)) {
      refuse_made(child, *all, section, problems);
    } else {
      tables.push_back(&child);
    }
  }
  if (all->children.empty()) {
    problems.add(all->key_place, fmt::format("[{}] has no name and no keys", section),
                 fmt::format("each {} has a name and a shape", section),
                 fmt::format("write [{}.{}] and its keys below it", section, example_name(section)));
  }
  return tables;
}

bool read_shape(TableReader& table, const Node& node) {
  const std::optional<std::string> shape = table.word("shape");
  if (shape) {
    table.set_shape(*shape);
  } else if (node.find("shape") == nullptr) {
    const std::string section = table.path().substr(0, table.path().find('.'));
    table.report_missing("shape", fmt::format("a {} can be {}", section, join_words(shapes_of(section), "or")));
  }
  table.refuse_unknown_keys();
  return shape.has_value();
}

}  // namespace dishwright
