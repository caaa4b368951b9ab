// SPDX-License-Identifier: MIT
// Every sheet for print on both papers: its size, all words within the margins, none over another. Read back through poppler.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <regex>
#include <string>
#include <vector>

#include "approx.h"
#include "refused.h"
#include "shell.h"
#include "wave_files.h"

using namespace dishwright::testing;

namespace {

struct Word {
  double left = 0, top = 0, right = 0, bottom = 0;  // [pt]
  std::string text;
};
struct Sheet {
  double width = 0, height = 0;  // [pt]
  std::vector<Word> words;
};

std::vector<Sheet> sheets_of(const Shell& shell, const std::string& file) {
  const std::string out = shell.run("pdftotext -bbox " + file + " -").out;
  const std::regex line(R"re(<page width="([0-9.]+)" height="([0-9.]+)">|)re"
                        R"re(<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">([^<]*)<)re");
  std::vector<Sheet> sheets;
  for (std::sregex_iterator at(out.begin(), out.end(), line), end; at != end; ++at) {
    const auto number = [&](std::size_t k) { return std::atof((*at)[k].str().c_str()); };
    if ((*at)[1].matched) {
      sheets.push_back({number(1), number(2), {}});
    } else {
      sheets.back().words.push_back({number(3), number(4), number(5), number(6), (*at)[7].str()});
    }
  }
  return sheets;
}

/// Words that another one covers by more than a fifth of its height, or that leave the margins of 12 mm by more than half a
/// millimetre.
std::string misplaced(const Sheet& sheet) {
  constexpr double margin = 11.5 * 72 / 25.4;
  std::string out;
  for (std::size_t i = 0; i < sheet.words.size(); ++i) {
    const Word& a = sheet.words[i];
    if (a.left < margin || a.top < margin || a.right > sheet.width - margin || a.bottom > sheet.height - margin)
      out += a.text + " leaves the sheet's margin; ";
    for (std::size_t j = 0; j < i; ++j) {
      const Word& b = sheet.words[j];
      const double across = std::min(a.right, b.right) - std::max(a.left, b.left);
      const double down = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
      if (across > 0.5 && down > 0.2 * std::min(a.bottom - a.top, b.bottom - b.top)) out += a.text + " lies on " + b.text + "; ";
    }
  }
  return out;
}

/// Runs the command on both papers and looks at each sheet of the file.
void check_papers(const Shell& shell, const std::string& command, const std::string& file, std::size_t count) {
  const char* const usual = file == "map.pdf" ? " --paper letter" : "";  // of light a sheet is made only if a paper is named
  for (const auto& [option, width, height] : {std::tuple{usual, 612.0, 792.0}, {" --paper a4", 595.276, 841.89}}) {
    const Ran ran = shell.run("\"$DW\" " + command + option + " --out p > /dev/null");
    INFO(command, option, "\n", ran.err);
    REQUIRE(ran.code < 2);
    const std::vector<Sheet> sheets = sheets_of(shell, "p/" + file);
    REQUIRE(sheets.size() == count);
    for (const Sheet& sheet : sheets) {
      CHECK(sheet.width == approx(width).epsilon(1e-3));
      CHECK(sheet.height == approx(height).epsilon(1e-3));
      CHECK(sheet.words.size() > 20);
      CHECK(misplaced(sheet) == "");
    }
  }
}

}  // namespace

TEST_CASE("--paper: the cards of sound and radio") {
  const Shell shell;
  shell.write("sound.toml", sound_file("[sound]\nfrequency = [\"500 Hz\", \"2 kHz\"]\nvoice = \"normal\""));
  check_papers(shell, "trace sound.toml --units si", "card.pdf", 1);
  shell.write("radio.toml", sound_file("[radio]\nfrequency = \"10 GHz\"\nfeed = { kind = \"cosine\", power = 2 }"));
  check_papers(shell, "trace radio.toml", "card.pdf", 1);
}

