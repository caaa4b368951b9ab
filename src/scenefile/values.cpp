// SPDX-License-Identifier: MIT
#include "scenefile/values.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/nearest.h"

namespace dishwright {

namespace {

constexpr int longest_echo = 48;  // characters of a value in a message

bool is_word_key(std::string_view key) {
  return !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
  });
}

/// Headers of the tables that have the key: "[reflector.NAME] or [target.NAME]".
std::string tables_with(std::string_view key) {
  std::vector<std::string> headers;
  for (const std::string section :
       {"sun", "place", "mount", "sound", "radio", "air", "link", "load", "reflector", "target", "trace"}) {
    if (find_key(section, key, "") == nullptr) continue;
    const bool named = section == "reflector" || section == "target";
    headers.push_back(named ? fmt::format("[{}.NAME]", section) : fmt::format("[{}]", section));
  }
  if (headers.empty() && find_key("lamp", key, "") != nullptr) return "[lamp]";
  return join_words(headers, "or");
}

}  // namespace

std::string echo_of(const std::string& key, const Node& node) {
  if (node.is_table() || node.written.empty()) return fmt::format("{} is {}", key, node.kind_word());
  return fmt::format("{} = {}", key, clipped(node.written, longest_echo));
}

TableReader::TableReader(const Node& table, std::string section, std::string path, Problems& problems)
    : table_(table), section_(std::move(section)), path_(std::move(path)), problems_(problems) {}

const KeyRow& TableReader::row(std::string_view key) const { return *find_key(section_, key, shape_); }

std::string TableReader::full_key(std::string_view key) const {
  const std::string last = is_word_key(key) ? std::string(key) : fmt::format("\"{}\"", clipped(key, 40));
  return path_.empty() ? last : fmt::format("{}.{}", path_, last);
}

std::string TableReader::echo(std::string_view key) const {
  const Node* node = find(key);
  return node == nullptr ? full_key(key) : echo_of(full_key(key), *node);
}

std::string TableReader::write(std::string_view key, std::string_view value) const {
  const Node* node = find(key);
  if (node == nullptr) return fmt::format("add {} = {}", key, value);
  return write_at(*node, row(key), value);
}

std::string TableReader::assign(const Node& node, const KeyRow& row, std::string_view value) const {
  if (node.place.set < 0) return fmt::format("{} = {}", row.key, value);
  std::string plain(value);
  plain.erase(std::remove(plain.begin(), plain.end(), '"'), plain.end());
  return fmt::format("--set '{}={}'", full_key(row.key), plain);
}

std::string TableReader::write_at(const Node& node, const KeyRow& row, std::string_view value) const {
  return "write " + assign(node, row, value);
}

/// The row's example as an assignment; for one entry of a list just a quantity.
std::string TableReader::example_for(const Node& node, const KeyRow& row, const std::string& shown) const {
  if (shown == full_key(row.key)) return assign(node, row, row.example);
  const bool of_wave = row.kind == ValueKind::quantities;  // whose example is one entry
  const std::string entry = of_wave                             ? std::string(row.example.substr(1, row.example.size() - 2))
                            : row.dimension == Dimension::angle ? "5 deg"
                                                                : "24 in";
  return node.place.set < 0 ? fmt::format("\"{}\"", entry) : entry;
}

bool TableReader::was_misspelt(std::string_view key) const {
  return std::find(suggested_.begin(), suggested_.end(), key) != suggested_.end();
}

void TableReader::report_at(const Place& place, const std::string& what, const std::string& why, const std::string& fix) {
  sound_ = false;
  problems_.add(place, what, why, fix);
}

void TableReader::report(std::string_view key, const std::string& what, const std::string& why, const std::string& fix) {
  const Node* node = find(key);
  report_at(node == nullptr ? table_.key_place : node->place, what, why, fix);
}

void TableReader::report_table(const std::string& what, const std::string& why, const std::string& fix) {
  report_at(table_.key_place, what, why, fix);
}

void TableReader::report_elsewhere(std::string_view key, std::vector<Problem> problems) {
  const Node* node = find(key);
  sound_ = false;
  for (Problem& problem : problems)
    problems_.add_elsewhere(node == nullptr ? table_.key_place : node->place, full_key(key), std::move(problem));
}

