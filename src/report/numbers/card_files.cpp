// SPDX-License-Identifier: MIT
#include "report/numbers/card_files.h"

#include "picture/image_file.h"

namespace dishwright {

namespace {

constexpr double print_dots = 6, picture_dots = 7;  // of an image of a printed sheet, of a bare picture, for each mm

}  // namespace

std::string card_image(const WorkCard& card) {
  return png_bytes(card_pages(card, card.strip ? tall_screen_page : screen_page).pixels(0, screen_dots));
}

void add_card(WholeFiles& files, const std::string& stem, const WorkCard& card) { files.add(stem + ".png", card_image(card)); }

void add_chart_card(WholeFiles& files, const std::string& stem, const WorkCard& card) {
  const Pages pages = card_pages(card, screen_page);
  files.add(stem + ".png", png_bytes(pages.pixels(0, screen_dots)));
  files.add(stem + ".svg", pages.svg(0));
}

void add_printed_card(WholeFiles& files, const std::string& stem, const WorkCard& card, PageSize paper, bool image) {
  const Pages pages = card_pages(card, paper);
  files.add(stem + ".pdf", pages.pdf());
  if (image) files.add(stem + ".png", png_bytes(pages.pixels(0, print_dots)));
}

void add_picture(WholeFiles& files, const std::string& stem, const CardPicture& picture, PageSize size) {
  constexpr double margin = 5;
  Pages pages(size, stem);
  draw_picture(pages, {margin, margin, size.width - 2 * margin, size.height - 2 * margin}, picture);
  files.add(stem + ".png", png_bytes(pages.pixels(0, picture_dots)));
}

}  // namespace dishwright
