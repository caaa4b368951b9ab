// SPDX-License-Identifier: MIT
// Bad tables and clouds and the exact words that answer them: tests/survey/messages/NAME.* is read, and the error must equal
// NAME.txt. A file NAME.options beside it holds words of the command line: outside, skin 1/8in, points-in mm.
//
// To rewrite the .txt files after a change of words:  DISHWRIGHT_REWRITE=1 ./dishwright_tests_survey   then read the difference.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "base/error.h"
#include "folders.h"
#include "gallery.h"
#include "survey/read_survey.h"
#include "survey/survey.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

SurveyInput input_of(const fs::path& options) {
  SurveyInput input;
  std::ifstream stream(options);
  for (std::string word; stream >> word;) {
    if (word == "outside") input.outside = true;
    if (word == "skin" && stream >> word) input.skin = std::get<Quantity>(parse_quantity(word, Dimension::length)).value;
    if (word == "points-in" && stream >> word)
      input.cloud_unit = std::get<Quantity>(parse_quantity("1 " + word, Dimension::length)).unit;
  }
  return input;
}

std::string answer(const fs::path& file) {
  try {
    survey_points(read_survey(file, input_of(fs::path(file).replace_extension(".options"))).survey, ShapeKind::paraboloid, false);
  } catch (const InputError& error) {
    return error.what();
  }
  return testing::not_refused;
}

}  // namespace

TEST_CASE("every bad survey is answered in its exact words") {
  testing::check_gallery(
      testing::source_folder() / "tests" / "survey" / "messages", 50,
      [](const std::string& ending) { return ending != ".txt" && ending != ".options"; }, answer);
}