void TableReader::report_missing(std::string_view key, const std::string& why) {
  if (was_misspelt(key)) return;
  const KeyRow* found = find_key(section_, key, shape_);
  report_table(fmt::format("{} has no {}", path_, key), why, fmt::format("add {} = {}", key, found->example));
}

void TableReader::wrong_kind(const Node& node, const KeyRow& row, const std::string& shown, std::string_view wanted) {
  const bool told_by_value = !node.is_table() && !node.written.empty();
  report_at(node.place,
            told_by_value ? fmt::format("{} is {}, not {}", echo_of(shown, node), node.kind_word(), wanted)
                          : fmt::format("{}, not {}", echo_of(shown, node), wanted),
            fmt::format("{}: {}", row.key, row.help), "write it like " + example_for(node, row, shown));
}

std::optional<std::string> TableReader::words_of(const Node& node, const KeyRow& row) {
  if (node.kind == Node::Kind::text || node.kind == Node::Kind::from_set) return node.text;
  wrong_kind(node, row, full_key(row.key), "words in quotes");
  return std::nullopt;
}

std::optional<std::string> TableReader::text(std::string_view key) {
  const Node* node = find(key);
  return node == nullptr ? std::nullopt : words_of(*node, row(key));
}

std::optional<std::string> TableReader::word(std::string_view key) {
  std::optional<std::string> written = text(key);
  if (!written) return std::nullopt;
  const std::vector<std::string> known = split_words(row(key).words);
  if (std::find(known.begin(), known.end(), *written) != known.end()) return written;
  std::string near = our_word(*written);
  if (std::find(known.begin(), known.end(), near) == known.end()) near = nearest_word(*written, known);
  std::string fix = near.empty() ? fmt::format("write one of them, such as {} = {}", key, row(key).example)
                                 : write(key, fmt::format("\"{}\"", near));
  if (known.size() == 1) fix = write(key, row(key).example) + ", or leave it out";
  const std::string what =
      key == "shape" ? fmt::format("{} is not a shape of a {}", echo(key), section_) : fmt::format("{} is not known", echo(key));
  const std::string why = known.size() == 1
                              ? fmt::format("the only {} is {}", key, known.front())
                              : fmt::format("{} can be {}{}", key, join_words(known, "or"),
                                            row(key).kind == ValueKind::place ? ", or a list of three lengths" : "");
  report(key, what, why, fix);
  return std::nullopt;
}

std::optional<double> TableReader::bare_number(const Node& node, const KeyRow& row, const std::string& shown) {
  const double value = node.kind == Node::Kind::whole ? static_cast<double>(node.whole) : node.decimal;
  const std::string echo = echo_of(shown, node);
  if (!std::isfinite(value)) {
    report_at(node.place, fmt::format("{} is not a number that can be measured", echo),
              "NaN and infinity have no place in a project file", "write it like " + example_for(node, row, shown));
    return std::nullopt;
  }
  if (row.kind == ValueKind::number) return within(node, row, shown, value, nullptr);
  const auto [first, second] = two_usual_units(row.dimension);
  std::string written = node.written.empty() ? short_number(value) : node.written;
  written.erase(std::remove(written.begin(), written.end(), '_'), written.end());
  const std::string with_first = fmt::format("\"{} {}\"", written, first);
  const bool whole_value = row.kind == ValueKind::quantity || shown == full_key(row.key);
  const std::string start = whole_value ? write_at(node, row, with_first) : "write " + with_first;
  const std::string other = first == second ? "" : fmt::format(" or \"{} {}\"", written, second);
  const std::string fix = fmt::format("{}{}, with the quotes", start, other);
  report_at(node.place, fmt::format("{} has no unit", echo),
            fmt::format("{} needs its unit: {}", dimension_word(row.dimension), usual_units(row.dimension)), fix);
  return std::nullopt;
}

