// SPDX-License-Identifier: MIT
// What goes to a terminal: no control character of a file or a command line.
#include "base/text.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "base/error.h"

using namespace dishwright;

namespace {

const std::string escape = "a\x1b[31mb",
                  late =
                      "a\xC2\x9B"
                      "31mb",
                  turned =
                      "a\xE2\x80\xAE"
                      "b\xE2\x81\xA6"
                      "c",
                  broken = "a\xFF\xC3";

}  // namespace

TEST_CASE("control characters become question marks") {
  CHECK(printable(escape) == "a?[31mb");
  CHECK(printable(late) == "a?31mb");
  CHECK(printable(turned) == "a?b?c");
  CHECK(printable(broken) == "a??");
  CHECK(printable("a\r\nb\x7F\tü ✓ א") == "a??b?\tü ✓ א");
  CHECK(printable_lines("a\nb\r\x07\n") == "a\nb??\n");
}

TEST_CASE("JSON keeps its values") {
  const nlohmann::json json = {{"name", escape + late + turned + "\n\x7F ü"}};
  const std::string text = printable_json(json.dump(2));
  CHECK(printable_lines(text) == text);
  CHECK(nlohmann::json::parse(text) == json);
}

TEST_CASE("every part of a message is one line without control characters") {
  const std::string all = escape + late + turned + broken + "\n";
  const std::string text = describe({all, 1, 2, 3, all, all, all, all, all});
  CHECK(printable_lines(text) == text);
  CHECK(std::count(text.begin(), text.end(), '\n') == 6);
}

TEST_CASE("words for a shell") {
  CHECK(shell_word("kettle.toml") == "kettle.toml");
  CHECK(shell_word("out/my dish.toml") == "'out/my dish.toml'");
  CHECK(shell_word("Sam's.toml") == "'Sam'\\''s.toml'");
  CHECK(shell_word("-v.toml") == "./-v.toml");
  CHECK(shell_word("$HOME`x`;&|<>*?\"\\") == "'$HOME`x`;&|<>*?\"\\'");
  CHECK(shell_word("") == "''");
  CHECK(shell_word("Schüssel.toml") == "Schüssel.toml");
  CHECK(shell_word("a\nb'\xFF") == "$'a\\012b\\'\\377'");
  CHECK(shell_word("~x") == "'~x'");
}
