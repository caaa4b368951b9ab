// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/tape_marks.h"
#include "report/survey/survey_report.h"
#include "survey/measured_mirror.h"

namespace dishwright {

std::string clock_words(const Eigen::Vector2d& place) {
  double hours = std::atan2(place.x(), place.y()) / (2 * std::numbers::pi) * 12;
  if (hours < 0) hours += 12;
  const int halves = static_cast<int>(std::lround(2 * hours)) % 24;
  const int hour = halves / 2 == 0 ? 12 : halves / 2;
  if (halves % 2 == 0) return fmt::format("{} o'clock", hour);
  return fmt::format("between {} and {} o'clock", hour, hour % 12 + 1);
}

std::string share_words(const Estimate& share) {
  constexpr double finest = 0.0005;
  if (share.std_error.value_or(0) >= finest) return percent_text(share);
  return percent_text({std::round(1000 * share.value) / 1000, std::nullopt, "1"});
}

std::string move_words(const Vector3& move, Units units) {
  std::string out;
  const auto add = [&](double size, const char* plus, const char* minus) {
    if (std::abs(size) < 0.0008) return;
    out += fmt::format("{}{} {}", out.empty() ? "" : ", ", tape_text(std::abs(size), units), size > 0 ? plus : minus);
  };
  add(move.z(), "away from the dish", "toward the dish");
  add(move.x(), "to the right", "to the left");
  add(move.y(), "up", "down");
  return out.empty() ? "nowhere" : out + " (seen from the sun side)";
}

namespace {

/// "3 and 9 o'clock": both ends of a line through the middle.
std::string line_words(double direction, bool along_xy) {
  if (along_xy) return fmt::format("{:.0f} degrees from x toward y", direction * 180 / std::numbers::pi);
  const auto hours = [](double angle) {
    const int halves = static_cast<int>(std::lround((0.5 - angle / std::numbers::pi) * 12 + 24)) % 24;
    const int hour = halves / 2 == 0 ? 12 : halves / 2;
    return halves % 2 == 0 ? fmt::format("{}", hour) : fmt::format("{} 1/2", hour);
  };
  return fmt::format("{} and {} o'clock", hours(direction), hours(direction + std::numbers::pi));
}

std::string repair_name(const SurveyReport& report, const Repair& repair) {
  const std::string target = report.light->targets.front();
  if (repair.kind == "move target") return fmt::format("move the {} {}", target, move_words(repair.move, report.units));
  if (repair.kind == "even out") {
    const bool along_xy = report.file.places != PlaceWords::rings;
    if (twist_of(report))
      return fmt::format("take the twist out: bring the rim down at {}, until it stands alike all round",
                         line_words(report.survey.two->short_direction, along_xy));
    const double across = report.survey.two->short_direction + std::numbers::pi / 2;
    return fmt::format("pull the rim in at {}, until it bends alike all round", line_words(across, false));
  }
  if (repair.kind == "flatten spots") return "bring the worst spots, listed above, level with the skin around them";
  return "smooth the whole skin: lay a batten over it, every 3 to 4 in, and take out what rocks or shows light";
}

/// How the share was found, and what of the readings' noise is in it.
std::string light_words(const SurveyReport& report) {
  const SurveyLight& light = *report.light;
  std::string out = "The share caught is traced on the measured surface itself";
  const double rest = smoothed_away(report.survey.map);
  if (rest >= 0.5e-3)
    out += fmt::format(", with {} mrad of random slopes that the readings show but a smooth surface through them does not",
                       rough_text(1e3 * rest, 2));
  out += ". Its ± is of the surface as it was read, with the noise of the readings";
  if (!report.survey.map.humps.empty()) out += " and the doubt about spots that only one reading met";
  const double added = light.shares.front().value - light.as_read.front();
  if (std::abs(added) >= 0.0005)
    out += fmt::format("; that noise alone would have {} {:.1f} %, which has been {}", added > 0 ? "cost" : "added",
                       100 * std::abs(added), added > 0 ? "put back" : "taken off");
  return out + ".";
}

}  // namespace

std::string rough_length(double metres, Units units) {
  return rough_text(metres * lengths_per_metre(units), 2) + " " + length_unit(units);
}

std::string two_lengths_words(const SurveyReport& report) {
  if (!report.survey.two || !report.survey.two->matters) return "";
  const TwoFocalLengths& two = *report.survey.two;
  const bool along_xy = report.file.places != PlaceWords::rings;
  if (const std::optional<Estimate> twist = twist_of(report))
    return fmt::format(
        "It is twisted, by {}: the rim stands high at {} and low at {}. What follows is of the dish without the twist.",
        mrad_text(*twist), line_words(two.short_direction, along_xy),
        line_words(two.short_direction + std::numbers::pi / 2, along_xy));
  return fmt::format(
      "It is bent more one way than the other: focal length {} along {}, {} along {}. What follows is of the round dish between.",
      number_text(two.shorter, report.units), line_words(two.short_direction, along_xy), number_text(two.longer, report.units),
      line_words(two.short_direction + std::numbers::pi / 2, along_xy));
}

std::optional<Estimate> twist_of(const SurveyReport& report) {
  if (!report.survey.two || !report.survey.two->matters || !report.survey.two->is_twist()) return std::nullopt;
  double rim = report.scene ? rim_width(report.scene->reflectors.front().shape) / 2 : 0;
  if (rim <= 0) rim = readings_reach(report.survey, false).x() / 2;
  const Estimate& across = report.survey.two->across;
  return Estimate{across.value * rim, across.std_error.value_or(0) * rim, "rad"};
}

std::string slope_words(const Estimate& slope) {
  const double error = slope.std_error.value_or(0);
  if (!(slope.value <= error) || error <= 0) return mrad_text(slope);
  return fmt::format("not more than {} mrad (these readings cannot tell it from none)",
                     rough_text(1e3 * (slope.value + error), 2));
}

std::string mrad_text(const Estimate& radians) {
  Estimate shown = radians;
  shown.value *= 1e3;
  if (shown.std_error) *shown.std_error *= 1e3;
  shown.unit = "mrad";
  return number_text(shown, Units::si);
}

std::string place_words(const SurveyReport& report, const Eigen::Vector2d& place) {
  const double out = place.norm();
  const PlacedShape& shape = report.survey.fit().shape;
  if (shape.kind == ShapeKind::meant && !shape.meant->in_rim_plane) {
    const Vector3 read = shape.meant->to_rim(Vector3(place.x(), place.y(), height_at(shape, place.x(), place.y())));
    return fmt::format("x {}, y {}", tape_text(read.x(), report.units), tape_text(read.y(), report.units));
  }
  if (!shape.round() || report.file.places == PlaceWords::cloud)
    return fmt::format("x {}, y {}", tape_text(place.x(), report.units), tape_text(place.y(), report.units));
  const std::vector<double>& rings = report.file.rings;
  if (out < (rings.empty() ? 0.02 : rings.front() / 2)) return "in the middle";
  if (rings.empty()) return fmt::format("{} out, {}", tape_text(out, report.units), clock_words(place));
  std::size_t nearest = 0;
  for (std::size_t k = 1; k < rings.size(); ++k) {
    if (std::abs(rings[k] - out) < std::abs(rings[nearest] - out)) nearest = k;
  }
  return fmt::format("ring {}, {}", nearest + 1, clock_words(place));
}

std::string spot_words(const SurveyReport& report, const Spot& spot) {
  const double least = report.units == Units::us ? 0.0254 / 32 : 0.00025;
  const double size = std::abs(spot.height);
  std::string height = tape_text(size, report.units, size < 0.0254 / 8 ? 32 : 16);
  if (size < least) height = "less than " + (report.units == Units::us ? tape_inches(least, 32) : std::string("0.5 mm"));
  std::string text = fmt::format("{}: {} {} over {}", place_words(report, spot.place), height, spot.height > 0 ? "high" : "low",
                                 tape_text(spot.across, report.units));
  const bool many = report.survey.map.samples.size() == static_cast<std::size_t>(report.survey.fit().kept);
  const std::vector<int>& counts = report.survey.points.counts;
  const bool once =
      spot.samples.size() == 1 && (counts.empty() || counts[report.survey.map.samples[spot.samples.front()].first] == 1);
  if (once && many) text += " (one reading alone: read it again first)";
  return text;
}

std::string use_words(const UseVerdict& use) {
  if (use.frequency > 0) {
    const double waves = use.value.value;
    const std::string size = waves <= 1e-4  ? "next to nothing"
                             : waves <= 0.5 ? fmt::format("1/{:.0f} of a wavelength", std::floor(1 / waves))
                                            : rough_text(waves, 2) + (waves < 1 ? " of a wavelength" : " wavelengths");
    return fmt::format("{}: the surface is off by {} (rms); up to 1/16 is common practice; that costs {:.2f} dB of gain", use.use,
                       size, std::abs(use.loss.value));
  }
  return fmt::format("{}: catches {} of the mirror's light; wanted {:.0f} %", use.use, share_words(use.value), 100 * use.limit);
}

Verdict overall(const std::vector<UseVerdict>& uses) {
  Verdict out = Verdict::pass;
  for (const UseVerdict& use : uses) {
    if (use.verdict == Verdict::fail) return Verdict::fail;
    if (use.verdict == Verdict::too_close || (use.verdict == Verdict::so_far && out == Verdict::pass)) out = use.verdict;
  }
  return out;
}

std::string repair_words(const SurveyReport& report) {
  const std::string focus = tape_text(report.survey.figures.focal_length.value, report.units);
  if (!report.survey.fit().shape.has_focus() && !report.light)
    return report.survey.spots.empty() ? "Nothing that the readings can show."
                                       : "Bring the worst spots level, the first of the list first.";
  if (!report.light || report.light->shares.empty()) {
    std::string out = fmt::format(
        "Put what is to be heated, heard or fed {} above the lowest point of the mirror, where its focus really is.", focus);
    if (!report.survey.spots.empty()) out += " Then bring the worst spots level, the first of the list first.";
    return out;
  }
  const Estimate& now = report.light->shares.front();
  constexpr double worth = 0.01;
  if (report.light->repairs.empty() || report.light->repairs.front().share.value - now.value < worth)
    return fmt::format("No repair gains as much as 1 %: the {} catches {} as it is.", report.light->targets.front(),
                       share_words(now));
  const Repair& best = report.light->repairs.front();
  return fmt::format("First, {}. The {} would then catch {:.0f} % of the mirror's light instead of {:.0f} %.",
                     repair_name(report, best), report.light->targets.front(), 100 * best.share.value, 100 * now.value);
}

std::string fit_words(const SurveyReport& report) {
  const FitSet& fits = report.survey.fits;
  std::string out = fmt::format("A {} fits best", shape_kind_word(fits.best));
  if (const Meant& made = fits.chosen().shape.meant; made && made->found) {
    out = made->pieces > 0 ? fmt::format("The dish is made of {} flat petals", made->pieces)
                           : fmt::format("{} fits best", "A" + made->word.substr(1));
  } else if (fits.best == ShapeKind::meant) {
    out = fmt::format("Held against the design, {}", fits.chosen().shape.word());
    if (!fits.clear) out += "; but a plain paraboloid fits these readings better, so it is not what the design says";
  } else if (!fits.clear) {
    out = fmt::format("A {} fits, but these readings cannot tell it from the next best shape for certain",
                      shape_kind_word(fits.best));
  }
  out += ". Left over (rms): ";
  for (std::size_t k = 0; k < fits.fits.size(); ++k) {
    const ShapeFit& fit = fits.fits[k];
    const std::string word = fit.shape.meant && fit.shape.meant->found ? fit.shape.meant->key : shape_kind_word(fit.shape.kind);
    out += fmt::format("{}{} {}", k == 0 ? "" : ", ", word, rough_length(fit.rms, report.units));
  }
  return out + ".";
}

std::vector<std::string> reading_words(const SurveyReport& report) {
  const Survey& survey = report.survey;
  std::vector<std::string> out;
  const SlopeMap& map = survey.map;
  for (const std::string& words : repeat_words(report)) out.push_back(words);
  if (survey.points.noise.freedom > 0) {
    out.push_back(
        fmt::format("That noise makes {:.1f} mrad of slope in the map. It has been taken out of the figures above; only its "
                    "uncertainty is left in them.",
                    1e3 * map.scatter_rms));
  } else if (survey.points.step > 0) {
    out.push_back(fmt::format(
        "Readings to the nearest {} at this spacing make a slope noise of about {:.1f} mrad from one reading to the "
        "next. It has been taken out of the figures "
        "above; only its uncertainty is left in them.",
        tape_text(survey.points.step, report.units, 64), 1e3 * rounding_slope_noise(survey.points.step, map.spacing)));
  } else {
    out.push_back(
        fmt::format("The scatter of the readings, {}, makes a slope noise of {:.1f} mrad in the map. It has been taken out of "
                    "the figures above.",
                    rough_length(map.reading_scatter, report.units), 1e3 * map.scatter_rms));
  }
  for (const std::string& words : hidden_words(report)) out.push_back(words);
  if (report.light) out.push_back(light_words(report));
  if (survey.figures.tilt.std_error.value_or(0) > 0.5 * std::numbers::pi / 180) {
    out.emplace_back(
        "A shallow dish hardly tells a tilt from a sideways shift: trust the place where light meets more than either.");
  }
  for (const std::string& note : report.file.notes) out.push_back(note + ".");
  return out;
}

std::string outlier_words(const SurveyReport& report, const Outlier& outlier) {
  const double off = outlier.residual - outlier.expected;
  return fmt::format("{} {}: {} {} of its neighbours", report.file.row_word, report.survey.points.rows[outlier.index],
                     tape_text(std::abs(off), report.units), off > 0 ? "high (too shallow)" : "low (too deep)");
}

std::vector<std::string> repeat_words(const SurveyReport& report) {
  const Repeats& repeats = report.survey.repeats;
  if (repeats.repeated == 0) return {};
  const SurveyPoints& points = report.survey.points;
  std::string out = fmt::format(
      "{} of {} places {} read more than once, {} readings in all. Each place counts once, with the mean of its readings; ",
      repeats.repeated, points.points.size(), repeats.repeated == 1 ? "was" : "were", repeats.read);
  const std::string size = repeats.scatter > 0 ? rough_length(repeats.scatter, report.units) : "";
  if (repeats.alike) {
    out += "its readings are all alike, as copies are, so they say nothing of the noise.";
  } else if (points.noise.freedom <= 0) {
    out += fmt::format("one reading scatters about it by {}, but that is from too few places to stand for all.", size);
  } else {
    out += fmt::format(
        "one reading scatters about it by {} (standard deviation, {:.0f} degrees of freedom). That is the noise of these "
        "readings",
        size, repeats.freedom);
    out += points.rounding_noise() > 0
               ? "; of the rounding to the rule's marks, the part that repeats do not show is counted, too."
               : ".";
  }
  std::vector<std::string> words = {out};
  for (const WildRepeat& wild : repeats.wild) {
    if (!wild.set_aside)
      words.push_back(
          fmt::format("{} {} and {} are of one place and lie {} apart. Nothing says which is wrong, so their mean counts: read "
                      "that place again.",
                      report.file.row_word == "point" ? "Points" : "Lines", wild.other_row, wild.row,
                      tape_text(std::abs(wild.off), report.units)));
  }
  return words;
}

std::string wild_words(const SurveyReport& report, const WildRepeat& wild) {
  return fmt::format("{} {}: {} {} of {} {}, which is of the same place", report.file.row_word, wild.row,
                     tape_text(std::abs(wild.off), report.units), wild.off > 0 ? "high (too shallow)" : "low (too deep)",
                     report.file.row_word, wild.other_row);
}

std::size_t readings_aside(const Survey& survey) {
  const auto wild =
      std::count_if(survey.repeats.wild.begin(), survey.repeats.wild.end(), [](const WildRepeat& w) { return w.set_aside; });
  return survey.set_aside.size() + static_cast<std::size_t>(wild);
}

std::string count_words(const SurveyReport& report) {
  const std::size_t aside = readings_aside(report.survey);
  std::string out = fmt::format("{} readings", report.survey.repeats.read);
  if (report.survey.repeats.repeated > 0) out += fmt::format(" at {} places", report.survey.points.points.size());
  if (aside > 0) out += fmt::format(", {} set aside", aside);
  if (report.survey.points.step > 0)
    out += fmt::format(", to the nearest {}", tape_text(report.survey.points.step, report.units, 64));
  if (report.survey.points.skin > 0)
    out += fmt::format(", outside a skin of {}", length_text(report.survey.points.skin, report.units));
  return out;
}

std::string per_cent_text(double per_cent) {
  return fmt::format("{:+.1f} %", std::round(10 * per_cent) / 10 + 0.0);  // + 0.0: no "-0.0"
}

std::vector<DesignLine> design_lines(const SurveyReport& report) {
  std::vector<DesignLine> out;
  const auto add = [&out](const std::string& figure, const Estimate& measured, double meant) {
    DesignLine line{figure, measured, meant, std::nullopt};
    if (meant != 0 && measured.unit != "rad") line.per_cent = 100 * (measured.value - meant) / meant;
    out.push_back(line);
  };
  const Survey& survey = report.survey;
  if (report.meant_focal_length && survey.fit().shape.has_focus())
    add("focal length", survey.figures.focal_length, *report.meant_focal_length);
  if (!report.scene) return out;
  const double off = std::hypot(survey.figures.meeting[0].value, survey.figures.meeting[1].value);
  if (survey.points.under_rim && survey.fit().shape.round() && survey.fit().shape.has_focus()) {
    const double error =
        std::hypot(survey.figures.meeting[0].std_error.value_or(0), survey.figures.meeting[1].std_error.value_or(0)) /
        std::numbers::sqrt2;
    add("light meets off the middle by", {off, error, "m"}, 0);
  }
  add("slope error, one axis", survey.map.rms, report.scene->reflectors.front().slope_error);
  for (std::size_t k = 0; report.light && k < report.light->shares.size(); ++k)
    add("share on the " + report.light->targets[k], report.light->shares[k], report.light->meant[k].value);
  return out;
}

}  // namespace dishwright