std::optional<double> TableReader::parse_measure(const Node& node, const KeyRow& row, const std::string& shown) {
  if (node.kind == Node::Kind::whole || node.kind == Node::Kind::decimal) return bare_number(node, row, shown);
  if (node.kind != Node::Kind::text && node.kind != Node::Kind::from_set) {
    const std::string wanted =
        row.kind == ValueKind::number ? "a number" : fmt::format("{} in quotes", dimension_word(row.dimension));
    wrong_kind(node, row, shown, wanted);
    return std::nullopt;
  }
  const auto parsed = parse_quantity(node.text, row.dimension);
  if (const Quantity* quantity = std::get_if<Quantity>(&parsed)) return within(node, row, shown, quantity->value, quantity->unit);
  BadQuantity bad = std::get<BadQuantity>(parsed);
  // A share whose length has a key of its own: sag_x beside rim_sag_x.
  const KeyRow* as_length = row.kind == ValueKind::number ? find_key(row.section, "rim_" + std::string(row.key), "") : nullptr;
  if (as_length != nullptr && std::holds_alternative<Quantity>(parse_quantity(node.text, Dimension::length))) {
    const std::string share = example_for(node, row, shown), value = node.place.set < 0 ? '"' + node.text + '"' : node.text;
    report_at(node.place, fmt::format("{} {}", echo_of(shown, node), bad.what),
              fmt::format("{} is the share by which the focal length is longer", row.key),
              fmt::format("{}, how far the rim hangs there; or a share, like {}", write_at(node, *as_length, value), share));
    return std::nullopt;
  }
  const std::string_view advice = bad.fix;
  constexpr std::string_view start = "write \"";
  if (advice.empty()) {
    bad.fix = "write it like " + example_for(node, row, shown);
  } else if (advice.substr(0, start.size()) == start && row.kind != ValueKind::triple && row.kind != ValueKind::place) {
    const std::size_t end = advice.find('"', start.size());
    const std::string value(advice.substr(start.size() - 1, end - start.size() + 2));
    bad.fix = write_at(node, row, value) + std::string(node.place.set < 0 ? advice.substr(end + 1) : "");
  }
  if (node.place.set >= 0) bad.fix.erase(std::remove(bad.fix.begin(), bad.fix.end(), '"'), bad.fix.end());
  report_at(node.place, fmt::format("{} {}", echo_of(shown, node), bad.what), bad.why, bad.fix);
  return std::nullopt;
}

std::optional<double> TableReader::within(const Node& node, const KeyRow& row, const std::string& shown, double value,
                                          const Unit* unit) {
  // Rounding of a unit's factor must not push "90 deg" over its own limit.
  constexpr double slack = 1e-12;
  const bool low = row.open_low ? value <= row.low : value < row.low - slack * std::abs(row.low);
  const bool high = row.open_high ? value >= row.high * (1 - slack) : value > row.high * (1 + slack);
  if (!low && !high) return value;
  std::string fault = high ? "is too large" : "is too small";
  if (low && row.low >= 0 && value < 0) fault = "is negative";
  if (low && row.low >= 0 && value == 0) fault = "is zero";
  const std::string interval = interval_text(row, unit != nullptr ? unit : unit_of_example(row));
  const bool entry = shown != full_key(row.key);
  std::string fix = "choose a value in that range, such as " + example_for(node, row, shown);
  const bool forgot_per_cent = row.high <= 1 && value >= 2 && value <= 100 * row.high;
  if (high && row.kind == ValueKind::number && unit == nullptr && forgot_per_cent) {
    fix = write_at(node, row, fmt::format("\"{} %\"", short_number(value))) + " if you mean per cent";
  }
  report_at(node.place, fmt::format("{} {}", echo_of(shown, node), fault),
            fmt::format("{} may be {}", entry ? "each entry" : row.key, interval), fix);
  return std::nullopt;
}

std::optional<double> TableReader::measure(std::string_view key) {
  const Node* node = find(key);
  return node == nullptr ? std::nullopt : parse_measure(*node, row(key), full_key(key));
}

std::optional<double> TableReader::measure_in(std::string_view key, std::string_view unit) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  const bool bare =
      node->kind == Node::Kind::whole || node->kind == Node::Kind::decimal ||
      (node->kind == Node::Kind::from_set && std::holds_alternative<Quantity>(parse_quantity(node->text, Dimension::number)) &&
       node->text.find('%') == std::string::npos);
  if (!bare) return parse_measure(*node, row(key), full_key(key));
  Node with_unit = *node;
  with_unit.kind = Node::Kind::text;
  with_unit.text = fmt::format("{} {}", node->kind == Node::Kind::from_set ? node->text : node->written, unit);
  with_unit.text.erase(std::remove(with_unit.text.begin(), with_unit.text.end(), '_'), with_unit.text.end());
  return parse_measure(with_unit, row(key), full_key(key));
}

