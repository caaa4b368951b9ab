// SPDX-License-Identifier: MIT
// Everything that is said of one survey, and the words for its parts.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "scene/scene.h"
#include "study/survey_light.h"
#include "survey/read_survey.h"
#include "survey/survey.h"
#include "survey/uses.h"

namespace dishwright {

struct SurveyReport {
  std::string name;  ///< of the points' file, without its ending
  SurveyFile file;   ///< its survey has been moved into `survey`
  Survey survey;
  std::optional<Scene> scene;                ///< what was meant to be built
  std::optional<double> meant_focal_length;  ///< [m], from the scene or the command line
  std::optional<SurveyLight> light;
  std::vector<UseVerdict> uses;
  Units units = Units::us;
};

/// A line of the table "measured against design".
struct DesignLine {
  std::string figure;  ///< "focal length"
  Estimate measured;
  double meant = 0;
  std::optional<double> per_cent;  ///< (measured − meant) / meant · 100; of lengths and shares; empty where the design says 0
};
std::vector<DesignLine> design_lines(const SurveyReport& report);
/// "+2.6 %".
std::string per_cent_text(double per_cent);

/// "4 o'clock", "between 4 and 5 o'clock".
std::string clock_words(const Eigen::Vector2d& place);
/// No finer than a tenth of a per cent: "93 ± 2 %", "99.8 ± 0.1 %", "100 %".
std::string share_words(const Estimate& share);
/// "1/2 in toward the dish, 1/4 in to the left (seen from the sun side)".
std::string move_words(const Vector3& move, Units units);
/// An error in two digits: "0.053 in", "1.3 mm".
std::string rough_length(double metres, Units units);
/// "ring 3, 4 o'clock", "in the middle", "7 in out, 4 o'clock", "x 6 in, y -12 in".
std::string place_words(const SurveyReport& report, const Eigen::Vector2d& place);
/// "ring 3, 4 o'clock: 1/8 in high over 5 in".
std::string spot_words(const SurveyReport& report, const Spot& spot);
/// "kettle: catches 93 ± 1 % of the mirror's light; wanted 90 %".
std::string use_words(const UseVerdict& use);
/// The same, and for a pass so far what to read besides.
std::string verdict_words(const SurveyReport& report, const UseVerdict& use);
/// Where and how long a wave may be that these readings do not see, and what a skin flat from reading to reading would cost.
std::vector<std::string> hidden_words(const SurveyReport& report);
/// "It is bent more one way than the other: focal length 18.9 ± 0.1 in along 3 and 9 o'clock, …"; empty where it is not.
std::string two_lengths_words(const SurveyReport& report);
/// A saddle whose ways lie between x and y, as the key `twist` of a project file means it: height = twist · x y/R, R the radius
/// of the rim that was meant, else of the outermost reading [rad]; empty where there is none that matters.
std::optional<Estimate> twist_of(const SurveyReport& report);
/// A slope error; where it is no larger than its error, "not more than 3 mrad, which the readings cannot tell from none".
std::string slope_words(const Estimate& slope);
/// What to do first, in a sentence.
std::string repair_words(const SurveyReport& report);
/// "Paraboloid fits best, beyond doubt" and how the others do.
std::string fit_words(const SurveyReport& report);
/// What the readings can and cannot see.
std::vector<std::string> reading_words(const SurveyReport& report);
/// How many places were read more than once, what their readings scatter by, and which of them disagree; nothing where no place
/// was.
std::vector<std::string> repeat_words(const SurveyReport& report);
/// "line 93: 10 in low (too deep) of line 20, which is of the same place".
std::string wild_words(const SurveyReport& report, const WildRepeat& wild);
/// How many readings were set aside: those that cannot be the surface, and those that the others of their place speak against.
std::size_t readings_aside(const Survey& survey);
/// "line 14: 1 in low, set aside".
std::string outlier_words(const SurveyReport& report, const Outlier& outlier);
/// The readings were 84, 2 set aside, in steps of 1/16 in.
std::string count_words(const SurveyReport& report);
/// The worst verdict of all uses.
Verdict overall(const std::vector<UseVerdict>& uses);
/// An angle in milliradians with its error: "12.3 ± 0.8 mrad".
std::string mrad_text(const Estimate& radians);

}  // namespace dishwright
