// SPDX-License-Identifier: MIT
// The one-page verdict sheet, laid out as a work-card: title block, the question and its answer, pictures, numbers, what to do first.
#include <fmt/format.h>

#include <algorithm>

#include "picture/image_file.h"
#include "picture/page_card.h"
#include "report/survey_files.h"
#include "report/survey_spot.h"
#include "report/survey_text.h"

namespace dishwright {

namespace {

constexpr double margin = card_margin, column_gap = card_column_gap;

const char* const foot_words =
    "± is one standard error; a pass or fail is clear of its limit by two. Cover the mirror while you work outdoors: its "
    "bright spot burns skin and eyes. Local code, school policy and licensed practice govern.";

std::string answer_words(const SurveyReport& report) {
  switch (overall(report.uses)) {
    case Verdict::pass: return "Yes, for every use asked for.";
    case Verdict::fail: return "No, not for every use asked for.";
    case Verdict::too_close: return "Too close to call: the readings do not decide it.";
  }
  return "";
}

double uses_table(Pages& pages, double y, const SurveyReport& report) {
  std::vector<CardVerdict> rows;
  for (const UseVerdict& use : report.uses) {
    const CardVerdict::Ground ground = use.verdict == Verdict::pass   ? CardVerdict::Ground::outline
                                       : use.verdict == Verdict::fail ? CardVerdict::Ground::dark
                                                                      : CardVerdict::Ground::pale;
    rows.push_back({verdict_word(use.verdict), use_words(use), ground});
  }
  return page_verdicts(pages, y, rows);
}

std::vector<std::string> number_lines(const SurveyReport& report) {
  const FitFigures& figures = report.survey.figures;
  const Units units = report.units;
  std::vector<std::string> out = {"Focal length " + number_text(figures.focal_length, units)};
  if (report.survey.points.under_rim) {
    const bool trough = report.survey.fit().shape.kind == ShapeKind::trough;
    out.push_back("Light along the axis meets at x " + number_text(figures.meeting[0], units) +
                  (trough ? "" : ", y " + number_text(figures.meeting[1], units)));
  }
  out.push_back("Slope error (rms, one axis) " + mrad_text(report.survey.map.rms));
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

std::string verdict_sheet(const SurveyReport& report, bool a4) {
  Pages pages(a4 ? a4_page : letter_page, report.name + ": verdict");
  const double width = pages.size().width - 2 * margin, bottom = pages.size().height - margin;
  double y = page_title_block(pages, margin,
                              {{"READINGS", report.name},
                               {"DESIGN", report.scene && !report.scene->title.empty() ? report.scene->title : "not given"},
                               {"COUNT", count_words(report)},
                               {"MADE WITH", fmt::format("dishwright {}", DISHWRIGHT_VERSION)}});
  pages.text({margin, y + 9}, "Is it good enough?", card_bold(16));
  PageText answer = card_plain(11);
  answer.side = Side::right;
  pages.text({margin + width, y + 9}, answer_words(report), answer);
  y = uses_table(pages, y + 12, report) + 4;
  const double half = (width - column_gap) / 2;
  const std::vector<std::string> numbers = number_lines(report), spots = spot_lines(report);
  const std::string repair = repair_words(report), foot(foot_words);
  const double foot_height = pages.paragraph_height(width, foot, card_plain(6.5));
  // The pictures shrink, by half at most, so that the words below fit.
  const double words_height = std::max(page_list_height(pages, half, numbers), page_list_height(pages, half, spots)) + 1 + 5 +
                              pages.paragraph_height(width, repair, card_plain(8.5)) + 3 + foot_height + 2;
  const double shrink = std::clamp((bottom - words_height - y - 6) / (70 + 46), 0.5, 1.0);
  const double map_height = 70 * shrink, section_height = 46 * shrink;
  draw_survey_picture(pages, {margin, y, half, map_height}, report, SurveyPicture::residual);
  draw_survey_picture(pages, {margin + half + column_gap, y, half, map_height}, report, SurveyPicture::slope);
  y += map_height + 3;
  const double spot_width = report.light ? 52 : 0;
  draw_survey_picture(pages, {margin, y, width - spot_width, section_height}, report, SurveyPicture::section);
  if (report.light) draw_survey_spot(pages, {margin + width - spot_width, y, spot_width, section_height}, report);
  y += section_height + 3;
  const double left = page_list(pages, {margin, y, half, 0}, "Where the focus is, how true the surface", numbers);
  const double right = page_list(pages, {margin + half + column_gap, y, half, 0}, "The worst spots", spots);
  y = std::max(left, right) + 1;
  pages.text({margin, y + 3.2}, "What to do first", card_bold(9));
  y += 5;
  y += pages.paragraph({margin, y, width, 0}, repair, card_plain(8.5)) + 3;
  pages.paragraph({margin, bottom - foot_height, width, foot_height}, foot, card_plain(6.5));
  // What the readings can show, as far as there is room.
  for (const std::string& words : reading_words(report)) {
    const double height = pages.paragraph_height(width, words, card_plain(7));
    if (y + height > bottom - foot_height - 2) break;
    y += pages.paragraph({margin, y, width, 0}, words, card_plain(7)) + 0.8;
  }
  return pages.pdf();
}

std::string add_survey_files(const SurveyReport& report, bool a4, WholeFiles& files) {
  files.add("survey.json", survey_json(report));
  files.add("verdict.pdf", verdict_sheet(report, a4));
  files.add("residual-map.png", png_bytes(survey_image(report, SurveyPicture::residual)));
  files.add("slope-map.png", png_bytes(survey_image(report, SurveyPicture::slope)));
  files.add("section.png", png_bytes(survey_image(report, SurveyPicture::section)));
  const std::string spots = add_spot_files(report, files);
  return fmt::format(
      "\nWritten into {}:\n  verdict.pdf  one page to print\n  residual-map.png, slope-map.png, section.png{}  pictures\n  "
      "survey.json  every figure\n",
      files.folder().string(), spots);
}

}  // namespace dishwright
