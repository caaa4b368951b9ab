// SPDX-License-Identifier: MIT
// The verdict sheet of a dish of tiles, and its files.
#include <fmt/format.h>

#include "report/numbers/card_files.h"
#include "report/numbers/deferral.h"
#include "report/survey/survey_spot.h"
#include "report/survey/survey_text.h"
#include "report/survey/tile_report.h"

namespace dishwright {

namespace {

std::string tile_headline(const TileReport& report) {
  if (report.base.uses.empty()) return "No use was asked for.";
  const UseVerdict& first = report.base.uses.front();
  switch (first.verdict) {
    case Verdict::pass: return fmt::format("Yes ({}).", first.use);
    case Verdict::fail: return fmt::format("No ({}).", first.use);
    case Verdict::so_far:
      return fmt::format("As far as the readings can see, yes ({}); they leave room for what would spoil it.", first.use);
    case Verdict::too_close: return fmt::format("Too close to call ({}): the readings do not decide it.", first.use);
  }
  return "";
}

std::vector<std::string> tile_number_lines(const TileReport& report) {
  const TileFigures figures = tile_figures(report.tiles);
  const Units units = report.base.units;
  std::vector<std::string> out;
  if (report.tiles.leans.numbers > 0) {
    out.push_back("Light meets " + number_text(figures.focal_length, units) + " from the vertex");
    out.push_back("  off the axis x " + number_text(figures.meeting[0], units) + ", y " + number_text(figures.meeting[1], units));
  }
  out.push_back("Tiles lean besides (rms, one axis) " + slope_words(figures.spread));
  out.push_back("One tile's lean is known to " + mrad_text(figures.lean_error));
  out.push_back("Heights off the frame (rms) " + rough_length(report.tiles.frame.rms, units));
  return out;
}

}  // namespace

WorkCard tile_card(const TileReport& report, const std::vector<CardPicture>& pictures, const WorkCard* spot) {
  constexpr double map_height = 74, low_height = 52;
  WorkCard card;
  card.name = report.base.name + ": verdict";
  card.title = {{"Readings", report.base.name},
                {"Design", report.base.scene && !report.base.scene->title.empty() ? report.base.scene->title : "not given"},
                {"Count", tile_count_words(report)},
                {"Made with", fmt::format("dishwright {}", DISHWRIGHT_VERSION)}};
  card.question = "Is it good enough?";
  card.answer = tile_headline(report);
  for (const UseVerdict& use : report.base.uses)
    card.verdicts.push_back({verdict_word(use.verdict), tile_verdict_words(report, use),
                             use.verdict == Verdict::pass   ? CardVerdict::Ground::outline
                             : use.verdict == Verdict::fail ? CardVerdict::Ground::dark
                                                            : CardVerdict::Ground::pale});
  card.pictures = pictures;
  for (CardPicture& picture : card.pictures) picture.height = &picture - card.pictures.data() < 2 ? map_height : low_height;
  if (spot != nullptr) {
    card.pictures.push_back(spot_picture(report.base, *spot));
    card.pictures.back().height = low_height;
  }
  std::vector<std::string> worst = worst_tile_words(report);
  for (std::size_t k = 0; k < worst.size(); ++k) worst[k] = fmt::format("{}  {}", k + 1, worst[k]);
  if (worst.empty()) worst.emplace_back("none whose setting anew would gain light");
  card.numbers = {{"Where the light meets, how the tiles lean", CardList{tile_number_lines(report)}},
                  {"The worst tiles", CardList{worst}},
                  {"What to do first", CardList{{tile_repair_words(report)}, false, 8.5}, true}};
  for (const std::string& words : tile_reading_words(report))
    card.numbers.push_back({"", CardList{{words}, false, 7}, true, true});
  card.cautions = {"Cover the mirror while you work outdoors: its bright spot burns skin and eyes. " + deferral};
  card.settings = {"± is one standard error, of all tiles, those not read in it; a pass or fail is clear of its limit by three."};
  return card;
}

std::string add_tile_files(const TileReport& report, PageSize paper, WholeFiles& files) {
  const std::vector<CardPicture> pictures = tile_pictures(report);
  const std::vector<WorkCard> spots = spot_cards(report.base);
  files.add("survey.json", tile_json(report));
  add_printed_card(files, "verdict", tile_card(report, pictures, spots.empty() ? nullptr : &spots.front()), paper);
  add_picture(files, "lean-map", pictures[0], {140, 118});
  add_picture(files, "height-map", pictures[1], {140, 118});
  if (pictures.size() > 2) add_picture(files, "aim-map", pictures[2], {120, 118});
  const std::string spot_names = add_spot_files(spots, files);
  return fmt::format(
      "\nWritten into {}:\n  verdict.pdf  one page to print\n  lean-map.png, height-map.png{}{}  pictures\n  survey.json  every "
      "figure\n",
      files.folder().string(), pictures.size() > 2 ? ", aim-map.png" : "", spot_names);
}

}  // namespace dishwright
