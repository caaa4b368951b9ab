// SPDX-License-Identifier: MIT
#include "report/waves/facing_card.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/numbers/scene_words.h"
#include "report/waves/wave_help_words.h"
#include "report/waves/wave_pictures.h"
#include "report/waves/wave_words.h"
#include "study/side_view.h"
#include "wave/air.h"

namespace dishwright {

namespace {

constexpr std::size_t most_frequencies = 12;
const Pen mirror_pen{0.9, ink, Dash::solid}, axis_pen{0.18, soft_ink, Dash::dash_dot}, way_pen{0.3, ink, Dash::solid},
    size_pen{0.25, soft_ink, Dash::solid};

/// The first mirror as light would see it: its profile and sizes.
SideView profile_of(const Scene& scene) {
  Scene plain = scene;
  plain.sound.reset(), plain.radio.reset(), plain.lamp.reset();
  plain.reflectors.resize(1), plain.targets.resize(1);
  plain.sun = Sun{};
  return side_view(plain);
}

/// The straight way from one target's place to the other's [m].
double straight_way(const Scene& scene) {
  const Vector3 own = scene.targets.front().pose.at - scene.reflectors.front().pose.at;
  return Vector3(0, 2 * own.y(), *scene.sound->facing - 2 * own.z()).norm();
}

/// Both dishes on a line from left to right, each in one scale; the gap between them shortened where they would be too small.
class PairDrawing {
 public:
  PairDrawing(const SideView& view, const Scene& scene, Units units) : view_(view), scene_(scene), units_(units) {
    const Vector3 own = scene.targets.front().pose.at - view.origin;
    ear_ = {own.dot(view.across), own.dot(view.up)};
    for (const auto& line : view_.profile) {
      for (const CutPoint& at : line) wide_ = std::max(wide_, 2 * std::abs(at.across));
      for (const CutPoint& at : line) high_ = std::max(high_, at.up);
    }
    high_ = std::max(high_, ear_.up);
  }

  void draw(Pages& pages, const Box& room) const {
    constexpr double foot = 11, least = 20;  // [mm] below the dishes; width of a dish that can be read
    const Box box{room.x + 2, room.y, room.width - 4, room.height - foot};
    const double apart = *scene_.sound->facing, true_scale = std::min(box.width / apart, 0.8 * box.height / wide_);
    const bool shortened = true_scale * wide_ < least;
    const double scale = shortened ? std::min(0.8 * box.height / wide_, 0.3 * box.width / high_) : true_scale;
    const double half = shortened ? box.width / 2 : scale * apart / 2, middle = box.x + box.width / 2;
    const double left = middle - half, right = middle + half, level = box.y + box.height / 2;
    const auto first = [&](const CutPoint& at) { return PagePoint{left + scale * at.up, level - scale * at.across}; };
    const auto second = [&](const CutPoint& at) { return PagePoint{right - scale * at.up, level - scale * at.across}; };
    pages.clip(room);
    pages.line({left, level}, {right, level}, axis_pen);
    draw_way(pages, first, second);
    for (const auto& line : view_.profile)
      pages.polyline(placed(line, first), mirror_pen), pages.polyline(placed(line, second), mirror_pen);
    for (const PagePoint& at : {first(ear_), second(ear_)}) pages.disc(at, 1, ink);
    if (shortened) draw_break(pages, {middle, level}, 0.55 * scale * wide_);
    draw_words(pages, room, {left, level}, {right, level}, first(ear_), second(ear_), shortened);
    pages.drop_clip();
  }

 private:
  template <class Place>
  static std::vector<PagePoint> placed(const std::vector<CutPoint>& line, const Place& place) {
    std::vector<PagePoint> out;
    for (const CutPoint& at : line) out.push_back(place(at));
    return out;
  }

