// SPDX-License-Identifier: MIT
#include "scenefile/vary.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/nearest.h"
#include "base/text.h"
#include "scenefile/overrides.h"

namespace dishwright {

namespace {

const char* const example = "write it like --vary 'sun.aim_error=0 deg:4 deg:21': 21 values from 0 to 4 degrees";

[[noreturn]] void refuse(const std::string& option, const std::string& what, const std::string& why, const std::string& fix) {
  throw InputError(fmt::format("--vary {}: {}", clipped(printable(option), 80), what), why, fix);
}

std::string trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return std::string(text.substr(from, text.find_last_not_of(" \t") - from + 1));
}

/// Kinds of keys that can vary. A list of frequencies varies as one frequency.
bool holds_a_number(ValueKind kind) {
  return kind == ValueKind::quantity || kind == ValueKind::quantities || kind == ValueKind::number || kind == ValueKind::whole ||
         kind == ValueKind::moment;
}

/// KEY=FROM:TO:COUNT, cut at its = and its last two colons.
struct Written {
  std::string option, key, from, to, count;
};

/// "2026-06-21…"
bool begins_with_date(std::string_view text) {
  constexpr std::string_view form = "0000-00-00";
  if (text.size() < form.size()) return false;
  for (std::size_t k = 0; k < form.size(); ++k) {
    const bool digit = text[k] >= '0' && text[k] <= '9';
    if (form[k] == '0' ? !digit : text[k] != '-') return false;
  }
  return true;
}

Written cut(const std::string& option) {
  const std::size_t equals = option.find('='), last = option.rfind(':'),
                    middle = last == std::string::npos || last == 0 ? std::string::npos : option.rfind(':', last - 1);
  if (equals == std::string::npos || middle == std::string::npos || middle < equals)
    refuse(option, "this is not KEY=FROM:TO:COUNT", "it takes a key, its first and last value, and how many values", example);
  // Of two times: the colon that a date follows.
  const std::string_view ends = std::string_view(option).substr(equals + 1, last - equals - 1);
  for (std::size_t colon = ends.find(':'); colon != std::string_view::npos; colon = ends.find(':', colon + 1)) {
    if (!begins_with_date(trimmed(ends.substr(colon + 1)))) continue;
    return {option, trimmed(option.substr(0, equals)), trimmed(ends.substr(0, colon)), trimmed(ends.substr(colon + 1)),
            trimmed(option.substr(last + 1))};
  }
  return {option, trimmed(option.substr(0, equals)), trimmed(option.substr(equals + 1, middle - equals - 1)),
          trimmed(option.substr(middle + 1, last - middle - 1)), trimmed(option.substr(last + 1))};
}

std::size_t read_count(const Written& written) {
  const bool digits =
      !written.count.empty() && written.count.size() <= 12 && written.count.find_first_not_of("0123456789") == std::string::npos;
  if (!digits)
    refuse(written.option, fmt::format("\"{}\" is not a count", written.count), "behind the last colon stands how many values",
           example);
  const unsigned long long count = std::stoull(written.count);
  if (count < 2)
    refuse(written.option, "a sweep needs at least 2 values", "one value is a plain trace",
           "use --set and trace, or a larger count");
  if (count > most_sweep_points)
    refuse(written.option, fmt::format("{} values are too many", count),
           fmt::format("a sweep has at most {} points", most_sweep_points), "take fewer: 21 make a smooth line");
  return count;
}

/// Where a key stands: its row in the key table, and the entry of a list of three (−1: the key itself).
struct Found {
  const KeyRow* row = nullptr;
  std::vector<std::string> parts;  // without the entry
  int entry = -1;
};

const Node* walk_to(const Node& root, const std::vector<std::string>& parts, std::size_t count) {
  const Node* node = &root;
  for (std::size_t i = 0; i < count && node != nullptr; ++i) node = node->is_table() ? node->find(parts[i]) : nullptr;
  return node;
}

/// All keys that could be varied, for the remedy.
std::vector<std::string> numeric_keys(const Node& root) {
  std::vector<std::string> names;
  const auto add = [&](const std::string& section, const std::string& path, const std::string& shape) {
    for (const std::string& key : keys_of(section, shape)) {
      const KeyRow* row = find_key(section, key, shape);
      if (row == nullptr) continue;
      if (holds_a_number(row->kind)) names.push_back(path + "." + key);
      if (row->kind == ValueKind::triple) {
        for (const char* axis : {".x", ".y", ".z"}) names.push_back(path + "." + key + axis);
      }
    }
  };
  for (const Node& node : root.children) {
    if (!node.is_table()) continue;
    if (node.name == "reflector" || node.name == "target") {
      for (const Node& thing : node.children) {
        const Node* shape = thing.is_table() ? thing.find("shape") : nullptr;
        if (shape != nullptr) add(node.name, node.name + "." + thing.name, shape->text);
      }
    } else {
      const Node* shape = node.find("shape");
      add(node.name, node.name, shape != nullptr ? shape->text : "");
    }
  }
  return names;
}

/// The key that was meant: like it as a whole, or in the same table like its last part or with that as its beginning.
std::string nearest_key(const std::string& key, const Node& root) {
  const std::vector<std::string> known = numeric_keys(root);
  // sun.aim is meant for sun.aim_error, not for the shorter sun.time.
  for (const std::string& one : known) {
    if (one.starts_with(key + "_")) return one;
  }
  std::string near = nearest_word(key, known);
  if (!near.empty()) return near;
  const std::string table = key.substr(0, key.rfind('.') + 1);
  std::vector<std::string> endings;
  for (const std::string& one : known) {
    if (table.empty() || !one.starts_with(table)) continue;
    if (one.starts_with(key)) return one;
    endings.push_back(one.substr(table.size()));
  }
  const std::string ending = table.empty() ? "" : nearest_word(key.substr(table.size()), endings);
  return ending.empty() ? "" : table + ending;
}

Found find_row(const Written& written, const Node& root) {
  Found found;
  std::vector<std::string> parts = split_key(written.key);
  const auto look = [&](const std::vector<std::string>& key) -> const KeyRow* {
    if (key.size() == 4 && key[0] == "reflector") return find_key(key[2], key[3], "");
    const bool named = key.size() == 3 && (key[0] == "reflector" || key[0] == "target");
    if (!named && key.size() != 2) return nullptr;
    const Node* table = walk_to(root, key, key.size() - 1);
    if (table == nullptr || !table->is_table()) return nullptr;
    const Node* shape = table->find("shape");
    return find_key(key[0], key.back(), shape != nullptr ? shape->text : "");
  };
  found.row = look(parts);
  found.parts = parts;
  if (found.row == nullptr && parts.size() > 2) {
    const std::string axis = parts.back();
    parts.pop_back();
    const KeyRow* row = look(parts);
    const bool list = row != nullptr && (row->kind == ValueKind::triple || row->kind == ValueKind::place);
    if (list && (axis == "x" || axis == "y" || axis == "z")) found = {row, parts, axis[0] - 'x'};
  }
  const std::string fix_unknown = "name a key as in --set, such as sun.aim_error or reflector.dish.slope_error";
  if (found.row == nullptr) {
    std::string near = nearest_key(written.key, root);
    refuse(written.option, fmt::format("{} is not a key of this file", clipped(printable(written.key), 60)),
           "only what the file's tables can hold can vary",
           near.empty() ? fix_unknown : fmt::format("write {}, the nearest known key", near));
  }
  const ValueKind kind = found.row->kind;
  if (found.entry < 0 && (kind == ValueKind::triple || kind == ValueKind::place))
    refuse(written.option, fmt::format("{} holds three values", written.key), "one value at a time can vary",
           fmt::format("write {0}.x, {0}.y or {0}.z", written.key));
  if (found.entry < 0 && !holds_a_number(kind))
    refuse(written.option, fmt::format("{} holds words, not a number", written.key), "only numbers and quantities can vary",
           kind == ValueKind::word && written.key.ends_with("shape") ? "compare --shape puts shapes side by side"
                                                                     : "choose a key with a number");
  return found;
}

Quantity read_end(const Written& written, const std::string& text, const KeyRow& row) {
  const auto parsed = parse_quantity(text, row.dimension);
  if (const auto* bad = std::get_if<BadQuantity>(&parsed))
    refuse(written.option, fmt::format("\"{}\" {}", clipped(printable(text), 40), bad->what), bad->why,
           bad->fix.empty() ? fmt::format("each end carries its unit; the key is written like {}", row.example) : bad->fix);
  const Quantity quantity = std::get<Quantity>(parsed);
  if (!std::isfinite(quantity.value)) refuse(written.option, fmt::format("\"{}\" is not a finite number", text), "", example);
  return quantity;
}

/// A value as --set takes it, in the unit of the first end; the shortest text that reads back as the same number.
std::string value_text(double value, const KeyRow& row, const Unit* unit) {
  if (row.kind == ValueKind::whole) return fmt::format("{:.0f}", value);
  if (unit == nullptr) return fmt::format("{}", value);
  return fmt::format("{} {}", (value - unit->zero) / unit->scale, unit->symbol);
}

/// The other entries of a list stay as the file has them; a list that is not there is all zeros.
std::string list_text(const Written& written, const Found& found, const Node& root, const std::string& entry,
                      Dimension dimension) {
  const Node* list = walk_to(root, found.parts, found.parts.size());
  const bool is_list = list != nullptr && list->kind == Node::Kind::list && list->children.size() == 3;
  if (list != nullptr && !is_list)
    refuse(written.option, fmt::format("the file's {} is not a list of three", found.parts.back()),
           "one entry of a list can vary",
           found.row->kind == ValueKind::place ? "vary offset instead of at" : "write the list in the file first");
  if (list == nullptr && found.row->kind == ValueKind::place)
    refuse(written.option, fmt::format("the file has no {}", found.parts.back()), "one entry of a list can vary",
           "write the list in the file first");
  const std::string zero = dimension == Dimension::angle ? "0 deg" : "0 m";
  std::string out = "[";
  for (int k = 0; k < 3; ++k) {
    const std::string other = is_list ? list->children[static_cast<std::size_t>(k)].text : zero;
    out += (k == 0 ? "" : ", ") + (k == found.entry ? entry : other.empty() ? zero : other);
  }
  return out + "]";
}

/// A value of the file, or a standard one of the key table, in SI; empty where it is none that can be read.
std::optional<double> value_of(const std::string& text, Dimension dimension) {
  const auto parsed = parse_quantity(text, dimension);
  const auto* quantity = std::get_if<Quantity>(&parsed);
  return quantity != nullptr && std::isfinite(quantity->value) ? std::optional(quantity->value) : std::nullopt;
}

/// What the key has without --vary: as it stands in the file, or the standard value; an entry of a list that is not there is 0.
std::optional<double> own_value(const Found& found, const Node& root) {
  const Node* node = walk_to(root, found.parts, found.parts.size());
  if (found.entry >= 0) {
    if (node == nullptr) return found.row->kind == ValueKind::triple ? std::optional(0.0) : std::nullopt;
    if (node->kind != Node::Kind::list || node->children.size() != 3) return std::nullopt;
    node = &node->children[static_cast<std::size_t>(found.entry)];
  }
  if (node == nullptr)
    return found.row->standard.empty() ? std::nullopt : value_of(std::string(found.row->standard), found.row->dimension);
  if (node->kind == Node::Kind::whole) return static_cast<double>(node->whole);
  if (node->kind == Node::Kind::decimal) return node->decimal;
  const bool words = node->kind == Node::Kind::text || node->kind == Node::Kind::from_set;
  return words ? value_of(node->text, found.row->dimension) : std::nullopt;
}

std::string key_without_entry(const Found& found) {
  std::string key;
  for (const std::string& part : found.parts) {
    const bool plain = part.find_first_of(". ") == std::string::npos;
    key += (key.empty() ? "" : ".") + (plain ? part : "\"" + part + "\"");
  }
  return key;
}

void check_whole_steps(const Written& written, double from, double to, std::size_t count) {
  const double step = (to - from) / static_cast<double>(count - 1);
  if (from == std::floor(from) && step == std::floor(step)) return;
  refuse(written.option, fmt::format("{} values from {} to {} are not whole numbers", count, written.from, written.to),
         fmt::format("{} counts whole things", written.key), "choose ends and a count with whole steps, such as 8:24:17");
}

Moment read_time(const Written& written, const std::string& text) {
  const auto parsed = parse_moment(text);
  if (const auto* bad = std::get_if<BadMoment>(&parsed))
    refuse(written.option, fmt::format("\"{}\" {}", clipped(printable(text), 40), bad->what), bad->why,
           "write it like --vary 'sun.time=2026-06-21T10:00-05:00:2026-06-21T12:00-05:00:13': 13 times from 10 to 12");
  return std::get<Moment>(parsed);
}

/// Times, in seconds of FROM's clock since the midnight before it.
Variation read_times(const Written& written, const Found& found, const Node& root) {
  const Moment from = read_time(written, written.from), to = read_time(written, written.to);
  if (from.seconds == to.seconds)
    refuse(written.option, "both ends are the same", "nothing would vary", "give FROM and TO different values, or use trace");
  const std::size_t count = read_count(written);
  const auto* hour = std::find_if(all_units().data(), all_units().data() + all_units().size(),
                                  [](const Unit& unit) { return unit.symbol == "h"; });
  Variation out{written.key, Dimension::time, hour, {}, {}, {}, false, midnight_before(from)};
  const Node* node = walk_to(root, found.parts, found.parts.size());
  const auto own = node == nullptr ? parse_moment("") : parse_moment(node->kind == Node::Kind::date ? node->written : node->text);
  if (const auto* moment = std::get_if<Moment>(&own)) out.own = clock_seconds(*moment, from);
  for (std::size_t k = 0; k < count; ++k) {
    const double share = static_cast<double>(k) / static_cast<double>(count - 1);
    Moment moment = k + 1 == count ? to : later(from, share * (to.seconds - from.seconds));
    moment.offset = from.offset;
    out.values.push_back(clock_seconds(moment, from));
    out.set.push_back(fmt::format("{}={}", written.key, moment_text(moment)));
  }
  return out;
}

Variation read_one(const std::string& option, const Node& root) {
  const Written written = cut(option);
  const Found found = find_row(written, root);
  const KeyRow& row = *found.row;
  if (row.kind == ValueKind::moment) return read_times(written, found, root);
  const Quantity from = read_end(written, written.from, row), to = read_end(written, written.to, row);
  if (from.value == to.value)
    refuse(option, "both ends are the same", "nothing would vary", "give FROM and TO different values, or use trace");
  const std::size_t count = read_count(written);
  if (row.kind == ValueKind::whole) check_whole_steps(written, from.value, to.value, count);
  Variation out{written.key, row.dimension, from.unit, {}, {}, own_value(found, root), row.kind == ValueKind::whole};
  for (std::size_t k = 0; k < count; ++k) {
    const double share = static_cast<double>(k) / static_cast<double>(count - 1);
    const double value = k + 1 == count ? to.value : from.value + share * (to.value - from.value);
    out.values.push_back(value);
    const std::string entry = value_text(value, row, from.unit);
    out.set.push_back(
        found.entry < 0 ? fmt::format("{}={}", written.key, entry)
                        : fmt::format("{}={}", key_without_entry(found), list_text(written, found, root, entry, row.dimension)));
  }
  return out;
}

}  // namespace

