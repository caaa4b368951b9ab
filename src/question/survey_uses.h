// SPDX-License-Identifier: MIT
// What a survey is judged for: shared by command and page.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/estimate.h"
#include "scene/scene.h"
#include "scenefile/read_scene.h"
#include "study/survey_light.h"
#include "survey/survey.h"
#include "survey/uses.h"

namespace dishwright {

/// A scene for each source of the project file, light first: a dish is a dish, whatever it is for.
std::vector<Scene> source_scenes(const ProjectFile& file, ReadOptions read);

/// "10.4 GHz radio".
std::string wave_name(double frequency, const char* what);
/// Verdicts for the sound or the radio of a project file; of many frequencies the highest decides.
void judge_waves(const Scene& scene, const Estimate& half_path_rms, double hidden_rms, std::vector<UseVerdict>& uses);
/// A verdict for each use of the project file and each frequency [Hz] that was asked for; without a project file for speech, too.
std::vector<UseVerdict> judge_uses(const Survey& survey, const std::optional<SurveyLight>& light, double wanted,
                                   const std::vector<Scene>& scenes, const std::vector<double>& frequencies);

}  // namespace dishwright
