// SPDX-License-Identifier: MIT
#include "scenefile/document.h"

// Its asserts would end the program on bad input; without them it goes on to report the error (see also prescan.cpp).
#define TOML_ASSERT(expr) static_assert(true)
#include <toml++/toml.h>

#include <algorithm>
#include <tuple>

#include "scenefile/syntax.h"

namespace dishwright {

namespace {

constexpr std::size_t most_elements = 1001;  // of a list; the keys take 1000 at most

Place place_of(const toml::source_region& region, const Source& source) {
  Place place;
  place.line = static_cast<int>(region.begin.line);
  place.column = static_cast<int>(region.begin.column);
  const int line_end = character_count(source.line(place.line).substr(0, 10'000)) + 1;
  const int end = region.end.line == region.begin.line ? static_cast<int>(region.end.column) : line_end;
  place.width = std::max(1, end - place.column);
  return place;
}

Node convert(const toml::node& from, const Source& source);

void convert_table(const toml::table& table, const Source& source, Node& node) {
  for (const auto& [key, value] : table) {
    Node child = convert(value, source);
    child.name = std::string(key.str());
    child.key_place = child.is_table() && !value.as_table()->is_inline() ? child.place : place_of(key.source(), source);
    node.children.push_back(std::move(child));
  }
  // The library sorts keys by name; people mean the order of the file.
  std::stable_sort(node.children.begin(), node.children.end(), [](const Node& a, const Node& b) {
    return std::tie(a.key_place.line, a.key_place.column) < std::tie(b.key_place.line, b.key_place.column);
  });
}

Node convert(const toml::node& from, const Source& source) {
  Node node;
  node.place = place_of(from.source(), source);
  node.written = source.slice(node.place.line, node.place.column, node.place.column + std::min(node.place.width, 200));
  if (const auto* table = from.as_table()) {
    convert_table(*table, source, node);
  } else if (const auto* list = from.as_array()) {
    node.kind = Node::Kind::list;
    node.table_list = !list->empty() && list->is_array_of_tables() && node.written.rfind("[[", 0) == 0;
    for (const toml::node& element : *list) {
      if (node.children.size() == most_elements) break;
      node.children.push_back(convert(element, source));
    }
  } else if (const auto* text = from.as_string()) {
    node.kind = Node::Kind::text;
    node.text = text->get();
  } else if (const auto* whole = from.as_integer()) {
    node.kind = Node::Kind::whole;
    node.whole = whole->get();
  } else if (const auto* decimal = from.as_floating_point()) {
    node.kind = Node::Kind::decimal;
    node.decimal = decimal->get();
  } else if (const auto* truth = from.as_boolean()) {
    node.kind = Node::Kind::truth;
    node.truth = truth->get();
  } else {
    node.kind = Node::Kind::date;
  }
  return node;
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  const auto found = std::find_if(children.begin(), children.end(), [&](const Node& child) { return child.name == key; });
  return kind != Kind::table || found == children.end() ? nullptr : &*found;
}

Node* Node::find(std::string_view key) { return const_cast<Node*>(static_cast<const Node*>(this)->find(key)); }

std::string Node::kind_word() const {
  switch (kind) {
    case Kind::table: return "a table";
    case Kind::list: return table_list ? "a list of tables" : "a list";
    case Kind::text: return "a text";
    case Kind::whole: return "a whole number";
    case Kind::decimal: return "a number";
    case Kind::truth: return "a true/false value";
    case Kind::date: return "a date or time";
    case Kind::from_set: return "a text";
  }
  return "";
}

Node parse_document(const Source& source) {
  // The library reads up to the line of a fault that it must not see, so that the first error of the file is the one that is
  // told.
  const std::optional<Problem> fault = prescan(source);
  const std::string_view text = fault ? source.before_line(fault->line) : std::string_view(source.text());
  try {
    const toml::table table = toml::parse(text);
    if (!fault) return convert(table, source);
  } catch (const toml::parse_error& error) {
    const toml::source_region& region = error.source();
    const Place at{static_cast<int>(region.begin.line), static_cast<int>(region.begin.column), 1, -1};
    const bool cut_off = error.description().find("end-of-file") != std::string_view::npos;
    if (!fault || (at.line < fault->line && !cut_off))
      throw InputError(std::vector<Problem>{explain_syntax(source, at, error.description())});
  }
  throw InputError(std::vector<Problem>{*fault});
}

}  // namespace dishwright
