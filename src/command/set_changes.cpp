// SPDX-License-Identifier: MIT
#include "command/set_changes.h"

#include <algorithm>

#include "base/text.h"
#include "scenefile/keys.h"
#include "scenefile/overrides.h"

namespace dishwright {

namespace {

constexpr std::size_t widest = 40;  // characters of a value on the sheet

/// As people write it: without the quotes.
std::string shown(std::string text) {
  text.erase(std::remove(text.begin(), text.end(), '"'), text.end());
  return clipped(printable(text), widest);
}

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(" \t");
  return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

/// The value of a key in the file, else its standard one; empty where it has neither.
std::string value_in(const Node& root, const std::vector<std::string>& key) {
  const Node* node = &root;
  for (const std::string& part : key) {
    const Node* inner = node->is_table() ? node->find(part) : nullptr;
    const std::size_t entry = part == "x" ? 0 : part == "y" ? 1 : part == "z" ? 2 : 3;
    if (inner == nullptr && node->kind == Node::Kind::list && entry < node->children.size()) inner = &node->children[entry];
    node = inner;
    if (node == nullptr) break;
  }
  if (node != nullptr) return shown(node->kind == Node::Kind::text ? node->text : node->written);
  const KeyRow* row = key.size() >= 2 ? find_key(key.front(), key.back(), "") : nullptr;
  return row != nullptr && key.size() <= 3 ? shown(std::string(row->standard)) : "";
}

}  // namespace

std::vector<SetChange> set_changes(const ProjectFile& file, const std::vector<std::string>& set) {
  const Node root = file.document(ReadOptions{});
  std::vector<SetChange> changes;
  std::vector<std::string> keys;
  for (const std::string& option : set) {
    const std::size_t equals = option.find('=');
    if (equals == std::string::npos) continue;
    const std::string name = trimmed(option.substr(0, equals));
    const std::vector<std::string> key = split_key(name);
    if (key.empty()) continue;
    const SetChange change{key.size() > 3 ? key[key.size() - 2] + "." + key.back() : key.back(), value_in(root, key),
                           shown(trimmed(option.substr(equals + 1)))};
    const auto before = std::find(keys.begin(), keys.end(), name);
    if (before != keys.end()) {
      changes[static_cast<std::size_t>(before - keys.begin())] = change;
    } else {
      keys.push_back(name), changes.push_back(change);
    }
  }
  std::erase_if(changes, [](const SetChange& one) { return one.from == one.to; });
  return changes;
}

}  // namespace dishwright