std::optional<Moment> TableReader::moment(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  // TOML has times of its own, without quotes.
  const std::optional<std::string> text = node->kind == Node::Kind::date ? node->written : words_of(*node, row(key));
  if (!text) return std::nullopt;
  const auto parsed = parse_moment(*text);
  if (const auto* moment = std::get_if<Moment>(&parsed)) return *moment;
  const BadMoment& bad = std::get<BadMoment>(parsed);
  constexpr std::string_view start = "write \"";
  std::string fix = bad.fix;
  if (fix.starts_with(start)) {
    const std::size_t end = fix.find('"', start.size());
    fix = write(key, fix.substr(start.size() - 1, end - start.size() + 2)) + fix.substr(end + 1);
  } else {
    fix = "write it like " + example_for(*node, row(key), full_key(key));
  }
  report(key, fmt::format("{} {}", echo(key), bad.what), bad.why, fix);
  return std::nullopt;
}

std::optional<double> TableReader::compass_angle(std::string_view key, char plus, char minus) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  const std::size_t last = node->text.find_last_not_of(' ');
  if (last == std::string::npos || (node->text[last] != plus && node->text[last] != minus))
    return parse_measure(*node, row(key), full_key(key));
  Node number = *node;
  number.text = node->text.substr(0, last);
  const std::optional<double> angle = parse_measure(number, row(key), full_key(key));
  if (angle && *angle < 0) {
    report(key, fmt::format("{} has a sign and a letter", echo(key)),
           fmt::format("{} stands for plus, {} for minus", plus, minus), "take one of the two out");
    return std::nullopt;
  }
  return angle && node->text[last] == minus ? -*angle : angle;
}

std::vector<double> TableReader::measures(std::string_view key) {
  constexpr std::size_t most = 1000;
  const Node* node = find(key);
  if (node == nullptr) return {};
  const KeyRow& key_row = row(key);
  const std::string shown = full_key(key);
  if (node->kind != Node::Kind::list || node->table_list) {
    const std::optional<double> value = parse_measure(*node, key_row, shown);
    return value ? std::vector<double>{*value} : std::vector<double>{};
  }
  if (node->children.empty() || node->children.size() > most) {
    report(key,
           node->children.empty() ? fmt::format("{} is an empty list", shown)
                                  : fmt::format("{} has more than {} entries", shown, most),
           fmt::format("it takes one quantity, or a list of 1 to {}", most), write(key, key_row.example));
    return {};
  }
  std::vector<double> found;
  for (std::size_t k = 0; k < node->children.size(); ++k) {
    const auto value = parse_measure(node->children[k], key_row, fmt::format("{}, entry {}", shown, k + 1));
    if (value) found.push_back(*value);
  }
  return found.size() == node->children.size() ? found : std::vector<double>{};
}

double TableReader::measure_or_standard(std::string_view key) {
  if (has(key)) return measure(key).value_or(0);
  const auto parsed = parse_quantity(row(key).standard, row(key).dimension);
  return std::get<Quantity>(parsed).value;
}

std::optional<std::int64_t> TableReader::parse_whole(const Node& node, const KeyRow& row) {
  if (node.kind == Node::Kind::whole) return node.whole;
  if (node.kind == Node::Kind::from_set) {
    std::string digits = node.text;
    digits.erase(std::remove(digits.begin(), digits.end(), '_'), digits.end());
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (error == std::errc() && end == digits.data() + digits.size()) return value;
  }
  const std::string shown = full_key(row.key);
  const bool near = node.kind == Node::Kind::decimal && node.decimal >= row.low && node.decimal <= std::min(row.high, 9e18);
  const std::string value = near ? fmt::format("{:.0f}", std::round(node.decimal)) : std::string(row.example);
  const std::string kind =
      node.kind == Node::Kind::decimal ? "is not a whole number" : fmt::format("is {}, not a whole number", node.kind_word());
  report_at(node.place,
            node.is_table() ? fmt::format("{}, not a whole number", echo_of(shown, node))
                            : fmt::format("{} {}", echo_of(shown, node), kind),
            fmt::format("{} takes digits only, with _ between thousands if you like, and no quotes", row.key),
            (near ? "write " : "write it like ") + assign(node, row, value));
  return std::nullopt;
}