TEST_CASE("--paper: the table of tolerances; of sound and radio there is none") {
  const Shell shell;
  check_papers(shell, "tolerance \"$SCENES/kettle-dish.toml\" --set trace.paths=20000", "tolerance.pdf", 1);
  check_papers(shell, "tolerance \"$SCENES/kettle-bowl.toml\" --units si --set trace.paths=20000", "tolerance.pdf", 1);
  check_refused(shell, "tolerance \"$SCENES/bird-song-dish.toml\" --paper a4", "--paper does nothing for sound and radio");
  check_refused(shell, "tolerance \"$SCENES/kettle-dish.toml\" --json --paper a4", "no sheet is written");
}

TEST_CASE("--paper: the card of light, where it is asked for") {
  const Shell shell;
  check_papers(shell, "trace \"$SCENES/kettle-dish.toml\" --set trace.paths=20000", "map.pdf", 1);
  check_papers(shell, "trace \"$SCENES/yard-lamp.toml\" --units si --set trace.paths=20000", "map.pdf", 1);
  check_papers(shell, "trace \"$SCENES/kettle-dish.toml\" --set trace.paths=20000", "safety.pdf", 1);
  check_papers(shell, "trace \"$SCENES/yard-lamp.toml\" --units si --set trace.paths=20000", "safety.pdf", 1);
  CHECK(shell.run("\"$DW\" trace \"$SCENES/kettle-dish.toml\" --set trace.paths=20000 --out q").code == 0);
  CHECK(shell.files().count("q/map.pdf") == 0);
}

TEST_CASE("--paper: the sheet of several uses, and the cards beside it") {
  const Shell shell;
  check_papers(shell, "trace \"$SCENES/three-uses.toml\" --as all --set trace.paths=20000", "three-uses.pdf", 1);
  for (const char* file : {"p/sound/card.pdf", "p/radio/card.pdf"}) {  // of the last run, on A4
    const std::vector<Sheet> sheets = sheets_of(shell, file);
    REQUIRE(sheets.size() == 1);
    CHECK(sheets[0].height == approx(841.89).epsilon(1e-3));
  }
}

TEST_CASE("--paper: the verdict of a survey and the form") {
  const Shell shell;
  check_papers(shell, "survey \"$SCENES/kettle-readings.csv\" --scene \"$SCENES/kettle-dish.toml\" --set trace.paths=20000",
               "verdict.pdf", 1);
  check_papers(shell, "survey --form \"$SCENES/kettle-dish.toml\"", "readings-form.pdf", 2);
  check_papers(shell, "survey --form --shape trough --width 36in --length 60in --units si", "readings-form.pdf", 2);
}

TEST_CASE("--paper: the aim card") {
  const Shell shell;
  check_papers(shell, "aim \"$SCENES/kettle-yard.toml\" --post '6 in'", "aim-card.pdf", 1);
}

TEST_CASE("--paper: the heat card") {
  const Shell shell;
  check_papers(shell, "heat \"$SCENES/kettle-boil.toml\"", "heat-card.pdf", 1);
}

TEST_CASE("--paper: other words are refused, and so is the option where no sheet is written") {
  const Shell shell;
  shell.write("sound.toml", sound_file("[sound]\nfrequency = \"1 kHz\""));
  const std::string kettle = "\"$SCENES/kettle-dish.toml\" ";
  check_refused(shell, "trace sound.toml --paper a3", "--paper a3: there is no such choice");
  check_refused(shell, "survey --form --width 4ft --paper Letter", "--paper Letter: there is no such choice");
  check_refused(shell, "trace sound.toml --json --paper a4", "--paper does nothing with --json alone");
  check_refused(shell, "trace " + kettle + "--replay 1 --paper a4", "--paper does nothing with --replay");
  check_refused(shell, "sweep " + kettle + "--vary 'sun.aim_error=0 deg:1 deg:2' --paper a4", "--paper");
  CHECK(shell.run("\"$DW\" trace sound.toml --json --paper letter --out d").code == 0);
  CHECK(shell.files().count("d/card.pdf") == 1);
}
