// SPDX-License-Identifier: MIT
#include "report/survey/survey_hidden.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/tape_marks.h"

namespace dishwright {

namespace {

constexpr std::size_t full_clock = 12;

Json exact(double value, const std::string& unit) { return json_quantity({value, std::nullopt, unit}); }

const HiddenRing& widest_ring(const Hidden& hidden) {
  return *std::max_element(hidden.rings.begin(), hidden.rings.end(),
                           [](const HiddenRing& a, const HiddenRing& b) { return a.gap < b.gap; });
}

/// How many of the outer rings are read so coarsely that they should be read closer: gaps of two thirds of the widest and more.
std::size_t coarse_rings(const Hidden& hidden) {
  std::size_t count = 0;
  while (count < hidden.rings.size() && hidden.rings[hidden.rings.size() - 1 - count].gap > widest_ring(hidden).gap * 2 / 3)
    ++count;
  return count;
}

std::string rounded_length(double metres, Units units) {
  const double step = units == Units::us ? 0.0254 : 0.01;
  return tape_text(std::max(step, std::round(metres / step) * step), units);
}

std::string ring_place(const Hidden& hidden, const HiddenRing& ring) {
  const auto number = static_cast<std::size_t>(&ring - hidden.rings.data()) + 1;
  return number == hidden.rings.size() ? "At the rim" : fmt::format("On ring {}", number);
}

/// What the flat skin would cost the first target.
std::string cost_words(const SurveyReport& report) {
  if (!report.light || report.light->at_risk.empty()) return "";
  const double risk = report.light->at_risk.front();
  if (risk < 0.0005) return fmt::format(" Even so the {} would lose next to nothing.", report.light->targets.front());
  return fmt::format(" It would cost the {} {:.1f} % of the mirror's light.", report.light->targets.front(), 100 * risk);
}

}  // namespace

std::vector<std::string> hidden_words(const SurveyReport& report) {
  const Hidden& hidden = report.survey.hidden;
  if (hidden.rings.empty())
    return {fmt::format("Dents and waves smaller than about {} can hide between the readings.",
                        tape_text(report.survey.map.gap, report.units)) +
            (report.light ? " Think of a skin in flat pieces between the readings (its lean traced as random slopes)." : "") +
            cost_words(report)};
  const HiddenRing& worst = widest_ring(hidden);
  std::string first =
      fmt::format("{} your readings are {} apart along the ring: a wave {} long is not seen, nor is any dent between them.",
                  ring_place(hidden, worst), rounded_length(worst.gap, report.units), rounded_length(worst.wave(), report.units));
  if (worst.pieces_shown) {
    const PlacedShape& shape = report.survey.fit().shape;
    first = shape.meant->ribs
                ? "Every rib and the middle of every bay were read: between them the skin is taken to hang as designed."
                : "Middle and seams of every petal were read: between them a sheet is taken to be straight.";
  } else if (report.light) {
    first += fmt::format(" Think of a skin that is flat from reading to reading, up to {} off the curve (traced so).",
                         rough_length(worst.height, report.units));
  }
  first += cost_words(report);
  std::string rings = "Longest wave that is not seen, ring by ring: ";
  for (const HiddenRing& ring : hidden.rings)
    rings += fmt::format("{}{}", &ring == hidden.rings.data() ? "" : ", ", rounded_length(ring.wave(), report.units));
  return {first, rings + ". Check the skin between with a thin batten."};
}

std::string verdict_words(const SurveyReport& report, const UseVerdict& use) {
  std::string out = use_words(use);
  if (use.verdict != Verdict::so_far) return out;
  const Hidden& hidden = report.survey.hidden;
  if (hidden.rings.empty())
    return out +
           fmt::format(". It passes as far as readings {} apart can see: read closer", rough_length(hidden.gap, report.units));
  const std::size_t count = coarse_rings(hidden), places = hidden.rings.back().angles.size();
  const std::string rings = count == 1 ? "the outer ring" : fmt::format("the outer {} rings", count);
  if (places == full_clock)
    return out + fmt::format(". It passes as far as {} hours can see: read {} at the half hours too", places, rings);
  return out + fmt::format(". It passes as far as {} places on a ring can see: read {} half way between, too", places, rings);
}

Json hidden_json(const SurveyReport& report) {
  const Hidden& hidden = report.survey.hidden;
  const auto risk = [&](const std::vector<double>& risks, std::size_t k) {
    return k < risks.size() ? exact(risks[k], "1") : Json(nullptr);
  };
  Json out = Json::array();
  if (hidden.rings.empty())
    out.push_back({{"ring", nullptr},
                   {"wave", exact(hidden.gap, "m")},
                   {"slope", exact(hidden.slope, "rad")},
                   {"share_at_risk", report.light ? risk(report.light->at_risk, 0) : Json(nullptr)}});
  for (std::size_t k = 0; k < hidden.rings.size(); ++k) {
    const HiddenRing& ring = hidden.rings[k];
    out.push_back({{"ring", k + 1},
                   {"radius", exact(ring.radius, "m")},
                   {"places", ring.angles.size()},
                   {"wave", exact(ring.wave(), "m")},
                   {"height", exact(ring.height, "m")},
                   {"share_at_risk", report.light ? risk(report.light->ring_risks, k) : Json(nullptr)}});
  }
  return out;
}

}  // namespace dishwright
