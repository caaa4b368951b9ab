// SPDX-License-Identifier: MIT
#include "page/page_file.h"

#include <cstdint>
#include <stdexcept>
#include <string_view>

#include "base/text.h"
#include "report/numbers/json_quantity.h"

namespace dishwright {

namespace {

/// Base 64 [rfc4648].
std::string base64(std::string_view bytes) {
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k)
      three = three << 8 | (i + k < bytes.size() ? static_cast<std::uint8_t>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k) out += i + k <= bytes.size() ? letters[three >> (18 - 6 * k) & 63] : '=';
  }
  return out;
}

std::string in_html(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += c;
    }
  }
  return out;
}

/// JSON that may stand in a script element.
std::string in_script(const Json& json) {
  std::string out;
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace)) {
    if (c == '<') {
      out += "\\u003c";
    } else {
      out += c;
    }
  }
  return out;
}

void put(std::string& page, const std::string& mark, const std::string& text) {
  const std::size_t at = page.find(mark);
  if (at == std::string::npos) throw std::logic_error("the page has no " + mark);
  page.replace(at, mark.size(), text);
}

Json project_data(const PageProject& project) {
  Json out;
  out["name"] = project.name.empty() ? "project.toml" : project.name;
  out["text"] = project.text;
  out["units"] = project.units == Units::si ? "si" : "us";
  out["ink"] = project.inks;
  out["files"] = Json::object();
  for (const NamedFile& file : project.files) out["files"][file.name] = base64(file.bytes);
  out["examples"] = Json::object();
  for (const auto& [name, title, text] : project.examples) out["examples"][name] = {{"title", title}, {"text", text}};
  return out;
}

}  // namespace

std::string page_with_project(const std::string& made, const PageProject& project) {
  std::string page = made, stored;
  if (!project.answer.empty()) stored = "<pre>" + in_html(printable_lines(project.answer)) + "</pre>";
  if (!project.picture.empty())
    stored += "<img alt=\"The card of this project: map, side view, numbers\" src=\"data:image/png;base64," +
              base64(project.picture) + "\">";
  put(page, "<!--STORED-->", stored);
  put(page, "<!--PROJECT-->", in_script(project_data(project)));
  return page;
}

}  // namespace dishwright
