// SPDX-License-Identifier: MIT
// Pages are read back through poppler (pdftoppm, pdftotext, pdfinfo): an outside reader of PDF.
#include "picture/pages.h"

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "approx.h"
#include "scratch.h"

using namespace dishwright;

namespace {

/// What a shell command prints.
std::string output_of(const std::string& command) {
  std::string out;
  std::array<char, 4096> block{};
  FILE* pipe = ::popen(command.c_str(), "r");  // NOLINT(cert-env33-c)
  REQUIRE(pipe != nullptr);
  for (std::size_t got = 1; got != 0;) {
    got = std::fread(block.data(), 1, block.size(), pipe);
    out.append(block.data(), got);
  }
  ::pclose(pipe);
  return out;
}

class TemporaryFile {
 public:
  explicit TemporaryFile(const std::string& content) { std::ofstream(path(), std::ios::binary) << content; }
  std::string path() const { return (scratch_.path / "page.pdf").string(); }

 private:
  testing::Scratch scratch_;
};

/// A bar of 100 mm from 20 to 120 mm, 50 mm down, and words.
void draw(Pages& pages) {
  pages.fill(Box{20, 48, 100, 4}, {0, 0, 0});
  pages.text({20, 80}, "Depth readings", {12});
  pages.circle({100, 150}, 30, {0.5, {0, 0, 0}, Dash::solid});
}

}  // namespace

TEST_CASE("a millimetre on the page is a millimetre on paper, as another program prints it") {
  Pages pages(letter_page, "test");
  draw(pages);
  const TemporaryFile file(pages.pdf());
  // 254 dots an inch: 10 dots a millimetre. PGM rows after the header.
  const std::string picture = output_of("pdftoppm -r 254 -gray '" + file.path() + "'");
  REQUIRE(picture.substr(0, 2) == "P5");
  int width = 0, height = 0;
  std::sscanf(picture.c_str(), "P5 %d %d", &width, &height);
  CHECK(width == 2159);
  CHECK(height == 2794);
  const std::size_t body = picture.size() - static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  const auto dark = [&](int x, int y) {
    return static_cast<unsigned char>(picture[body + static_cast<std::size_t>(y * width + x)]) < 128;
  };
  CHECK_FALSE(dark(198, 500));
  CHECK(dark(201, 500));
  CHECK(dark(1198, 500));
  CHECK_FALSE(dark(1202, 500));
  CHECK(dark(1300, 1500));  // the circle's right side, 100 + 30 mm
  CHECK(dark(1000, 1200));  // its top
}

TEST_CASE("text stays text, and nothing in the file changes from run to run") {
  const auto made = [] {
    Pages pages(a4_page, "test");
    draw(pages);
    pages.next_page();
    draw(pages);
    return pages.pdf();
  };
  const std::string bytes = made();
  CHECK(bytes == made());
  CHECK(bytes.find("CreationDate") == std::string::npos);
  const TemporaryFile file(bytes);
  CHECK(output_of("pdftotext '" + file.path() + "' -").find("Depth readings") != std::string::npos);
  const std::string facts = output_of("pdfinfo '" + file.path() + "'");
  CHECK(facts.find("Pages:           2") != std::string::npos);
  CHECK(facts.find("595.276 x 841.89 pts (A4)") != std::string::npos);
  CHECK(facts.find("CreationDate") == std::string::npos);
}

TEST_CASE("SVG: the sheet's size in points, one sheet at a time; title and words for those who listen; nothing that changes") {
  Pages pages({25.4, 50.8}, "Is 1 < 2 & \xff?", "So it is.");
  pages.line({1, 1}, {20, 1}, {});
  const std::string svg = pages.svg(0);
  CHECK(svg.find("<title>Is 1 &lt; 2 &amp; \xef\xbf\xbd?</title>") != std::string::npos);
  CHECK(svg.find("<desc>So it is.</desc>") != std::string::npos);
  CHECK(svg.rfind("</svg>") != std::string::npos);
  CHECK(svg.find("width=\"72pt\"") != std::string::npos);
  CHECK(svg.find("height=\"144pt\"") != std::string::npos);
  CHECK(svg == pages.svg(0));
  CHECK_THROWS(pages.svg(1));
}

TEST_CASE("paragraphs wrap: their height is told beforehand and grows as the box narrows") {
  Pages pages(letter_page, "test");
  const std::string words = "Lay the dish on its back on blocks so that it does not rock or sag.";
  const double wide = pages.paragraph_height(150, words, {}), narrow = pages.paragraph_height(40, words, {});
  CHECK(narrow > 1.9 * wide);
  CHECK(pages.paragraph({10, 10, 40, 100}, words, {}) == testing::approx(narrow));
  // 10 points of DejaVu Sans: the em is 10/72 in; a capital M is 0.863 em wide (the font's own table).
  CHECK(pages.text_width("M", {10}) == testing::approx(0.863 * 10 * 25.4 / 72).epsilon(0.01));
}

TEST_CASE("a line of words with less room than it needs is cut; a halo keeps words readable on dark ground") {
  Pages pages({100, 40}, "test");
  TextStyle cut{10};
  cut.room = 20;
  CHECK(pages.text_width(std::string(100, 'W'), cut) <= 20);
  CHECK(pages.text_width("W", cut) == testing::approx(pages.text_width("W", {10})));
  pages.fill(Box{0, 0, 100, 40}, {0, 0, 0});
  TextStyle halo{20};
  halo.halo = true;
  pages.text({10, 20}, "I", halo);
  Pen pen{1, {0, 0, 0}, Dash::solid, true};
  pages.line({50, 5}, {50, 35}, pen);
  const Pixels pixels = pages.pixels(0, 10);
  int white = 0;
  for (int x = 90; x < 140; ++x) white += pixels.at(x, 170).green > 250 ? 1 : 0;
  CHECK(white >= 4);                       // both sides of the letter
  CHECK(pixels.at(500, 200).green == 0);   // the line
  CHECK(pixels.at(506, 200).green > 200);  // its halo, 0.3 mm at each side
  CHECK(pixels.at(510, 200).green == 0);   // the ground
}

TEST_CASE("one drawing gives all kinds of file, and may be handed on") {
  Pages pages = [] {
    Pages made(screen_page, "test");
    draw(made);
    return made;
  }();
  const Pixels pixels = pages.pixels(0, screen_dots);
  CHECK(pixels.width == 1200);
  CHECK(pixels.height == 900);
  for (std::size_t i = 3; i < pixels.rgba.size(); i += 4000) CHECK(pixels.rgba[i] == 255);
  CHECK(pages.pdf().substr(0, 5) == "%PDF-");
  CHECK(pages.svg(0).find("<svg") != std::string::npos);
}

TEST_CASE("a sheet as a picture") {
  Pages pages({20, 10}, "test");
  pages.fill(Box{10, 0, 10, 10}, {255, 0, 0});
  const Pixels pixels = pages.pixels(0, 5);
  CHECK(pixels.width == 100);
  CHECK(pixels.height == 50);
  CHECK(pixels.at(20, 25).green == 255);
  CHECK(pixels.at(80, 25).green == 0);
  CHECK(pixels.at(80, 25).red == 255);
}
