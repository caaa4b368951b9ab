// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/numbers/caution.h"
#include "report/numbers/deferral.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/sky_words.h"
#include "report/yard/burn_report.h"
#include "report/yard/mirror_hull.h"
#include "report/yard/yard_words.h"
#include "result/heat_levels.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

constexpr double margin = 7;  // [mm]
constexpr double person_height = 1.7;
const Pen thin{0.2, soft_ink, Dash::solid}, firm{0.5, ink, Dash::solid};

/// One view of the yard: east to the right; up, or in the plan north, upward. The vertex is at the origin.
class YardView {
 public:
  YardView(const BurnDay& day, const Scene& scene, bool plan, const Box& box) : plan_(plan) {
    const Vector3 vertex = scene.reflectors.front().pose.at;
    for (const Reflector& mirror : scene.reflectors) {
      std::vector<Vector3> places = mirror_places(mirror);
      for (Vector3& at : places) at = day.parked.axes * (at - vertex);
      hulls_.push_back(seen_hull(places, Vector3::UnitX(), plan ? Vector3::UnitY() : Vector3::UnitZ()));
      for (const YardPoint& at : hulls_.back()) take(at.right, at.up);
    }
    // Everything within four times what stands there; a spot farther off is told in the table.
    const double wall = day.parked.wall;
    take(-1.3 * wall, plan ? -1.2 * wall : -day.parked.height), take(1.3 * wall, plan ? 1.2 * wall : 0);
    if (!plan && !day.parked.roof) take(0, person_height - day.parked.height);
    if (!plan && day.parked.roof) take(0, 1.1 * *day.parked.roof);
    const double reach = 4 * std::max(right_ - left_, high_ - low_);
    for (const BurnStep& step : day.steps) {
      if (step.spot.irradiance > burn_level && step.spot.at.norm() < reach) take(step.spot.at.x(), upward(step.spot.at));
    }
    scale_ = std::min((box.width - 2 * margin) / (right_ - left_), (box.height - 2 * margin) / (high_ - low_));
    x_ = box.x + box.width / 2 - scale_ * (left_ + right_) / 2;
    y_ = box.y + box.height / 2 + scale_ * (low_ + high_) / 2;
  }
  PagePoint at(double right, double up) const { return {x_ + scale_ * right, y_ - scale_ * up}; }
  PagePoint of(const Vector3& place) const { return at(place.x(), upward(place)); }
  double upward(const Vector3& place) const { return plan_ ? place.y() : place.z(); }
  double scale() const { return scale_; }
  const std::vector<std::vector<YardPoint>>& hulls() const { return hulls_; }
  std::vector<PagePoint> placed(const std::vector<YardPoint>& points) const {
    std::vector<PagePoint> out;
    for (const YardPoint& one : points) out.push_back(at(one.right, one.up));
    return out;
  }

 private:
  void take(double right, double up) {
    left_ = std::min(left_, right), right_ = std::max(right_, right);
    low_ = std::min(low_, up), high_ = std::max(high_, up);
  }
  bool plan_;
  std::vector<std::vector<YardPoint>> hulls_;
  double left_ = 0, right_ = 0, low_ = 0, high_ = 0;  // [m]
  double scale_ = 1, x_ = 0, y_ = 0;                  // [mm]
};

/// A person of 1.7 m, of a head and a cloak.
void draw_person(Pages& pages, const YardView& view, double right, double ground) {
  const auto at = [&](double x, double y) { return view.at(right + x * person_height, ground + y * person_height); };
  pages.polyline({at(-0.11, 0), at(-0.13, 0.72), at(-0.05, 0.83), at(0.05, 0.83), at(0.13, 0.72), at(0.11, 0), at(-0.11, 0)},
                 thin);
  pages.circle(at(0, 0.915), 0.07 * person_height * view.scale(), thin);
}

/// The body of a van around the room of the dish, from the side.
void draw_vehicle(Pages& pages, const YardView& view, const ParkedDish& parked) {
  const double wall = parked.wall, roof = *parked.roof, floor = -parked.height;
  pages.polyline(view.placed({{-wall, floor},
                              {-wall, 0.6 * roof},
                              {-0.8 * wall, roof},
                              {0.9 * wall, roof},
                              {wall, 0.9 * roof},
                              {wall, floor},
                              {-wall, floor}}),
                 firm);
  TextStyle style{6.5};
  style.colour = soft_ink;
  PagePoint at = view.at(-0.75 * wall, roof);
  at.y -= 1.2;
  pages.text(at, "roof", style);
}

void draw_surroundings(Pages& pages, const YardView& view, const BurnDay& day, const Box& box, bool plan, Units units) {
  const double wall = day.parked.wall, ground = -day.parked.height;
  TextStyle style{6.5};
  style.colour = soft_ink, style.halo = true;
  if (plan) {
    for (const double side : {-1.0, 1.0}) {
      pages.line(view.at(side * wall, -wall), view.at(side * wall, wall), {0.3, soft_ink, Dash::long_dash});
      pages.line(view.at(-wall, side * wall), view.at(wall, side * wall), {0.3, soft_ink, Dash::long_dash});
    }
    PagePoint north = view.at(0, wall);
    style.side = Side::middle;
    pages.text({north.x, north.y - 1}, "N", {8, true, ink, Side::middle});
    PagePoint corner = view.at(0, -wall);
    pages.text({corner.x, corner.y + 3}, fmt::format("walls {} away", yard_text(wall, units)), style);
    return;
  }
  if (day.parked.roof) return draw_vehicle(pages, view, day.parked);
  const double y = view.at(0, ground).y;
  pages.line({box.x, y}, {box.right(), y}, firm);
  for (double x = box.x; x < box.right(); x += 3) pages.line({x + 1.5, y}, {x, y + 1.5}, thin);
  draw_person(pages, view, -1.15 * wall, ground);
  // A fence of boards.
  const double top = std::min(ground + 1.5, 0.9 * day.parked.height);
  for (const double board : {0.0, 0.035, 0.07}) pages.line(view.at(wall + board, ground), view.at(wall + board, top), firm);
  PagePoint at = view.at(wall, top);
  pages.text({at.x - 3, at.y - 1}, "fence", style);
}

