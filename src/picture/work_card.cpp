// SPDX-License-Identifier: MIT
#include "picture/work_card.h"

#include "picture/card_parts.h"

namespace dishwright {

namespace {

constexpr double heading_room = 5.5;  // [mm]

}  // namespace

void draw_picture(Pages& pages, const Box& box, const CardPicture& picture) {
  Box room = box;
  if (!picture.heading.empty()) {
    TextStyle style = card_bold(9);
    style.room = box.width;
    pages.text({box.x, box.y + 3.2}, picture.heading, style);
    room.y += heading_room, room.height -= heading_room;
  }
  struct {
    Pages& pages;
    const Box& box;
    void operator()(const LineChart& chart) const { draw_line_chart(pages, box, chart); }
    void operator()(const HeatChart& chart) const { draw_heat_chart(pages, box, chart); }
    void operator()(const MapPicture& map) const { draw_map_picture(pages, box, map); }
    void operator()(const MapGrid& grid) const { draw_map_grid(pages, box, grid); }
    void operator()(const Drawing& drawing) const { drawing.draw(pages, box); }
  } const draw{pages, room};
  std::visit(draw, picture.what);
}

void draw_card(Pages& pages, const WorkCard& card) {
  if (pages.size().width > pages.size().height) {
    draw_wide_card(pages, card);
  } else {
    draw_tall_card(pages, card);
  }
}

Pages card_pages(const WorkCard& card, PageSize size) {
  Pages pages(size, card.name.empty() ? card.question : card.name, card.question + " " + card.answer);
  draw_card(pages, card);
  return pages;
}

}  // namespace dishwright