std::optional<std::uint64_t> TableReader::whole(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  const std::optional<std::int64_t> value = parse_whole(*node, row(key));
  if (!value || !within(*node, row(key), full_key(key), static_cast<double>(*value), nullptr)) return std::nullopt;
  return static_cast<std::uint64_t>(*value);
}

std::optional<bool> TableReader::truth(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  if (node->kind == Node::Kind::truth) return node->truth;
  if (node->kind == Node::Kind::from_set && (node->text == "true" || node->text == "false")) return node->text == "true";
  wrong_kind(*node, row(key), full_key(key), "true or false");
  return std::nullopt;
}

std::optional<Vector3> TableReader::triple(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  const KeyRow& key_row = row(key);
  const std::string shown = full_key(key);
  if (node->kind != Node::Kind::list || node->table_list) {
    wrong_kind(*node, key_row, shown,
               fmt::format("a list of three {}s", key_row.dimension == Dimension::angle ? "angle" : "length"));
    return std::nullopt;
  }
  if (node->children.size() != 3) {
    report(key,
           fmt::format("{} has {} {}, not 3", shown, node->children.size(), node->children.size() == 1 ? "entry" : "entries"),
           "it takes one for each of x, y and z",
           write(key, key_row.kind == ValueKind::place ? "[\"0 in\", \"0 in\", \"24 in\"]" : key_row.example));
    return std::nullopt;
  }
  Vector3 found = Vector3::Zero();
  bool whole_list = true;
  for (int i = 0; i < 3; ++i) {
    const std::optional<double> value =
        parse_measure(node->children[static_cast<std::size_t>(i)], key_row, fmt::format("{}, {} entry", shown, "xyz"[i]));
    if (value) found[i] = *value;
    whole_list = whole_list && value.has_value();
  }
  return whole_list ? std::optional<Vector3>(found) : std::nullopt;
}

std::optional<std::array<double, 2>> TableReader::pair(std::string_view key) {
  const Node* node = find(key);
  if (node == nullptr) return std::nullopt;
  const KeyRow& key_row = row(key);
  const std::string shown = full_key(key);
  if (node->kind != Node::Kind::list || node->table_list || node->children.size() != 2) {
    report(key, fmt::format("{} is not a list of two", shown), "it takes x and y", write(key, key_row.example));
    return std::nullopt;
  }
  const auto x = parse_measure(node->children[0], key_row, shown + ", x entry"),
             y = parse_measure(node->children[1], key_row, shown + ", y entry");
  if (!x || !y) return std::nullopt;
  return std::array{*x, *y};
}

void TableReader::refuse_unknown_keys() {
  constexpr std::size_t enough = 1000;  // problems; a file of junk need not be searched to its end
  for (const Node& child : table_.children) {
    if (problems_.count() > enough) return;
    if (find_key(section_, child.name, shape_) == nullptr) refuse_key(child);
  }
}

void TableReader::refuse_key(const Node& child) {
  const std::string& key = child.name;
  const std::string kind = shape_.empty() ? fmt::format("[{}]", path_) : with_article(shape_);
  const std::vector<std::string> known = keys_of(section_, shape_);
  const std::string has = fmt::format("{} has {}", kind, join_words(known, "and"));
  const std::vector<std::string> owners = shapes_with(section_, key);
  if (!owners.empty()) {
    std::string note = fmt::format("take it out, or choose shape = \"{}\"", owners.front());
    report_at(child.key_place, fmt::format("{} is not a key of {}", full_key(key), with_article(shape_)),
              fmt::format("{} belongs to {}; {}", key, join_words(owners, "and"), has), note);
    return;
  }
  std::string near = our_word(key);
  if (std::find(known.begin(), known.end(), near) == known.end()) near = nearest_word(key, known);
  std::string fix = near.empty() ? "take it out, or put # before it" : fmt::format("write {}, the nearest known key", near);
  const std::string home = tables_with(key);
  if (!home.empty()) fix = fmt::format("move it below the header {}", home);
  suggested_.push_back(near);
  report_at(child.key_place, fmt::format("{} is not a known key", full_key(key)), has, fix);
}

}  // namespace dishwright
