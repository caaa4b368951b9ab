// SPDX-License-Identifier: MIT
#include "command/missing_quotes.h"

#include <algorithm>
#include <filesystem>

#include "base/quantity.h"
#include "command/example_files.h"

namespace dishwright {

namespace {

bool is_unit(const std::string& word) {
  const std::vector<Unit>& units = all_units();
  return std::any_of(units.begin(), units.end(), [&](const Unit& unit) { return unit.symbol == word; }) || word == "%" ||
         word == "°";
}

/// "deg:4" of 'sun.aim_error=0 deg:4 deg:21'; "6" or "1/2" of a length in two parts.
bool continues_value(const std::string& value, const std::string& word) {
  const std::size_t colon = word.find(':');
  if (colon != std::string::npos && is_unit(word.substr(0, colon))) return true;
  const bool number = !word.empty() && word.find_first_not_of("0123456789./") == std::string::npos;
  return number && !value.empty() && value.find_first_of("0123456789") != std::string::npos;
}

/// A name that ends as files do.
bool ends_like_file(const std::string& word) {
  return std::filesystem::path(word).has_extension() || word.find('/') != std::string::npos;
}

}  // namespace

std::size_t torn_off(const OptionWords& option, const std::string& value, const std::vector<std::string>& following, bool room) {
  if (option.value.empty() || !option.choices.empty() || following.empty()) return 0;
  const std::string& first = following.front();
  const bool part = is_unit(first) || continues_value(value, first);
  if (!part && (room || is_there(first) || ends_like_file(first))) return 0;
  if (is_there(first) && !is_unit(first)) return 0;
  std::size_t count = 1;
  while (count < following.size() && !is_there(following[count]) &&
         (!ends_like_file(following[count]) || following[count].find(':') != std::string::npos ||
          continues_value(value, following[count])))
    ++count;
  return count;
}

std::string joined_file(const std::vector<std::string>& words) {
  std::string name;
  for (const std::string& word : words) {
    name += (name.empty() ? "" : " ") + word;
    if (name != words.front() && is_there(name)) return name;
  }
  return "";
}

}  // namespace dishwright