  /// Sound from one place by way of the mirror, across, and by the other mirror to the other place.
  template <class First, class Second>
  void draw_way(Pages& pages, const First& first, const Second& second) const {
    std::vector<CutPoint> all;
    for (const auto& line : view_.profile) all.insert(all.end(), line.begin(), line.end());
    if (all.empty()) return;
    for (const double share : {-0.42, -0.24, 0.24, 0.42}) {
      const auto off = [&](const CutPoint& at) { return std::abs(at.across - share * wide_); };
      const CutPoint at =
          *std::min_element(all.begin(), all.end(), [&](const auto& a, const auto& b) { return off(a) < off(b); });
      pages.polyline({first(ear_), first(at), second(at), second(ear_)}, way_pen);
    }
  }

  /// Two strokes through all lines: the gap is longer than drawn.
  static void draw_break(Pages& pages, const PagePoint& at, double half) {
    constexpr double gap = 2.4;
    pages.fill({{at.x - gap, at.y + half}, {at.x, at.y - half}, {at.x + gap, at.y - half}, {at.x, at.y + half}}, paper_white);
    for (const double side : {-gap, 0.0}) pages.line({at.x + side, at.y + half}, {at.x + side + gap, at.y - half}, size_pen);
  }

  void draw_words(Pages& pages, const Box& room, const PagePoint& left, const PagePoint& right, const PagePoint& one,
                  const PagePoint& other, bool shortened) const {
    const double line = room.bottom() - 7.5;
    TextStyle style{8};
    style.side = Side::middle, style.halo = true;
    for (const PagePoint& end : {left, right}) pages.line({end.x, end.y}, {end.x, line + 1.5}, size_pen);
    pages.line({left.x, line}, {right.x, line}, size_pen);
    pages.text({(left.x + right.x) / 2, line - 1.2},
               distance_text(*scene_.sound->facing, units_) + " from vertex to vertex" + (shortened ? " (drawn shorter)" : ""),
               style);
    const std::string name = scene_.targets.front().name;
    style.side = Side::left;
    pages.text({one.x + 2, one.y - 1.6}, name + ": speak here", style);
    style.side = Side::right;
    pages.text({other.x - 2, other.y - 1.6}, name + ": listen here", style);
    style.side = Side::left;
    pages.text({room.x + 2, room.bottom() - 1.5},
               fmt::format("Each {} wide; {} {} in front of the vertex.",
                           wave_length_text(rim_width(scene_.reflectors.front().shape), units_), name,
                           wave_length_text(ear_.up, units_)),
               style);
  }

