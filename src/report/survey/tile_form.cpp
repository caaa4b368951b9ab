// SPDX-License-Identifier: MIT
#include "report/survey/tile_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "report/numbers/deferral.h"
#include "report/survey/survey_form_parts.h"
#include "report/survey/tile_plan.h"

namespace dishwright {

namespace {

constexpr Colour read_ground{205, 205, 202}, other_line{150, 150, 148};

/// All tiles, thin; those to be read grey, with a thick edge and the number of their row in the table.
void draw_tile_plan(Pages& pages, const Box& box, const TiledDesign& tiles) {
  const double reach = tiles_reach(tiles), words = 5, scale = std::min(box.width, box.height - 2 * words) / (2 * reach);
  const PagePoint middle{box.x + box.width / 2, box.y + words + (box.height - 2 * words) / 2};
  const auto outline = [&](std::size_t tile) {
    std::vector<PagePoint> out;
    for (const Eigen::Vector2d& corner : tile_on_plan(tiles, tile))
      out.push_back({middle.x + corner.x() * scale, middle.y - corner.y() * scale});
    out.push_back(out.front());
    return out;
  };
  for (std::size_t tile = 0; tile < tiles.tiles.size(); ++tile)
    pages.polyline(outline(tile), {tiles.tiles.size() > 2000 ? 0.05 : 0.12, other_line, Dash::solid});
  for (const std::size_t tile : tiles.to_read) {
    pages.fill(outline(tile), read_ground);
    pages.polyline(outline(tile), {0.4, ink, Dash::solid});
  }
  // Two bold figures within the tile, where that can be read.
  const double type = std::clamp(tiles.pattern.tile * scale / (1.5 * em(1)), 5.0, 9.0);
  const bool fits = tiles.pattern.tile * scale >= 1.5 * em(type);
  for (std::size_t k = 0; k < tiles.to_read.size(); ++k) {
    const Vector3& at = tiles.tiles[tiles.to_read[k]].centre;
    TextStyle style = heavy(type, Side::middle);
    style.halo = !fits;
    pages.text({middle.x + at.x() * scale, middle.y - at.y() * scale + 0.36 * em(type)}, std::to_string(k + 1), style);
  }
  pages.text({middle.x, box.y + 3}, "12 o'clock, seen from the sun side", plain(7, Side::middle));
}

std::vector<std::string> tile_how_to(const TiledDesign& tiles, Units units) {
  const auto places = reading_places(tiles.pattern.tile_shape, tiles.pattern.tile);
  const double set_in = tiles.pattern.tile / 2 - places[1].x();
  std::vector<std::string> out;
  out.emplace_back(
      "Lay the dish on its back on blocks so that it does not rock or sag. Work in the shade, or keep the tiles covered but for "
      "where you read: bare tiles in the sun burn skin and eyes.");
  out.push_back(fmt::format(
      "Mark 12 o'clock (the top when it is in use). Find the numbered tiles of the drawing and number them with tape: rows "
      "count from the top, tiles in a row from the left, seen from the sun side.{}",
      tiles.sampled() ? " They stand for all the others: take these and no others, and set none of them anew before it is read."
                      : ""));
  out.emplace_back(
      "The rim of tiles is not level. Lay two straight laths side by side across the frame, level with each other, and the "
      "straightedge across the laths: all depths must be from one plane.");
  out.push_back(fmt::format(
      "Read each numbered tile near its four corners, {} inward of {}, always the same way. x, y of each place stand in "
      "readings.csv.",
      tape_text(set_in, units, 16), tiles.pattern.tile_shape == TileShape::square ? "both edges" : "the sides"));
  out.emplace_back(units == Units::us
                       ? "Read every depth to 1/16 in, or better to 1/32 in: the lean of a tile is a difference of depths. "
                         "Write fractions as fractions: 3\u00a01/2, never 3.8 for 3\u00a08/16."
                       : "Read every depth to 1 mm, or better to 0.5 mm: the lean of a tile is a difference of depths. Write "
                         "millimetres, not centimetres.");
  out.emplace_back(
      "A tile of which a corner cannot be reached: leave that row of the table out. One place tells its height, three tell its "
      "lean.");
  return out;
}

WorkCard tile_card_of(const FormDish& dish, const TiledDesign& tiles, Units units, const std::string& what) {
  WorkCard card;
  card.name = what;
  const std::string size = fmt::format("a dish of {} tiles of {}, {} wide", tiles.tiles.size(),
                                       tape_text(tiles.pattern.tile, units), tape_text(tiles.pattern.width, units));
  card.title = {
      {"Dish", dish.title.empty() ? size : dish.title + ", " + size}, {"Measured by", ""}, {"Date", ""}, {"Rule reads to", ""}};
  card.question = what;
  return card;
}

FormGrid tile_grid(const TiledDesign& tiles, std::size_t from, std::size_t to) {
  FormGrid grid;
  grid.corner = "tile";
  for (const char* const corner : corner_names) grid.columns.emplace_back(corner);
  for (std::size_t k = from; k < to; ++k)
    grid.rows.push_back(
        fmt::format("{}  ({}-{})", k + 1, tiles.numbers[tiles.to_read[k]].first, tiles.numbers[tiles.to_read[k]].second));
  return grid;
}

}  // namespace

std::vector<WorkCard> tile_form_cards(const FormDish& dish, const TiledDesign& tiles, Units units) {
  constexpr double tall = 92;
  WorkCard first = tile_card_of(dish, tiles, units, "Depth readings of tiles: how to");
  const auto plan = std::make_shared<const TiledDesign>(tiles);
  first.pictures = {{Drawing{draw_straightedge}, "", 0.42, tall},
                    {Drawing{[plan](Pages& pages, const Box& box) { draw_tile_plan(pages, box, *plan); }}, "", 0.58, tall}};
  const std::string after = fmt::format(
      "Then type the depths into readings.csv, the table that came with this form, and run\n    {} survey readings.csv{}\nIt "
      "says whether the dish is good enough, and which tiles to set anew.",
      dish.program, dish.project_file.empty() ? "" : " --scene " + shell_word(dish.project_file));
  first.numbers = {{"", CardList{tile_how_to(tiles, units), true, 9.5}, true}, {"", CardList{{after}, false, 9.5}, true}};
  first.cautions = {deferral};
  std::vector<WorkCard> out = {first};
  constexpr std::size_t on_a_page = 18;
  const std::size_t count = tiles.to_read.size(), sheets = (count + on_a_page - 1) / on_a_page;
  for (std::size_t sheet = 0; sheet < sheets; ++sheet) {
    WorkCard card = tile_card_of(dish, tiles, units, "Depth readings of tiles");
    card.answer = fmt::format("Depth below the straightedge in {}, near each corner (row and place of the tile in brackets):",
                              units == Units::us ? "inches" : "millimetres");
    const FormGrid grid = tile_grid(tiles, sheet * count / sheets, (sheet + 1) * count / sheets);
    card.pictures = {{Drawing{[grid](Pages& pages, const Box& box) { draw_table_and_lines(pages, box, grid); }}, "", 1, 0}};
    out.push_back(std::move(card));
  }
  return out;
}

std::string tile_form(const FormDish& dish, const TiledDesign& tiles, Units units, PageSize paper) {
  Pages pages(paper, "Depth readings of tiles");
  const std::vector<WorkCard> cards = tile_form_cards(dish, tiles, units);
  for (const WorkCard& card : cards) {
    if (&card != cards.data()) pages.next_page();
    draw_card(pages, card);
  }
  return pages.pdf();
}

std::string tile_table(const TiledDesign& tiles, Units units) {
  const double per_metre = lengths_per_metre(units), marks = units == Units::us ? 32 : 1;  // of a typed place
  std::string out = fmt::format("place,x [{0}],y [{0}],depth [{0}]\n", length_unit(units));
  const auto places = reading_places(tiles.pattern.tile_shape, tiles.pattern.tile);
  for (std::size_t k = 0; k < tiles.to_read.size(); ++k) {
    const Tile& tile = tiles.tiles[tiles.to_read[k]];
    for (std::size_t corner = 0; corner < corner_count; ++corner) {
      const Eigen::Vector2d at = tile.centre.head<2>() + tile.turn.topLeftCorner<2, 2>() * places[corner];
      const auto typed = [&](double metres) { return exact_text(std::round(metres * per_metre * marks) / marks + 0.0); };
      out += fmt::format("{} ({}-{}) {},{},{},\n", k + 1, tiles.numbers[tiles.to_read[k]].first,
                         tiles.numbers[tiles.to_read[k]].second, corner_names[corner], typed(at.x()), typed(at.y()));
    }
  }
  return out;
}

}  // namespace dishwright
