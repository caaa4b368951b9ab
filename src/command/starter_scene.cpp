// SPDX-License-Identifier: MIT
#include "command/starter_scene.h"

#include <algorithm>
#include <stdexcept>

#include "base/text.h"
#include "command/starter_texts.h"

namespace dishwright {

namespace {

/// A TOML string in double quotes, with nothing in it that a title may not hold: control characters become spaces.
std::string in_quotes(std::string text) {
  constexpr int longest = 150;  // characters
  for (char& c : text) c = static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? ' ' : c;
  std::string out = "\"";
  for (const char c : clipped(text, longest)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

/// A name for the table: letters, digits, - and _ of the project's name.
std::string table_name(const std::string& name) {
  constexpr std::size_t longest = 60;  // bytes
  std::string stem;
  for (const char c : name.substr(0, longest)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
    stem += plain ? c : '_';
  }
  return stem + "-profile.csv";
}

const char* const how_to_write = R"(
# Lengths and angles are written in quotes, with their unit: "3 1/2 in", "2 ft 6 in", "45 cm",
# "0.25 deg", "4 mrad". Text after # is a note for people; the program passes over it.
# To try a line that starts with #, take the # away.

)";

}  // namespace

const std::vector<std::string>& starter_kinds() {
  static const std::vector<std::string> kinds = [] {
    std::vector<std::string> out;
    for (const StarterText& text : starter_texts()) out.emplace_back(text.kind);
    return out;
  }();
  return kinds;
}

Starter starter_like(const std::string& kind, const std::string& name, const std::string& command) {
  const std::vector<StarterText>& texts = starter_texts();
  const auto found = std::find_if(texts.begin(), texts.end(), [&](const StarterText& text) { return text.kind == kind; });
  if (found == texts.end()) throw std::out_of_range("no starter like " + kind);
  Starter starter;
  starter.scene = std::string("# ") + found->first + " Change a number, save, and trace again:\n#   " + command +
                  "\n\ntitle = " + in_quotes(name) + "\n" + how_to_write + found->rest;
  const std::size_t place = starter.scene.rfind("\"TABLE\"");
  if (place != std::string::npos) {
    starter.table_name = table_name(name), starter.table = starter_profile();
    starter.scene.replace(place + 1, 5, starter.table_name);
  }
  return starter;
}

std::string starter_scene(const std::string& name, const std::string& command) {
  return starter_like(starter_kinds().front(), name, command).scene;
}

}  // namespace dishwright
