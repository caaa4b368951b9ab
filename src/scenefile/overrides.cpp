// SPDX-License-Identifier: MIT
#include "scenefile/overrides.h"

#include <fmt/format.h>

#include <algorithm>

namespace dishwright {

namespace {

constexpr int prefix = 6;  // characters of "--set "

std::string_view trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

/// Place of bytes [from, from + size) of an option.
Place place_in(const std::string& option, int number, std::size_t from, std::size_t size) {
  Place place;
  place.set = number;
  place.line = 0;
  place.column = prefix + character_count(std::string_view(option).substr(0, from)) + 1;
  place.width = std::max(1, character_count(std::string_view(option).substr(from, size)));
  return place;
}

Node single(const std::string& option, int number, std::string_view value) {
  Node node;
  node.kind = Node::Kind::from_set;
  value = trimmed(value);
  const std::size_t from = value.empty() ? option.size() : static_cast<std::size_t>(value.data() - option.data());
  node.place = place_in(option, number, from, value.size());
  const bool in_quotes = value.size() >= 2 && value.front() == value.back() && (value.front() == '"' || value.front() == '\'');
  node.text = std::string(in_quotes ? value.substr(1, value.size() - 2) : value);
  const bool one_word = value.find_first_of(" \t\"") == std::string_view::npos && !value.empty();
  node.written = in_quotes || one_word ? std::string(value) : fmt::format("\"{}\"", value);
  return node;
}

/// A value, or a list where it stands in [ ].
Node parse_value(const std::string& option, int number, std::string_view value) {
  const std::string_view inside = trimmed(value);
  if (inside.size() < 2 || inside.front() != '[' || inside.back() != ']') return single(option, number, value);
  Node list;
  list.kind = Node::Kind::list;
  list.written = std::string(inside);
  list.place = place_in(option, number, static_cast<std::size_t>(inside.data() - option.data()), inside.size());
  std::string_view rest = trimmed(inside.substr(1, inside.size() - 2));
  constexpr std::size_t most_elements = 1001;  // the keys take 1000 at most
  while (!rest.empty() && list.children.size() < most_elements) {
    const std::size_t comma = std::min(rest.find(','), rest.size());
    list.children.push_back(single(option, number, rest.substr(0, comma)));
    rest.remove_prefix(std::min(rest.size(), comma + 1));
  }
  return list;
}

/// Walks down to the table that holds the last part of the key, making tables on the way.
Node* open_table(Node& root, const std::vector<std::string>& parts, const Place& key_place, Problems& problems) {
  Node* table = &root;
  for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
    Node* next = table->find(parts[i]);
    if (next != nullptr && !next->is_table()) {
      problems.add(key_place, fmt::format("{} is {}, not a table", clipped(parts[i], 60), next->kind_word()),
                   "a key with dots goes through tables", "write a key of the file, such as reflector.dish.width");
      return nullptr;
    }
    if (next == nullptr) {
      Node made;
      made.name = parts[i];
      made.key_place = made.place = key_place;
      table->children.push_back(std::move(made));
      next = &table->children.back();
    }
    table = next;
  }
  return table;
}

void apply(const std::string& option, int number, Node& root, Problems& problems) {
  const std::size_t equals = option.find('=');
  const std::string_view key = std::string_view(option).substr(0, equals);
  const Place key_place = place_in(option, number, 0, key.size());
  const std::string example = "write it like --set 'reflector.dish.width=36 in'";
  if (equals == std::string::npos) return problems.add(key_place, "this --set has no =", "it takes KEY=VALUE", example);
  const std::vector<std::string> parts = split_key(trimmed(key));
  constexpr std::size_t most_parts = 8;
  if (parts.empty() || parts.size() > most_parts) {
    return problems.add(key_place, fmt::format("\"{}\" is not a key", clipped(key, 60)),
                        "a key is made of names with dots between them", example);
  }
  Node value = parse_value(option, number, std::string_view(option).substr(equals + 1));
  Node* table = open_table(root, parts, key_place, problems);
  if (table == nullptr) return;
  value.name = parts.back();
  value.key_place = key_place;
  Node* old = table->find(parts.back());
  if (old == nullptr) {
    table->children.push_back(std::move(value));
  } else if (old->is_table()) {
    problems.add(key_place, fmt::format("{} is a table, not a value", clipped(key, 60)), "--set changes one value",
                 fmt::format("name a key in it, such as {}.width", clipped(key, 60)));
  } else {
    *old = std::move(value);
  }
}

}  // namespace

std::vector<std::string> split_key(std::string_view key) {
  std::vector<std::string> parts(1);
  bool in_quotes = false;
  for (const char c : key) {
    if (c == '"') {
      in_quotes = !in_quotes;
    } else if (c == '.' && !in_quotes) {
      parts.emplace_back();
    } else {
      parts.back() += c;
    }
  }
  const bool gap = std::any_of(parts.begin(), parts.end(), [](const std::string& part) { return part.empty(); });
  return gap || in_quotes ? std::vector<std::string>{} : parts;
}

void apply_overrides(const std::vector<std::string>& set, Node& root, Problems& problems,
                     const std::function<bool(const std::vector<std::string>& key)>& takes) {
  for (std::size_t i = 0; i < set.size(); ++i) {
    if (takes && !takes(split_key(trimmed(std::string_view(set[i]).substr(0, set[i].find('=')))))) continue;
    apply(set[i], static_cast<int>(i), root, problems);
  }
}

}  // namespace dishwright
