// SPDX-License-Identifier: MIT
#include "report/survey/survey_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/numbers/deferral.h"
#include "report/numbers/provenance.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

constexpr int label_width = 36;

std::string line(const std::string& label, const std::string& text) { return labelled(label, text, label_width); }
std::string heading(const std::string& text) { return "\n" + text + "\n"; }
std::string item(const std::string& text) { return wrapped(text, "  - ", "    "); }

std::string capitals(std::string text) {
  for (char& c : text) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  return text;
}

std::string verdict_block(const SurveyReport& report) {
  std::string out = heading("Is it good enough?");
  for (const UseVerdict& use : report.uses)
    out += wrapped(verdict_words(report, use), "  " + flush_left(capitals(verdict_word(use.verdict)), 19), std::string(21, ' '));
  if (report.uses.empty()) out += item("No use was asked for.");
  return out +
         wrapped(
             "A pass or a fail is clear of its limit by two standard errors; between, it is too close to call. ± is of what was "
             "read, not of what may hide between the readings.",
             "  ", "  ");
}

std::string point_text(const std::array<Estimate, 2>& at, Units units) {
  return fmt::format("x {}, y {}", number_text(at[0], units), number_text(at[1], units));
}

std::string fit_block(const SurveyReport& report) {
  const Survey& survey = report.survey;
  const FitFigures& figures = survey.figures;
  const Units units = report.units;
  std::string out = heading("Where the focus really is");
  out += wrapped(fit_words(report), "  ", "  ");
  if (const std::string words = two_lengths_words(report); !words.empty()) out += wrapped(words, "  ", "  ");
  if (!survey.fit().shape.has_focus()) return out + line("Focal length", "none for light along its axis");
  out += line("Focal length", number_text(figures.focal_length, units));
  if (survey.fit().shape.kind == ShapeKind::sphere) out += line("Radius", length_text(survey.fit().shape.size, units));
  if (survey.points.under_rim) {
    const bool trough = !survey.fit().shape.round();
    out += line("Light along the axis meets at",
                trough ? "x " + number_text(figures.meeting[0], units) : point_text(figures.meeting, units));
    const PlacedShape& shape = survey.fit().shape;
    const bool about_rim = shape.kind != ShapeKind::meant || shape.meant->in_rim_plane;
    if (about_rim)
      out += line("Lowest point below the rim", number_text({-figures.vertex[2].value, figures.vertex[2].std_error, "m"}, units));
    if (survey.fit().shape.kind != ShapeKind::sphere)
      out += line(about_rim ? "Axis leans from square to rim by" : "Axis leans from the design's by",
                  number_text(figures.tilt, units));
  } else {
    out += line("Vertex", fmt::format("x {}, y {}, z {}", number_text(figures.vertex[0], units),
                                      number_text(figures.vertex[1], units), number_text(figures.vertex[2], units)));
    out += line("Focus", fmt::format("x {}, y {}, z {}", number_text(figures.focus[0], units),
                                     number_text(figures.focus[1], units), number_text(figures.focus[2], units)));
  }
  return out;
}

std::string aside_block(const SurveyReport& report) {
  std::vector<std::string> lines;
  for (const WildRepeat& wild : report.survey.repeats.wild) {
    if (wild.set_aside) lines.push_back(wild_words(report, wild));
  }
  for (const Outlier& outlier : report.survey.set_aside) lines.push_back(outlier_words(report, outlier));
  if (lines.empty()) return "";
  std::string out = heading("Readings set aside (check them)");
  constexpr std::size_t most = 10;
  for (std::size_t k = 0; k < std::min(most, lines.size()); ++k) out += item(lines[k]);
  if (lines.size() > most) out += item(fmt::format("and {} more; survey.json lists all", lines.size() - most));
  return out;
}

std::string surface_block(const SurveyReport& report) {
  const SlopeMap& map = report.survey.map;
  std::string out = heading("How true the surface is");
  out += line("Off the fitted shape (rms)", rough_length(report.survey.fit().rms, report.units));
  out += line("Slope error (rms, one axis)", slope_words(map.rms));
  out += line("  across (x), up (y)", mrad_text(map.rms_x) + ", " + mrad_text(map.rms_y));
  for (const std::string& text : reading_words(report)) out += wrapped(text, "  ", "  ");
  out += heading("The worst spots");
  for (const Spot& spot : report.survey.spots) out += item(spot_words(report, spot));
  if (report.survey.spots.empty()) out += item("none that the readings can show");
  return out + aside_block(report);
}

