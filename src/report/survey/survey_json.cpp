// SPDX-License-Identifier: MIT
#include <cmath>

#include "report/numbers/json_quantity.h"
#include "report/survey/survey_hidden.h"
#include "report/survey/survey_text.h"

namespace dishwright {

namespace {

Json exact(double value, const std::string& unit) { return json_quantity({value, std::nullopt, unit}); }

Json point_json(const Eigen::Vector2d& at) { return Json::array({exact(at.x(), "m"), exact(at.y(), "m")}); }

template <std::size_t N>
Json list(const std::array<Estimate, N>& estimates) {
  Json out = Json::array();
  for (const Estimate& estimate : estimates) out.push_back(json_quantity(estimate));
  return out;
}

/// What the shape is called as a value.
std::string shape_key(const PlacedShape& shape) {
  return shape.kind == ShapeKind::meant ? shape.meant->key : shape_kind_word(shape.kind);
}

Json figures_of(const ShapeFit& fit) {
  const FitFigures figures = fit_figures(fit);
  const double freedom = std::max(1, fit.kept - fit.numbers);
  Json out;
  if (!fit.shape.has_focus()) {
    out["vertex"] = list(figures.vertex);
    out["residual_rms"] = json_quantity({fit.rms, fit.rms / std::sqrt(2 * freedom), "m"});
    out["misfit"] = json_number(fit.misfit);
    return out;
  }
  out["focal_length"] = json_quantity(figures.focal_length);
  if (fit.shape.kind == ShapeKind::sphere) {
    out["radius"] = json_quantity({fit.shape.size, 2 * figures.focal_length.std_error.value_or(0), "m"});
  }
  out["focus"] = list(figures.focus);
  out["vertex"] = list(figures.vertex);
  if (fit.shape.kind != ShapeKind::sphere) {
    out["tilt"] = json_quantity(figures.tilt);
    out["tilt_direction"] = exact(figures.tilt_direction, "rad");
  }
  out["meeting"] = list(figures.meeting);
  out["residual_rms"] = json_quantity({fit.rms, fit.rms / std::sqrt(2 * freedom), "m"});
  out["misfit"] = json_number(fit.misfit);
  return out;
}

Json fit_json(const SurveyReport& report) {
  const Survey& survey = report.survey;
  Json out;
  const PlacedShape& shape = survey.fit().shape;
  out["shape"] = shape_key(shape);
  out["petals"] = nullptr;
  if (shape.kind == ShapeKind::meant && shape.meant->pieces > 0 && !shape.meant->ribs) out["petals"] = shape.meant->pieces;
  if (survey.two && survey.two->matters) {
    out["focal_lengths"] = {json_quantity(survey.two->shorter), json_quantity(survey.two->longer)};
    out["short_direction"] = exact(survey.two->short_direction, "rad");
  }
  out["twist"] = nullptr;
  if (const std::optional<Estimate> twist = twist_of(report)) out["twist"] = json_quantity(*twist);
  out["clear"] = survey.fits.clear;
  out.update(figures_of(survey.fit()));
  return out;
}

Json use_json(const UseVerdict& use) {
  Json out;
  out["use"] = use.use;
  out["figure"] = use.figure;
  out["value"] = json_quantity(use.value);
  out["error_is_of"] = "what was read";
  out["limit"] = exact(use.limit, "1");
  if (use.frequency > 0) {
    out["frequency"] = exact(use.frequency, "Hz");
    out["loss"] = json_quantity(use.loss);
  }
  out["verdict"] = verdict_word(use.verdict);
  out["at_risk"] = exact(use.hidden, "1");
  out["holds"] = nullptr;
  if (const std::optional<bool> holds = use.holds()) out["holds"] = *holds;
  return out;
}

/// What each target catches of the mirror's light; `as_read` is traced on the surface with the noise of the readings still in it.
Json light_json(const SurveyLight& light) {
  Json out;
  for (std::size_t k = 0; k < light.targets.size(); ++k) {
    Json entry;
    entry["intercept"] = json_quantity(light.shares[k]);
    entry["intercept_as_read"] = exact(light.as_read[k], "1");
    // One standard error each way, and below what hides between the readings, at its worst.
    const double error = light.shares[k].std_error.value_or(0);
    entry["intercept_low"] = exact(std::max(0.0, light.shares[k].value - error - light.at_risk[k]), "1");
    entry["intercept_high"] = exact(std::min(1.0, light.shares[k].value + error), "1");
    entry["intercept_meant"] = json_quantity(light.meant[k]);
    out["targets"][light.targets[k]] = std::move(entry);
  }
  for (const Repair& repair : light.repairs)
    out["repairs"].push_back({{"repair", repair.kind}, {"intercept", json_quantity(repair.share)}});
  return out;
}

Json spots_json(const SurveyReport& report) {
  Json out = Json::array();
  for (const Spot& spot : report.survey.spots) {
    Json entry;
    entry["words"] = spot_words(report, spot);
    entry["place"] = point_json(spot.place);
    entry["height"] = json_quantity({spot.height, spot.height_error, "m"});
    entry["across"] = exact(spot.across, "m");
    out.push_back(std::move(entry));
  }
  return out;
}

Json set_aside_json(const SurveyReport& report) {
  Json out = Json::array();
  for (const WildRepeat& wild : report.survey.repeats.wild) {
    if (wild.set_aside)
      out.push_back({{report.file.row_word, wild.row}, {"residual", exact(wild.off, "m")}, {"same_place_as", wild.other_row}});
  }
  for (const Outlier& outlier : report.survey.set_aside) {
    Json entry;
    entry[report.file.row_word] = report.survey.points.rows[outlier.index];
    entry["residual"] = exact(outlier.residual, "m");
    out.push_back(std::move(entry));
  }
  return out;
}

/// Places that were read more than once; `scatter` is of one reading.
Json repeats_json(const SurveyReport& report) {
  const Repeats& repeats = report.survey.repeats;
  Json out;
  out["places"] = repeats.repeated;
  out["scatter"] = json_quantity({repeats.scatter, repeats.scatter / std::sqrt(2 * std::max(1.0, repeats.freedom)), "m"});
  out["degrees_of_freedom"] = repeats.freedom;
  out["used_as_noise"] = report.survey.points.noise.freedom > 0;
  Json disputed = Json::array();
  for (const WildRepeat& wild : repeats.wild) {
    if (!wild.set_aside) disputed.push_back({wild.other_row, wild.row});
  }
  out["disputed"] = std::move(disputed);
  return out;
}

Json design_json(const SurveyReport& report) {
  Json out = Json::array();
  for (const DesignLine& line : design_lines(report)) {
    Json entry;
    entry["figure"] = line.figure;
    entry["meant"] = exact(line.meant, line.measured.unit);
    entry["measured"] = json_quantity(line.measured);
    entry["error_per_cent"] = nullptr;
    if (line.per_cent) entry["error_per_cent"] = json_number(*line.per_cent);
    out.push_back(std::move(entry));
  }
  return out;
}

}  // namespace

std::string survey_json(const SurveyReport& report) {
  const SlopeMap& map = report.survey.map;
  Json out;
  out["points"] = report.name;
  if (report.scene) out["scene"] = report.scene->title;
  out["version"] = DISHWRIGHT_VERSION;
  out["readings"] = report.survey.repeats.read;
  out["places"] = report.survey.points.points.size();
  if (report.survey.repeats.repeated > 0) out["repeats"] = repeats_json(report);
  out["set_aside"] = set_aside_json(report);
  out["fit"] = fit_json(report);
  out["fits"] = Json::object();
  for (const ShapeFit& fit : report.survey.fits.fits) out["fits"][shape_key(fit.shape)] = figures_of(fit);
  out["residual_rms"] = out["fit"]["residual_rms"];
  out["slope_rms"] = json_quantity(map.rms);
  out["error_is_of"] = "what was read";
  // A root near zero has no ± both ways: it lies between these in 68 of 100.
  out["slope_rms_low"] = exact(std::max(0.0, map.rms.value - map.rms.std_error.value_or(0)), "rad");
  out["slope_rms_high"] = exact(map.rms.value + map.rms.std_error.value_or(0), "rad");
  out["slope_rms_x"] = json_quantity(map.rms_x);
  out["slope_rms_y"] = json_quantity(map.rms_y);
  out["slope_noise"] = exact(map.scatter_rms, "rad");
  out["half_path_rms"] = json_quantity(map.half_path_rms);
  out["spacing"] = exact(map.spacing, "m");
  out["slopes_smoothed_away"] = exact(smoothed_away(map), "rad");
  if (report.light) out["light"] = light_json(*report.light);
  out["hidden"] = hidden_json(report);
  out["spots"] = spots_json(report);
  out["design"] = design_json(report);
  out["uses"] = Json::array();
  for (const UseVerdict& use : report.uses) out["uses"].push_back(use_json(use));
  out["verdict"] = verdict_word(overall(report.uses));
  out["first"] = repair_words(report);
  out["notes"] = report.file.notes;
  return json_text(out);
}

std::string found_json(const FoundMeasures& measures, const FoundDish& dish) {
  Json out;
  out["version"] = DISHWRIGHT_VERSION;
  out["kind"] = dish.offset ? "offset" : "centre-fed";
  out["width"] = exact(measures.width, "m");
  if (measures.height) out["height"] = exact(*measures.height, "m");
  out["depth"] = exact(measures.depth, "m");
  out["tape"] = exact(measures.tape, "m");
  out["focal_length"] = json_quantity(dish.focal_length);
  out["focal_length_low"] = json_quantity(dish.low);
  out["focal_length_high"] = json_quantity(dish.high);
  out["focal_ratio"] = json_quantity(dish.focal_ratio);
  if (dish.offset) {
    out["rim_lean"] = json_quantity(dish.rim_lean);
    out["clearance"] = json_quantity(dish.clearance);
  }
  out["strings"] = Json::array();
  for (const RimString& rim : dish.strings)
    out["strings"].push_back(Json{{"place", rim.place}, {"length", json_quantity(rim.length)}});
  return json_text(out);
}

}  // namespace dishwright
