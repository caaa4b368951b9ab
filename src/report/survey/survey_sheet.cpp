// SPDX-License-Identifier: MIT
// The one-page verdict sheet: the question and its answer, pictures, numbers, what to do first.
#include <fmt/format.h>

#include "report/numbers/card_files.h"
#include "report/numbers/deferral.h"
#include "report/survey/survey_files.h"
#include "report/survey/survey_spot.h"
#include "report/survey/survey_text.h"

namespace dishwright {

namespace {

const char* const error_words = "± is one standard error, of what was read; a pass or fail is clear of its limit by two.";
const std::string caution_words = "Cover the mirror while you work outdoors: its bright spot burns skin and eyes. " + deferral;

std::string first_words(const UseVerdict& first) {
  switch (first.verdict) {
    case Verdict::pass: return fmt::format("Yes, for the first use ({}).", first.use);
    case Verdict::fail: return fmt::format("No, not for the first use ({}).", first.use);
    case Verdict::so_far:
      return fmt::format("As far as the readings can see, yes ({}); they leave room for what would spoil it.", first.use);
    case Verdict::too_close: return fmt::format("Too close to call ({}): the readings do not decide it.", first.use);
  }
  return "";
}

/// The first use decides the headline; the others have their rows below it.
std::string answer_words(const SurveyReport& report) {
  if (report.uses.empty()) return "No use was asked for.";
  const UseVerdict& first = report.uses.front();
  if (report.uses.size() == 1 && first.verdict == Verdict::pass) return fmt::format("Yes ({}).", first.use);
  if (report.uses.size() == 1 && first.verdict == Verdict::fail) return fmt::format("No ({}).", first.use);
  return first_words(first);
}

std::vector<CardVerdict> use_rows(const SurveyReport& report) {
  std::vector<CardVerdict> rows;
  for (const UseVerdict& use : report.uses) {
    const CardVerdict::Ground ground = use.verdict == Verdict::pass   ? CardVerdict::Ground::outline
                                       : use.verdict == Verdict::fail ? CardVerdict::Ground::dark
                                                                      : CardVerdict::Ground::pale;
    rows.push_back({verdict_word(use.verdict), verdict_words(report, use), ground});
  }
  return rows;
}

std::vector<std::string> number_lines(const SurveyReport& report) {
  const FitFigures& figures = report.survey.figures;
  const Units units = report.units;
  const PlacedShape& shape = report.survey.fit().shape;
  std::vector<std::string> out;
  if (shape.kind == ShapeKind::meant) out.push_back("Held against " + shape.word());
  if (shape.has_focus()) out.push_back("Focal length " + number_text(figures.focal_length, units));
  if (const std::optional<Estimate> twist = twist_of(report)) {
    out.push_back("Twisted by " + mrad_text(*twist));
  } else if (report.survey.two && report.survey.two->matters) {
    out.push_back("Bent unlike: " + number_text(report.survey.two->shorter, units) + " one way, " +
                  number_text(report.survey.two->longer, units) + " across it");
  }
  if (report.survey.points.under_rim && shape.has_focus()) {
    const bool trough = !shape.round();
    out.push_back("Light along the axis meets at x " + number_text(figures.meeting[0], units) +
                  (trough ? "" : ", y " + number_text(figures.meeting[1], units)));
  }
  out.push_back("Slope error (rms, one axis) " + slope_words(report.survey.map.rms));
  out.push_back("Off the best fit (rms) " + rough_length(report.survey.fit().rms, units));
  for (const DesignLine& line : design_lines(report)) {
    if (line.per_cent) out.push_back(fmt::format("Against design, {}: {}", line.figure, per_cent_text(*line.per_cent)));
  }
  return out;
}

std::vector<std::string> spot_lines(const SurveyReport& report) {
  std::vector<std::string> out;
  for (std::size_t k = 0; k < report.survey.spots.size(); ++k)
    out.push_back(fmt::format("{}  {}", k + 1, spot_words(report, report.survey.spots[k])));
  if (out.empty()) out.emplace_back("none that the readings can show");
  return out;
}

}  // namespace

WorkCard verdict_card(const SurveyReport& report, const SurveyPictures& pictures, const WorkCard* spot) {
  constexpr double map_height = 70, section_height = 46, spot_share = 0.3;
  WorkCard card;
  card.name = report.name + ": verdict";
  card.title = {{"Readings", report.name},
                {"Design", report.scene && !report.scene->title.empty() ? report.scene->title : "not given"},
                {"Count", count_words(report)},
                {"Made with", fmt::format("dishwright {}", DISHWRIGHT_VERSION)}};
  card.question = "Is it good enough?";
  card.answer = answer_words(report);
  card.verdicts = use_rows(report);
  card.pictures = {pictures.residual, pictures.slope, pictures.section};
  card.pictures[0].height = card.pictures[1].height = map_height;
  card.pictures[2].height = section_height, card.pictures[2].share = spot == nullptr ? 1 : 1 - spot_share;
  if (spot != nullptr) {
    card.pictures.push_back(spot_picture(report, *spot));
    card.pictures.back().height = section_height, card.pictures.back().share = spot_share;
  }
  card.numbers = {{"Where the focus is, how true the surface", CardList{number_lines(report)}},
                  {"The worst spots", CardList{spot_lines(report)}},
                  {"What to do first", CardList{{repair_words(report)}, false, 8.5}, true}};
  // What the readings can show, as far as there is room.
  for (const std::string& words : reading_words(report)) card.numbers.push_back({"", CardList{{words}, false, 7}, true, true});
  card.cautions = {caution_words};
  card.settings = {error_words};
  return card;
}

std::string add_survey_files(const SurveyReport& report, PageSize paper, WholeFiles& files) {
  const SurveyPictures pictures = survey_pictures(report);
  const std::vector<WorkCard> spots = spot_cards(report);
  files.add("survey.json", survey_json(report));
  add_printed_card(files, "verdict", verdict_card(report, pictures, spots.empty() ? nullptr : &spots.front()), paper);
  add_picture(files, "residual-map", pictures.residual, {140, 118});
  add_picture(files, "slope-map", pictures.slope, {140, 118});
  add_picture(files, "section", pictures.section, {170, 75});
  const std::string spot_names = add_spot_files(spots, files);
  return fmt::format(
      "\nWritten into {}:\n  verdict.pdf  one page to print\n  residual-map.png, slope-map.png, section.png{}  pictures\n  "
      "survey.json  every figure\n",
      files.folder().string(), spot_names);
}

}  // namespace dishwright
