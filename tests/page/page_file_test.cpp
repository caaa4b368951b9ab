// SPDX-License-Identifier: MIT
#include "page/page_file.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

using namespace dishwright;

namespace {

const std::string made = "<html><!--STORED--><script id=\"project\"><!--PROJECT--></script></html>";

nlohmann::json data_of(const std::string& page) {
  const std::string before = "<script id=\"project\">", after = "</script>";
  const std::size_t from = page.find(before) + before.size();
  return nlohmann::json::parse(page.substr(from, page.find(after, from) - from));
}

}  // namespace

TEST_CASE("no text of a project can end an element of the page or begin one") {
  PageProject project;
  project.name = "a<b>.toml";
  project.text = "# </script><script>alert(1)</script> <!-- & \"quoted\" \\ \xC3\xA9\n";
  project.answer = "1 < 2 & <b>3</b>\n";
  const std::string page = page_with_project(made, project);
  CHECK(page.find("alert(1)</script>") == std::string::npos);
  CHECK(page.find("<b>3") == std::string::npos);
  CHECK(page.find("<pre>1 &lt; 2 &amp; &lt;b&gt;3&lt;/b&gt;") != std::string::npos);
  CHECK(data_of(page)["text"] == project.text);
  CHECK(data_of(page)["name"] == project.name);
}

TEST_CASE("files come along as base 64") {
  // Vectors of RFC 4648, section 10 [rfc4648].
  for (const auto& [bytes, text] : {std::pair<std::string, std::string>{"", ""},
                                    {"f", "Zg=="},
                                    {"fo", "Zm8="},
                                    {"foo", "Zm9v"},
                                    {"foob", "Zm9vYg=="},
                                    {"fooba", "Zm9vYmE="},
                                    {"foobar", "Zm9vYmFy"},
                                    {std::string("\xfb\xff\0", 3), "+/8A"}}) {  // the last by hand
    PageProject project;
    project.files.push_back({"rim.csv", bytes});
    CHECK(data_of(page_with_project(made, project))["files"]["rim.csv"] == text);
  }
}

TEST_CASE("the bench has no project; another file is no page") {
  const nlohmann::json data = data_of(page_with_project(made, {}));
  CHECK(data["text"] == "");
  CHECK(data["units"] == "us");
  CHECK_THROWS_AS(page_with_project("<html></html>", {}), std::logic_error);
}
