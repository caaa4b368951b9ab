// SPDX-License-Identifier: MIT
#include "page/question.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "base/error.h"
#include "base/text.h"
#include "report/numbers/json_quantity.h"

namespace dishwright {

namespace {

[[noreturn]] void refuse(const std::string& key, const Json& value, const std::string& wanted) {
  const std::string shown = clipped(printable(value.dump(-1, ' ', false, Json::error_handler_t::replace)), 60);
  throw InputError(fmt::format("{} = {}: this cannot be asked", printable(key), shown), wanted, "ask for what there is", key);
}

std::string word_of(const std::string& key, const Json& value, const std::vector<std::string>& allowed = {}) {
  std::string wanted = "it takes a text";
  if (!allowed.empty()) wanted = fmt::format("it takes {}", fmt::join(allowed, ", "));
  if (!value.is_string()) refuse(key, value, wanted);
  std::string word = value.get<std::string>();
  if (!allowed.empty() && std::find(allowed.begin(), allowed.end(), word) == allowed.end()) refuse(key, value, wanted);
  return word;
}

std::vector<std::string> words_of(const std::string& key, const Json& value, std::size_t most,
                                  const std::vector<std::string>& allowed = {}) {
  const std::string wanted = fmt::format("it takes a list of up to {} texts", most);
  if (!value.is_array() || value.size() > most) refuse(key, value, wanted);
  std::vector<std::string> out;
  for (const Json& one : value) out.push_back(word_of(key, one, allowed));
  return out;
}

double number_of(const std::string& key, const Json& value, double low, double high) {
  const std::string wanted = fmt::format("it takes a number from {} to {}", low, high);
  if (!value.is_number()) refuse(key, value, wanted);
  const double number = value.get<double>();
  if (!(number >= low && number <= high)) refuse(key, value, wanted);
  return number;
}

/// One key into its place.
void take(const std::string& key, const Json& value, Question& out) {
  if (key == "study") {
    out.study = word_of(key, value, {"trace", "sweep", "compare", "tolerance", "drift", "burn", "uses", "form", "survey"});
  } else if (key == "set") {
    out.set = words_of(key, value, 64);
  } else if (key == "parts") {
    out.parts = words_of(key, value, 16, {"map", "rough map", "view", "solid", "why", "range", "best", "words"});
  } else if (key == "vary") {
    out.vary = words_of(key, value, 2);
  } else if (key == "shapes") {
    out.shapes = words_of(key, value, 8);
  } else if (key == "as") {
    out.as = word_of(key, value, {"", "light", "sound", "radio"});
  } else if (key == "method") {
    out.method = word_of(key, value, {"", "rays", "quadrature", "auto"});
  } else if (key == "target") {
    out.target = word_of(key, value);
  } else if (key == "shape") {
    out.shape = word_of(key, value);
  } else if (key == "figure") {
    out.figure = word_of(key, value);
  } else if (key == "readings") {
    out.readings = word_of(key, value);
    if (out.readings.size() > 1'000'000) refuse(key, value, "it takes up to 1 MB of text");
  } else if (key == "units") {
    out.units = word_of(key, value, {"us", "si"}) == "si" ? Units::si : Units::us;
  } else if (key == "paths") {
    out.paths = static_cast<std::uint64_t>(std::floor(number_of(key, value, 1000, 1e7)));
  } else if (key == "park") {
    out.park = word_of(key, value, {"face up", "leaning", "in a vehicle"});
  } else if (key == "wanted") {
    out.wanted = number_of(key, value, 1e-6, 1 - 1e-6);
  } else if (key == "loss") {
    out.loss = number_of(key, value, 0.01, 20);
  } else if (key == "within") {
    out.within = number_of(key, value, 0, 1e9);
  } else {
    refuse(key, value, "there is no such key");
  }
}

}  // namespace

bool Question::asks(const char* part) const { return std::find(parts.begin(), parts.end(), part) != parts.end(); }

Question read_question(const std::string& json) {
  const Json all = Json::parse(json, nullptr, false);
  if (!all.is_object()) throw InputError("the question is no JSON object", "", "write it like {\"study\": \"trace\"}");
  Question out;
  for (const auto& [key, value] : all.items()) take(key, value, out);
  if (out.study.empty()) throw InputError("the question names no study", "", "write it like {\"study\": \"trace\"}", "study");
  return out;
}

}  // namespace dishwright
