// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/aim/aim_report.h"
#include "report/numbers/caution.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/sky_words.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr Colour ring_grey{130, 130, 134};

TextStyle label(double size, Side side = Side::middle) {
  TextStyle style;
  style.size = size, style.side = side, style.halo = true;
  return style;
}

/// The angle at which so much is left [rad]; empty where more than that is left at all that were tried.
std::optional<double> angle_of(const std::vector<ShareLeft>& left, double share) {
  for (std::size_t k = 1; k < left.size(); ++k) {
    if (left[k].left > share) continue;
    const ShareLeft &a = left[k - 1], &b = left[k];
    const double part = a.left > b.left ? (a.left - share) / (a.left - b.left) : 0;
    return a.angle + part * (b.angle - a.angle);
  }
  return std::nullopt;
}

/// Rings about the foot of the post, in true millimetres: thin ones in degrees, dashed ones in per cent left.
void draw_sight(Pages& pages, const Box& box, const std::vector<ShareLeft>& left, double post) {
  const PagePoint foot{box.x + box.width / 2, box.y + box.height / 2};
  const double room = std::min(box.width, box.height) / 2 - 5;
  const auto radius = [&](double angle) { return 1000 * post * std::tan(angle); };
  for (const double degrees : {1.0, 2.0, 3.0, 5.0, 10.0, 15.0, 20.0}) {
    const double r = radius(degrees * degree);
    if (r > room) break;
    pages.circle(foot, r, {0.2, ring_grey, Dash::solid});
    if (degrees >= 5) pages.text({foot.x + r * 0.7071, foot.y + r * 0.7071 + 1}, fmt::format("{:.0f}°", degrees), label(6.5));
  }
  for (const double share : {0.9, 0.5, 0.1}) {
    const auto angle = angle_of(left, share);
    if (!angle || radius(*angle) > room) continue;
    const double r = radius(*angle);
    pages.circle(foot, r, {0.5, ink, Dash::dashed});
    pages.text({foot.x, foot.y - r - 0.6}, fmt::format("{:.0f} %", 100 * share), label(7));
  }
  // Where the post stands.
  pages.line({foot.x - room, foot.y}, {foot.x + room, foot.y}, {0.12, ring_grey, Dash::solid});
  pages.line({foot.x, foot.y - room}, {foot.x, foot.y + room}, {0.12, ring_grey, Dash::solid});
  pages.disc(foot, 0.5, ink);
}

void draw_bar(Pages& pages, PagePoint from, double length, const std::string& words) {
  const Pen pen{0.4, ink, Dash::solid};
  pages.line(from, {from.x + length, from.y}, pen);
  // The outer edges of the end marks are the length apart.
  for (const double end : {pen.width / 2, length - pen.width / 2})
    pages.line({from.x + end, from.y - 2}, {from.x + end, from.y + 2}, pen);
  pages.text({from.x + 3, from.y - 1.2}, words, label(7, Side::left));
}

void draw_bars(Pages& pages, const Box& box) {
  draw_bar(pages, {box.x + 1, box.y + 5}, 152.4, "6 in");
  draw_bar(pages, {box.x + 1, box.y + 12}, 150, "150 mm");
}

std::vector<std::string> how_to_use(const std::string& post) {
  return {"Print at 100 %. Lay a rule on both check bars: if a bar is wrong, stop, and print again without fitting to the page.",
          fmt::format("Glue the card on a flat plate and fix the plate square to the dish's axis, in full sun: on the rim of a "
                      "dish with a true rim, it "
                      "lies parallel to the rim. Stand a thin post {} high, square, on the dot.",
                      post),
          "Turn the dish until the tip of the shadow is at the dot: the post then has no shadow. Never look along the axis: look "
          "at the card only.",
          "The dashed rings say how much of the light is left when the tip of the shadow is there; the thin rings count degrees.",
          "To aim ahead, put the tip where it will wander to the dot and out on the other side."};
}

}  // namespace

WorkCard aim_card(const AimPlan& plan, const std::string& name, Units units, const AimSight& sight) {
  const Outdoors& outdoors = *plan.scene.outdoors;
  const std::string post = tape_text(sight.post, units);
  WorkCard card;
  card.name = "Aim card";
  card.title = {{"Project", scene_title(plan.scene, name)},
                {"Sheet", "aim card, 1:1"},
                {"Day", date_text(outdoors.time)},
                {"Clock", offset_text(outdoors.time)}};
  card.question = "Where does it point, and for how long?";
  card.answer = pointing_words(plan);
  for (const std::string& line : lasting_words(plan)) card.answer += " " + line;
  const std::vector<ShareLeft> left = plan.re_aim ? plan.re_aim->by_angle : std::vector<ShareLeft>{};
  card.pictures = {{Drawing{[left, height = sight.post](Pages& pages, const Box& box) { draw_sight(pages, box, left, height); }},
                    fmt::format("Sight for a post {} high", post), 1, 84},
                   {Drawing{draw_bars}, "Check bars: if one is wrong, stop", 1, 26}};
  card.numbers = {{"How to use it", CardList{how_to_use(post), true, 7.5}, true},
                  {"In degrees", CardTable{pointing_table(plan)}, true},
                  {"The day", CardList{day_words(plan)}, false, true},
                  {"North", CardList{{compass_words(outdoors)}}, false, true}};
  card.cautions = {caution_line(plan.figures)};
  card.settings = {settings_line(plan.scene, plan.figures, scene_digest(plan.scene))};
  return card;
}

}  // namespace dishwright