  SideView view_;
  const Scene& scene_;
  Units units_;
  CutPoint ear_;                ///< the target's place in the cut
  double wide_ = 0, high_ = 0;  ///< of the dish, and of dish and target along the axis [m]
};

/// Two dishes across the page.
CardPicture pair_picture(const WaveResult& result) {
  Drawing drawing;
  drawing.draw = [view = profile_of(result.scene), scene = result.scene, units = result.units](Pages& pages, const Box& box) {
    PairDrawing(view, scene, units).draw(pages, box);
  };
  CardPicture picture;
  picture.what = std::move(drawing), picture.heading = "Side view: how the sound runs";
  picture.share = 1, picture.height = 62;
  return picture;
}

/// A voice at one target's place, as loud as it arrives at the other's.
std::vector<std::vector<std::string>> voice_across(const WaveResult& result) {
  const VoiceFigures& voice = *result.figures.voice;
  const double way = straight_way(result.scene);
  const auto& gain = result.figures.link_gains.at(result.figures.shown);
  const auto level = [&](double more) { return level_text(level_at(voice.level_at_1m, way, more, voice.absorption)); };
  return {{fmt::format("at {}", frequency_text(voice.frequency)), "level"},
          {"at 1 m from the mouth", level_text(voice.level_at_1m)},
          {fmt::format("straight, {} away", distance_text(way, result.units)), level(0)},
          {"by way of both dishes", gain ? level(*gain) : level_text(std::nullopt)},
          {"a quiet field", level_text(quiet_field)}};
}

/// What two dishes lack of twice the gain of one, at the frequency shown; empty where that is little.
std::string near_words(const WaveResult& result) {
  constexpr double little = 0.5;  // [dB]
  const std::size_t k = result.figures.shown;
  const auto &both = result.figures.link_gains.at(k), &one = result.figures.targets.front().answers.at(k).reflected_gain;
  if (!both || !one || std::abs(2 * *one - *both) < little) return "";
  return fmt::format("Here it is {} {} than twice one at {}: so near, the wave that meets the second mirror is not flat.",
                     level_text(std::abs(2 * *one - *both)), *both < 2 * *one ? "less" : "more",
                     frequency_text(result.figures.frequencies.at(k)));
}

}  // namespace

std::string facing_verdict(const WaveResult& result) {
  const auto& gain = result.figures.link_gains.at(result.figures.shown);
  const std::string figure = facing_words(result.scene, result.figures, result.units);
  // By way of both, beside the straight wave: it is heard where it is the stronger one.
  if (!gain) return "No. " + figure;
  return (*gain >= 6 ? "Yes. " : *gain >= heard_change ? "A little. " : "No: the straight sound is as loud or louder. ") + figure;
}

std::vector<std::vector<std::string>> facing_rows(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  std::vector<std::vector<std::string>> rows = {{"[dB]", "one dish, far", "twice that", "both, here"}};
  const auto cell = [](const std::optional<double>& level) {
    const std::string text = level_text(level);
    return text.substr(0, text.find(' '));
  };
  const std::size_t count = figures.frequencies.size(), told = std::min(count, most_frequencies);
  for (std::size_t row = 0; row < told; ++row) {
    const std::size_t k = told > 1 ? row * (count - 1) / (told - 1) : 0;
    const auto& one = figures.targets.front().answers[k].reflected_gain;
    rows.push_back({frequency_text(figures.frequencies[k]), cell(one), cell(one ? std::optional(2 * *one) : std::nullopt),
                    cell(figures.link_gains[k])});
  }
  return rows;
}

std::vector<std::string> facing_items(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const std::string name = figures.targets.front().name, at = frequency_text(figures.frequencies.at(figures.shown));
  std::vector<std::string> items = {
      fmt::format("Stand the dishes upright, {} from vertex to vertex, each looking straight into the other.",
                  distance_text(*result.scene.sound->facing, result.units)),
      fmt::format(
          "One person speaks softly where the {} of one dish is, facing its mirror; the other holds an ear where that of the "
          "other dish is.",
          name)};
  const auto& width = figures.targets.front().answers.at(figures.shown).half_power_width;
  if (width)
    items.push_back(
        fmt::format("Aim: {} off the axis half of the power is lost at {}. At this distance that is {} aside. Sight along "
                    "the axis at the other dish's middle.",
                    angle_text(*width / 2), at,
                    distance_text(*result.scene.sound->facing * std::tan(std::min(*width / 2, 1.5)), result.units)));
  items.emplace_back("Nobody stands between the dishes. Then change places, and try without the dishes.");
  items.emplace_back("No shouting or whistling into a dish while an ear is at the other: it is that much louder there.");
  return items;
}

WorkCard facing_card(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  WorkCard card;
  card.title = wave_title_cells(result, "two dishes");
  card.name = scene_title(result.scene, result.name) + ": two dishes";
  card.question =
      fmt::format("Do two of these dishes carry speech across {}?", distance_text(*result.scene.sound->facing, result.units));
  card.answer = facing_verdict(result);
  card.pictures = {pair_picture(result)};
  card.numbers = {{"Louder than straight, by frequency", CardTable{facing_rows(result)}}};
  if (figures.voice) card.numbers.push_back({"A voice from one to the other", CardTable{voice_across(result)}});
  card.numbers.push_back({"What to do", CardList{facing_items(result), true}, !figures.voice.has_value()});
  card.why = {
      "The first mirror turns what spreads from the mouth into a narrow beam; the second one gathers that beam again at the ear.",
      "Far apart, two dishes give the gains of both together, in dB."};
  if (std::string near = near_words(result); !near.empty()) card.why.push_back(std::move(near));
  card.notes = {"Counted by way of both mirrors alone; the straight wave is the 0 dB. No wind, ground or echo."};
  card.cautions = {wave_caution_line(false, true)};
  card.settings = {wave_settings_line(figures.convergence.points, figures.speed, result.digest)};
  return card;
}

}  // namespace dishwright