/// Size of a dot by its strength: a step of ten is as much as 1 mm.
double dot_size(double irradiance) { return std::clamp(0.5 + 0.7 * std::log10(irradiance / 1e3), 0.25, 2.6); }

void draw_spots(Pages& pages, const YardView& view, const BurnDay& day, const Box& box) {
  constexpr double hour = 3600;
  std::vector<Box> taken;
  TextStyle style{6.2};
  style.halo = true;
  std::vector<PagePoint> way;
  for (const BurnStep& step : day.steps) {
    if (step.spot.irradiance > day.steps.front().sun.beam && step.spot.irradiance > 1000) way.push_back(view.of(step.spot.at));
  }
  pages.polyline(way, {0.15, soft_ink, Dash::dotted});
  for (const BurnStep& step : day.steps) {
    if (!(step.spot.irradiance > 1000)) continue;
    const PagePoint at = view.of(step.spot.at);
    const bool fire = step.spot.irradiance > ignition_level;
    if (fire) {
      pages.disc(at, dot_size(step.spot.irradiance), {110, 110, 112});
    }
    pages.circle(at, dot_size(step.spot.irradiance), {0.25, ink, Dash::solid});
  }
  // The hours over all dots.
  for (const BurnStep& step : day.steps) {
    if (!(step.spot.irradiance > 1000)) continue;
    const PagePoint at = view.of(step.spot.at);
    const Moment moment{step.sun.seconds, day.day.offset};
    if (std::abs(std::remainder(clock_seconds(moment, day.day), hour)) > 1) continue;
    const std::string words = clock_text(moment);
    const double wide = pages.text_width(words, style), size = dot_size(step.spot.irradiance) + 0.6;
    for (const auto& [dx, dy] : {std::pair(size, 0.9), {-size - wide, 0.9}, {-wide / 2, -size - 0.6}, {-wide / 2, size + 2.4}}) {
      const Box label{at.x + dx, at.y + dy - 2.2, wide, 2.6};
      const bool free =
          label.x > box.x && label.right() < box.right() && std::none_of(taken.begin(), taken.end(), [&](const Box& other) {
            return label.x < other.right() && other.x < label.right() && label.y < other.bottom() && other.y < label.bottom();
          });
      if (!free) continue;
      pages.text({at.x + dx, at.y + dy}, words, style);
      taken.push_back(label);
      break;
    }
  }
}

void draw_yard(Pages& pages, const Box& box, const BurnDay& day, const Scene& scene, bool plan, Units units) {
  const YardView view(day, scene, plan, box);
  pages.clip(box);
  draw_surroundings(pages, view, day, box, plan, units);
  for (const auto& hull : view.hulls()) {
    std::vector<PagePoint> outline = view.placed(hull);
    pages.fill(outline, faint_ink);
    outline.push_back(outline.front());
    pages.polyline(outline, firm);
  }
  draw_spots(pages, view, day, box);
  const double foot = units == Units::us ? 0.3048 : 0.5;
  const PagePoint from{box.x + 2, box.bottom() - 1.5};
  pages.line(from, {from.x + foot * view.scale(), from.y}, firm);
  pages.text({from.x + foot * view.scale() + 1.5, from.y + 0.8}, yard_text(foot, units), TextStyle{6.5});
  pages.drop_clip();
}

}  // namespace

CardPicture burn_picture(const BurnDay& day, const Scene& scene, bool plan, Units units) {
  Drawing drawing;
  drawing.draw = [day, scene, plan, units](Pages& pages, const Box& box) { draw_yard(pages, box, day, scene, plan, units); };
  CardPicture picture;
  picture.what = std::move(drawing);
  picture.heading = plan ? "From above, north up" : "Seen toward the north, east at the right";
  picture.share = 0.5, picture.height = 80;
  return picture;
}

WorkCard burn_card(const AimPlan& plan, const std::string& name, Units units) {
  const BurnDay& day = *plan.parked;
  WorkCard card;
  card.name = "Burn track";
  card.title = {{"Project", scene_title(plan.scene, name)},
                {"Sheet", "burn track"},
                {"Day", date_text(day.day)},
                {"Clock", offset_text(day.day)}};
  card.question = fmt::format("Where does the spot burn when the dish is {}?", parked_words(day));
  for (const std::string& text : burn_words(day, units)) card.answer += (card.answer.empty() ? "" : " ") + text;
  card.pictures = {burn_picture(day, plan.scene, false, units), burn_picture(day, plan.scene, true, units)};
  std::vector<std::string> dots = {
      "Dots are a quarter of an hour apart; the larger, the brighter. Dark dots can set wood on fire."};
  const std::vector<std::string> notes = burn_notes(day, units);
  dots.insert(dots.end(), notes.begin(), notes.end());
  card.numbers = {{"By the hour", CardTable{burn_table(day, units)}},
                  {"Store it like this", CardList{store_list(), true, 9}},
                  {"How to read it", CardList{dots}},
                  {"Eyes and wind", CardList{{eye_words(), wind_words(dish_area(plan.figures))}}}};
  card.cautions = {"This is no promise that anything is safe. " + deferral};
  card.settings = {settings_line(plan.scene, plan.figures, scene_digest(plan.scene))};
  return card;
}

}  // namespace dishwright