std::string meant_text(const DesignLine& line, Units units) {
  if (line.measured.unit == "m") return length_text(line.meant, units);
  if (line.measured.unit == "rad") return milliradians_text(line.meant);
  return fmt::format("{:.1f} %", 100 * line.meant);
}

std::string design_block(const SurveyReport& report) {
  const std::vector<DesignLine> lines = design_lines(report);
  if (lines.empty()) return "";
  std::string out = heading("Measured against the design");
  for (const DesignLine& entry : lines) {
    const Estimate& m = entry.measured;
    const std::string measured = m.unit == "rad" ? mrad_text(m) : m.unit == "1" ? percent_text(m) : number_text(m, report.units);
    std::string text = fmt::format("{}, meant {}", measured, meant_text(entry, report.units));
    if (entry.per_cent) text += "; " + per_cent_text(*entry.per_cent);
    out += line(entry.figure, text);
  }
  return out;
}

}  // namespace

std::string survey_text(const SurveyReport& report, Detail detail) {
  std::string out = title_lines(report.name + ": is it good enough?") + wrapped(count_words(report) + ".");
  out += fit_block(report) + surface_block(report) + design_block(report);
  out += "\n" + wrapped("Cover the mirror while you measure outdoors: its bright spot burns skin and eyes. " + deferral,
                        "CAUTION: ", "  ");
  const std::string program = fmt::format("dishwright {}", DISHWRIGHT_VERSION);
  const auto& light = report.light;
  return out + "\n" +
         wrapped(light ? settings_line(light->scene, light->figures, scene_digest(light->scene), detail) : program, "", "  ");
}

std::string survey_answer(const SurveyReport& report) {
  return heading("What to do first") + wrapped(repair_words(report), "  ", "  ") + verdict_block(report);
}

namespace {

/// A string as it is cut, by the tape, and how far off it may be.
std::string string_text(const Estimate& length, Units units) {
  const std::string cut = tape_text(length.value, units, 32);
  if (!length.std_error || *length.std_error <= 0) return cut;
  return fmt::format("{} ± {} {}", cut, rough_text(*length.std_error * lengths_per_metre(units), 1), length_unit(units));
}

}  // namespace

std::string found_text(const FoundMeasures& measures, const FoundDish& dish, Units units) {
  std::string out = dish.offset ? "Found dish, offset feed\n=======================\n"
                                : "Found dish, feed over the middle\n================================\n";
  out += line("Width", length_text(measures.width, units));
  if (measures.height) out += line("Height", length_text(*measures.height, units));
  out += line("Deepest depth", length_text(measures.depth, units));
  if (measures.tape > 0) out += line("Each length is right to", "± " + tape_text(measures.tape, units, 64));
  out += heading("What follows");
  out += line("Focal length", number_text(dish.focal_length, units));
  if (measures.tape > 0)
    out +=
        line("  at the very least, at the most", length_text(dish.low.value, units) + ", " + length_text(dish.high.value, units));
  out += line("Focal length / width", number_text(dish.focal_ratio, units));
  if (dish.offset) {
    out += line("Rim leans from square to axis by", number_text(dish.rim_lean, units));
    out += line("Axis to the bottom of the rim", number_text(dish.clearance, units));
  }
  const std::string caution = wrapped(
      "Cover the dish, or keep it turned from the sun, while you work on it outdoors: where it shines, "
      "its bright spot burns skin and eyes. Nobody looks into it. " +
          deferral,
      "CAUTION: ", "  ");
  out += heading("Strings from the focus to the rim");
  if (dish.strings.empty())
    return out +
           wrapped(
               fmt::format("None: the focal length is not known to {:.0f} %, and a feed on strings would sit beside the focus. "
                           "Measure the depth with a finer rule (--tape), in several places, and take the mean.",
                           100 * well_known_focus),
               "  ", "  ") +
           "\n" + caution;
  for (const RimString& rim : dish.strings) out += line(rim.place, string_text(rim.length, units));
  out += wrapped(
      dish.offset ? "Tie the strings to the rim and draw them tight together: the feed's throat belongs where all of them meet."
                  : "Tie three strings of this length to the rim, a third of the way round apart, and draw them tight together: "
                    "the feed belongs where they meet.",
      "  ", "  ");
  return out + "\n" + caution;
}

}  // namespace dishwright
