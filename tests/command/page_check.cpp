// SPDX-License-Identifier: MIT
// Runs the commands of a page, and holds the page against what they print.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "command/page_figures.h"
#include "command/shell.h"
#include "effort.h"
#include "folders.h"

namespace dishwright::testing {

namespace {

/// A folder as a reader of the pages has it: scenes/ beside build/dishwright.
class Bench : public Shell {
 public:
  Bench() { REQUIRE(run("cp -r \"$SCENES\" scenes && mkdir build && ln -s \"$DW\" build/dishwright").code == 0); }

  /// What a command prints, on one line; it is run once. 1 is an answer, too: "no".
  const std::string& printed(const std::string& command) {
    if (const auto known = known_.find(command); known != known_.end()) return known->second;
    const Ran ran = run("PATH=\"$PWD/build:$PATH\"\n" + command);
    const bool answered = ran.code == 0 || ran.code == 1;
    CHECK_MESSAGE(answered, command, "\n", ran.err);
    return known_[command] = on_one_line(ran.out);
  }

 private:
  std::map<std::string, std::string> known_;
};

/// Where numbers of a page were held against a command.
using Places = std::set<std::size_t>;

void check_number(const Claim& claim, const ReadNumber& shown, const ReadNumber& computed, const std::string& prose) {
  const std::string words = prose.substr(shown.at, shown.end - shown.at);
  const bool same = std::abs(shown.value - computed.value) <= shown.half_step * (1 + 1e-9);
  CHECK_MESSAGE(same, "the page says ", words, " in \"", claim.page, "\", the program ", computed.value);
}

/// One claim: its words stand on the page and in the output, with the same numbers.
void check_claim(const Claim& claim, const std::string& prose, const std::string& output, Places& checked) {
  const auto shown = places_of(claim.page, prose), computed = places_of(claim.output, output);
  CHECK_MESSAGE(!shown.empty(), "the page no longer says: ", claim.page);
  CHECK_MESSAGE(!computed.empty(), "the program no longer prints: ", claim.output, "\n", output);
  for (const auto& numbers : shown) {
    for (const auto& others : computed) {  // more than one place would have to agree
      REQUIRE_MESSAGE(numbers.size() == others.size(), "holes differ: ", claim.page, " <- ", claim.output);
      for (std::size_t i = 0; i < numbers.size(); ++i) check_number(claim, numbers[i], others[i], prose);
    }
    for (const ReadNumber& number : numbers) checked.insert(number.at);
  }
}

/// Every figure is checked or known to be given; every given one is there.
void check_nothing_left(const PageClaims& page, const std::string& prose, const Places& checked) {
  std::set<std::string> unused(page.given.begin(), page.given.end());
  for (const Figure& figure : figures_of(prose)) {
    if (checked.contains(figure.number.at)) continue;
    const bool given = std::find(page.given.begin(), page.given.end(), figure.words) != page.given.end();
    const std::size_t from = figure.number.at - std::min<std::size_t>(figure.number.at, 60);
    CHECK_MESSAGE(given, figure.words, " is held against no command, in: …", prose.substr(from, 120), "…");
    unused.erase(figure.words);
  }
  for (const std::string& figure : unused) FAIL_CHECK("given, but not left over on the page: ", figure);
}

}  // namespace

void check_page(const std::string& name) {
  const std::vector<PageClaims> pages = read_claims(file_content(source_folder() / "tests/command/page_figures.txt"));
  const auto page = std::find_if(pages.begin(), pages.end(), [&](const PageClaims& one) { return one.name == name; });
  REQUIRE_MESSAGE(page != pages.end(), name, " has no entry in page_figures.txt");
  INFO(name);
  const PageText text = read_page(file_content(source_folder() / name));
  Bench bench;
  Places checked;
  std::set<std::string> left_out;
  for (const Source& source : page->sources) {
    const bool on_page = std::count(text.block_commands.begin(), text.block_commands.end(), source.command) +
                             std::count(text.inline_commands.begin(), text.inline_commands.end(), source.command) >
                         0;
    CHECK_MESSAGE(on_page == source.shown, "on the page or not: ", source.command);
    if (!source.run || (source.dear && !full_run())) left_out.insert(source.command);
  }
  // In the order of the page: a later command may read what an earlier one wrote.
  for (const std::string& command : text.block_commands) {
    if (!left_out.contains(command)) bench.printed(command);
  }
  for (const Source& source : page->sources) {
    for (const Claim& claim : source.claims) {
      if (!left_out.contains(source.command)) {
        check_claim(claim, text.prose, bench.printed(source.command), checked);
        continue;
      }
      for (const auto& numbers : places_of(claim.page, text.prose)) {
        for (const ReadNumber& number : numbers) checked.insert(number.at);
      }
    }
  }
  check_nothing_left(*page, text.prose, checked);
}

}  // namespace dishwright::testing
