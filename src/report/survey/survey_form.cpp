// SPDX-License-Identifier: MIT
#include "report/survey/survey_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/text.h"
#include "report/numbers/deferral.h"
#include "report/survey/survey_form_parts.h"

namespace dishwright {

namespace {

constexpr Colour guide{130, 130, 134}, pale{240, 240, 238}, unread{214, 214, 212};

}  // namespace

TextStyle plain(double size, Side side) {
  TextStyle style;
  style.size = size, style.side = side, style.leading = 1.2;
  return style;
}
TextStyle heavy(double size, Side side) {
  TextStyle style = plain(size, side);
  style.bold = true;
  return style;
}

void draw_straightedge(Pages& pages, const Box& box) {
  const double left = box.x + 6, right = box.right() - 6, rim = box.y + 16, deep = box.height - 28, middle = (left + right) / 2;
  std::vector<PagePoint> bowl;
  for (int k = 0; k <= 60; ++k) {
    const double u = -1 + k / 30.0;
    bowl.push_back({middle + u * (right - left) / 2, rim + deep * (1 - u * u)});
  }
  pages.polyline(bowl, {0.7, ink, Dash::solid});
  pages.frame({box.x + 1, rim - 3.5, box.width - 2, 3.5}, {0.3, ink, Dash::solid});
  pages.text({box.x + 1, rim - 11}, "straightedge, on edge, resting on the rim on both sides", plain(7));
  const double at = middle + 0.35 * (right - left) / 2, floor = rim + deep * (1 - 0.35 * 0.35);
  pages.frame({at - 1.2, rim - 9, 2.4, floor - rim + 9}, {0.3, ink, Dash::solid});
  for (int k = 0; rim + 2 * k < floor - 1; ++k) pages.line({at - 1.2, rim + 2 * k}, {at, rim + 2 * k}, {0.15, ink, Dash::solid});
  const double arrow = at - 6;
  pages.line({at - 1.6, floor}, {arrow - 2, floor}, {0.15, guide, Dash::solid});
  pages.line({arrow, rim}, {arrow, floor}, {0.25, ink, Dash::solid});
  for (const double end : {rim, floor}) {
    const double into = end == rim ? 2 : -2;
    pages.line({arrow, end}, {arrow - 0.8, end + into}, {0.25, ink, Dash::solid});
    pages.line({arrow, end}, {arrow + 0.8, end + into}, {0.25, ink, Dash::solid});
  }
  TextStyle label = heavy(8);
  label.side = Side::right;
  pages.text({arrow - 1.8, (rim + floor) / 2 + 1}, "depth", label);
  pages.text({middle, box.bottom() - 5.5}, "Stand the rule square to the straightedge and read", plain(7, Side::middle));
  pages.text({middle, box.bottom() - 2}, "from its lower edge down to the mirror.", plain(7, Side::middle));
}

namespace {

/// Seams or ribs, and the numbers of the petals or bays.
void draw_pieces(Pages& pages, const PagePoint& middle, double radius, const std::vector<ClockPlace>& clock) {
  constexpr double an_hour = 0.5235987755982988;  // [rad]
  for (const ClockPlace& place : clock) {
    const double s = std::sin(place.hours * an_hour), c = std::cos(place.hours * an_hour);
    if (place.label.rfind("seam", 0) == 0 || place.label.rfind("rib", 0) == 0)
      pages.line(middle, {middle.x + radius * s, middle.y - radius * c}, {0.35, ink, Dash::dashed});
    const bool piece = place.label.rfind("petal", 0) == 0 || place.label.rfind("bay", 0) == 0;
    if (piece)
      pages.text({middle.x + (radius + 7.4) * s, middle.y - (radius + 7.4) * c + 1},
                 place.label.substr(place.label.find(' ') + 1), plain(6.5, Side::middle));
  }
}

/// Rings and clock seen from the sun side.
void draw_clock(Pages& pages, const Box& box, const FormDish& dish, const std::vector<double>& rings) {
  const double radius = std::min(box.width, box.height) / 2 - (dish.in_pieces() ? 10 : 7);
  const PagePoint middle{box.x + box.width / 2, box.y + box.height / 2};
  for (std::size_t k = 0; k < rings.size(); ++k) {
    const double r = radius * rings[k] / rings.back();
    pages.circle(middle, r, {0.25, k + 1 == rings.size() ? ink : guide, Dash::solid});
  }
  constexpr double an_hour = 0.5235987755982988;  // [rad]
  const std::vector<ClockPlace> clock = form_clock(dish);
  draw_pieces(pages, middle, radius, clock);
  for (int hour = 1; hour <= 12; ++hour) {
    const double angle = hour * an_hour, s = std::sin(angle), c = std::cos(angle);
    pages.line(middle, {middle.x + radius * s, middle.y - radius * c}, {0.15, guide, Dash::solid});
    pages.text({middle.x + (radius + 3.4) * s, middle.y - (radius + 3.4) * c + 1.2}, std::to_string(hour),
               hour % 3 == 0 ? heavy(8, Side::middle) : plain(8, Side::middle));
  }
  for (std::size_t k = 0; k < rings.size(); ++k) {
    const double r = radius * rings[k] / rings.back();
    for (std::size_t place = 0; place < clock.size(); ++place) {
      const double angle = clock[place].hours * an_hour;
      if (form_reads(dish, rings, k, place))
        pages.disc({middle.x + r * std::sin(angle), middle.y - r * std::cos(angle)}, clock.size() > 24 ? 0.35 : 0.5, ink);
    }
    pages.disc({middle.x + r * 0.259, middle.y - r * 0.966}, 1.6, {255, 255, 255});
    pages.text({middle.x + r * 0.259, middle.y - r * 0.966 + 1}, std::to_string(k + 1), heavy(7, Side::middle));
  }
  pages.disc(middle, 0.7, ink);
}

/// Outline of the rim in the plane of the straightedge: a box, or an ellipse.
void draw_rim(Pages& pages, const PagePoint& middle, double half_x, double half_y, bool ellipse) {
  const Pen rim{0.5, ink, Dash::solid};
  if (!ellipse) {
    pages.frame({middle.x - half_x, middle.y - half_y, 2 * half_x, 2 * half_y}, rim);
    return;
  }
  std::vector<PagePoint> line;
  constexpr int corners = 90;
  for (int k = 0; k <= corners; ++k) {
    const double angle = 2 * std::numbers::pi * k / corners;
    line.push_back({middle.x + half_x * std::cos(angle), middle.y + half_y * std::sin(angle)});
  }
  pages.polyline(line, rim);
}

/// Lines across, places along them.
void draw_rows(Pages& pages, const Box& box, const FormDish& dish, const std::vector<double>& across,
               const std::vector<double>& along) {
  const double scale = std::min((box.width - 16) / dish.width, (box.height - 16) / dish.length.value_or(1));
  const PagePoint middle{box.x + box.width / 2, box.y + box.height / 2};
  draw_rim(pages, middle, dish.width * scale / 2, dish.length.value_or(1) * scale / 2, dish.offset());
  for (const double y : along) {
    pages.line({middle.x - dish.width * scale / 2, middle.y - y * scale},
               {middle.x + dish.width * scale / 2, middle.y - y * scale}, {0.15, guide, Dash::solid});
    for (const double x : across) {
      if (on_form(dish, x, y)) pages.disc({middle.x + x * scale, middle.y - y * scale}, 0.5, ink);
    }
  }
  pages.text({middle.x, box.y + 4},
             dish.offset() ? "y up along the long way, x across; seen from the sun side"
                           : "y up along the trough, x across; seen from the sun side",
             plain(7, Side::middle));
}

/// What to mark before reading.
std::string where_words(const FormDish& dish) {
  if (dish.offset())
    return "Mark the middle of the rim, x = 0 and y = 0: half of the long way and half of the short way. y goes up along the "
           "long way, to the end that is farther from the feed's side; x goes to the right, seen from the sun side. Lay the "
           "straightedge across the short way at each y, on the rim on both sides, and read at each x.";
  if (dish.by_rows()) return "Mark the middle line between the two edges along the trough (x = 0) and the middle across (y = 0).";
  std::string out =
      "Mark the middle of the dish and 12 o'clock on the rim (the top when it is in use). "
      "Number the clock clockwise, seen from the sun side.";
  if (dish.in_pieces())
    out +=
        fmt::format(" Number the {0}s as they are drawn beside and read each on its middle line and at both {1}s, on every ring.",
                    dish.meant->ribs ? "bay" : "petal", dish.meant->ribs ? "rib" : "seam");
  return out;
}

/// How to get one plane over a rim.
std::string rim_words(const FormDish& dish) {
  if (dish.in_pieces())
    return fmt::format(
        "The rim is not level: it is highest at the {}. Lay two straight laths side by side across the dish so that they rest "
        "there, "
        "level with each other, and the straightedge across the laths: all depths must be from one plane. Note it below.",
        dish.meant->ribs ? "ribs" : "middles of the petals");
  return "The rim: the straightedge must rest on it on both sides. A rolled or thick rim: rest it on the same top edge "
         "everywhere. "
         "A rim that is bent or missing: lay a flat board or two straight laths "
         "across and measure from them; note it below.";
}

std::vector<std::string> how_to(const FormDish& dish, Units units) {
  const std::string fine = units == Units::us ? "1/16 in (better 1/32 in)" : "1 mm (better 0.5 mm)";
  std::vector<std::string> out;
  const bool trough = dish.by_rows() && !dish.offset();
  out.push_back(fmt::format(
      "Lay the {} on its back on blocks so that it does not rock or sag. Work in the shade, or keep the mirror covered but for "
      "where you read: a bare mirror in the sun burns skin and eyes.",
      trough ? "trough" : "dish"));
  out.push_back(where_words(dish));
  out.push_back(rim_words(dish));
  out.push_back(fmt::format("Read every depth to {}, inside, on the mirror face. {}", fine,
                            units == Units::us ? "Write fractions as fractions: 3\u00a01/2, never 3.8 for 3\u00a08/16."
                                               : "Write millimetres, not centimetres."));
  out.emplace_back(
      "If only the outside can be reached, measure the thickness of the skin too and say --outside --skin when you run the "
      "survey.");
  out.emplace_back("Read one place again from time to time. If the two differ by more than one mark, find out why.");
  return out;
}

/// A sheet with the dish in its title block and blanks beside it.
WorkCard form_card(const FormDish& dish, Units units, const std::string& what) {
  WorkCard card;
  card.name = what;
  std::string size = (dish.meant ? dish.meant->word : shape_kind_word(dish.kind)) + " " + tape_text(dish.width, units) + " wide";
  if (dish.length) size += ", " + tape_text(*dish.length, units) + (dish.offset() ? " high" : " long");
  card.title = {
      {"Dish", dish.title.empty() ? size : dish.title + ", " + size}, {"Measured by", ""}, {"Date", ""}, {"Rule reads to", ""}};
  card.question = what;
  return card;
}

/// An empty table that fills the box.
void draw_grid(Pages& pages, const Box& box, const FormGrid& grid) {
  const double first = 22, row = box.height / static_cast<double>(grid.rows.size() + 1);
  const double column = (box.width - first) / static_cast<double>(grid.columns.size());
  pages.fill(Box{box.x, box.y, box.width, row}, pale);
  pages.fill(Box{box.x, box.y, first, box.height}, pale);
  for (std::size_t r = 0; r < grid.rows.size(); ++r) {
    for (std::size_t c = 0; c < grid.columns.size(); ++c) {
      if (grid.is_read(r, c)) continue;
      pages.fill(Box{box.x + first + static_cast<double>(c) * column, box.y + static_cast<double>(r + 1) * row, column, row},
                 unread);
    }
  }
  for (std::size_t r = 0; r <= grid.rows.size() + 1; ++r) {
    const double y = box.y + static_cast<double>(r) * row;
    pages.line({box.x, y}, {box.x + box.width, y}, {0.2, ink, Dash::solid});
    if (r >= 1 && r <= grid.rows.size())
      pages.text({box.x + first / 2, y + row / 2 + 1.2}, grid.rows[r - 1], heavy(8, Side::middle));
  }
  pages.line({box.x, box.y}, {box.x, box.bottom()}, {0.2, ink, Dash::solid});
  for (std::size_t c = 0; c <= grid.columns.size(); ++c) {
    const double x = box.x + first + static_cast<double>(c) * column;
    pages.line({x, box.y}, {x, box.bottom()}, {0.2, ink, Dash::solid});
    if (c < grid.columns.size())
      pages.paragraph({x + 0.5, box.y + row / 2 - 3.2, column - 1, row}, grid.columns[c], heavy(7.5, Side::middle));
  }
  pages.text({box.x + first / 2, box.y + row / 2 + 1.2}, grid.corner, heavy(7.5, Side::middle));
}

/// Places `from` to `to` of the clock.
FormGrid ring_grid(const FormDish& dish, const std::vector<double>& rings, Units units, std::size_t from, std::size_t to) {
  FormGrid grid;
  grid.corner = dish.in_pieces() ? "place" : "clock";
  for (std::size_t k = 0; k < rings.size(); ++k)
    grid.columns.push_back(fmt::format("ring {}\n{}", k + 1, tape_text(rings[k], units)));
  const std::vector<ClockPlace> clock = form_clock(dish);
  for (std::size_t k = from; k < to; ++k) grid.rows.push_back(clock[k].label);
  grid.is_read = [dish, rings, from](std::size_t row, std::size_t column) { return form_reads(dish, rings, column, from + row); };
  return grid;
}

FormGrid rows_grid(const FormDish& dish, const std::vector<double>& across, const std::vector<double>& along, Units units) {
  FormGrid grid;
  grid.corner = "x \\ y";
  for (const double y : along) grid.columns.push_back(tape_text(y, units));
  for (const double x : across) grid.rows.push_back(tape_text(x, units));
  grid.is_read = [=](std::size_t row, std::size_t column) { return on_form(dish, across[row], along[column]); };
  return grid;
}

/// How to hold the straightedge, where to read, and what comes after.
WorkCard instructions(const FormDish& dish, Units units, const std::vector<double>& across, const std::vector<double>& along) {
  constexpr double tall = 84;
  WorkCard card = form_card(dish, units, "Depth readings: how to");
  const bool trough = dish.by_rows() && !dish.offset();
  const auto plan = [=](Pages& pages, const Box& box) {
    dish.by_rows() ? draw_rows(pages, box, dish, across, along) : draw_clock(pages, box, dish, across);
  };
  card.pictures = {{Drawing{draw_straightedge}, "", 0.5, tall}, {Drawing{plan}, "", 0.5, tall}};
  const std::string after = fmt::format(
      "Then type the depths into readings.csv, the table that came with this form, and run\n    {} survey "
      "readings.csv{}\nIt says whether the {} is "
      "good enough, and what to mend first.",
      dish.program, dish.project_file.empty() ? "" : " --scene " + shell_word(dish.project_file), trough ? "trough" : "dish");
  card.numbers = {{"", CardList{how_to(dish, units), true, 10}, true}, {"", CardList{{after}, false, 10}, true}};
  card.cautions = {deferral};
  return card;
}

}  // namespace

void draw_table_and_lines(Pages& pages, const Box& box, const FormGrid& grid) {
  constexpr double lines_room = 32, step = 7.5;
  draw_grid(pages, {box.x, box.y, box.width, box.height - lines_room}, grid);
  const double y = box.bottom() - lines_room + 7;
  pages.text({box.x, y}, "Rim, skin, anything odd:", heavy(9));
  for (int k = 1; k <= 3; ++k) pages.line({box.x, y + step * k}, {box.right(), y + step * k}, {0.2, guide, Dash::solid});
}

namespace {

/// The table to write into, pages of up to 24 places of the clock.
std::vector<WorkCard> blank_tables(const FormDish& dish, Units units, const std::vector<double>& across,
                                   const std::vector<double>& along) {
  constexpr std::size_t on_a_page = 24;
  const std::size_t places = dish.by_rows() ? 1 : form_clock(dish).size(), pages = (places + on_a_page - 1) / on_a_page;
  std::vector<WorkCard> out;
  for (std::size_t page = 0; page < pages; ++page) {
    WorkCard card = form_card(dish, units, "Depth readings");
    card.answer =
        fmt::format("Depth below the straightedge in {}, at each place:", units == Units::us ? "inches" : "millimetres");
    if (!dish.by_rows() || dish.offset()) card.answer += " (Grey: not needed.)";
    if (!dish.by_rows() && page == 0 && dish.hole_width <= 0)
      card.answer = fmt::format("Depth in the middle: ________________ {}\n", length_unit(units)) + card.answer;
    const FormGrid grid = dish.by_rows() ? rows_grid(dish, across, along, units)
                                         : ring_grid(dish, across, units, page * places / pages, (page + 1) * places / pages);
    card.pictures = {{Drawing{[grid](Pages& sheet, const Box& box) { draw_table_and_lines(sheet, box, grid); }}, "", 1, 0}};
    out.push_back(std::move(card));
  }
  return out;
}

}  // namespace

std::vector<WorkCard> readings_cards(const FormDish& dish, Units units) {
  const std::vector<double> across = form_rings(dish, units), along = form_stations(dish, units);
  std::vector<WorkCard> out = blank_tables(dish, units, across, along);
  out.insert(out.begin(), instructions(dish, units, across, along));
  return out;
}

std::string readings_form(const FormDish& dish, Units units, PageSize paper) {
  Pages pages(paper, "Depth readings");
  const std::vector<WorkCard> cards = readings_cards(dish, units);
  for (const WorkCard& card : cards) {
    if (&card != cards.data()) pages.next_page();
    draw_card(pages, card);
  }
  return pages.pdf();
}

}  // namespace dishwright