std::vector<Variation> read_variations(const ProjectFile& file, const ReadOptions& options,
                                       const std::vector<std::string>& vary) {
  if (vary.empty() || vary.size() > 2)
    throw InputError(fmt::format("--vary was given {} times", vary.size()), "a sweep varies one key, or two", example);
  const Node root = file.document(options);
  std::vector<Variation> all;
  std::size_t points = 1;
  for (const std::string& option : vary) {
    all.push_back(read_one(option, root));
    points *= all.back().values.size();
  }
  if (all.size() == 2 && all[0].key == all[1].key)
    refuse(vary[1], "the same key twice", "two keys can vary, each by itself", "take one of them out");
  const auto set_key = [](const Variation& one) { return one.set.front().substr(0, one.set.front().find('=')); };
  if (all.size() == 2 && set_key(all[0]) == set_key(all[1]))
    refuse(vary[1], fmt::format("{} and {} stand in one list", all[0].key, all[1].key),
           "a point gives a list as a whole, so the second would undo the first",
           "vary one of them, and set the other with --set");
  if (points > most_sweep_points)
    refuse(vary.back(), fmt::format("{} points in all are too many", points),
           fmt::format("a sweep has at most {}", most_sweep_points), "take fewer values");
  return all;
}

}  // namespace dishwright
