// SPDX-License-Identifier: MIT
// One dish, several uses: a verdict each, and the sheet that holds them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/trace/outputs.h"
#include "report/waves/wave_outputs.h"

namespace dishwright {

/// How well a dish does one job. Limits are common practice, no source: light by the first target's intercept (0.9, 0.5), sound
/// by the gain of the mirror alone at the lowest frequency (6 dB, 0 dB), radio by the aperture efficiency at the highest
/// frequency (0.5, 0.25).
enum class UseGrade { fine, poor, useless };
/// From `fine` up, from `poor` up, or below.
UseGrade grade_of(double value, double fine, double poor);

struct UseLine {
  std::string source;  ///< "Light", "Sound", "Radio"
  UseGrade grade = UseGrade::useless;
  std::string verdict;                 ///< "poor for light on the kettle"
  std::string numbers;                 ///< what stands behind it
  std::optional<CardPicture> picture;  ///< on the sheet
};
/// `map`: the map_card() of the first target, where a sheet is to be drawn.
UseLine light_use_line(const Result& result, const WorkCard* map);
/// `sheet`: one is to be drawn.
UseLine wave_use_line(const WaveResult& result, bool sheet);

/// The verdicts as lines of text.
std::string uses_text(const std::vector<UseLine>& uses);
/// The sheet that holds them. The mirror is that of `scene`.
WorkCard uses_card(const Scene& scene, const std::string& name, const std::vector<UseLine>& uses, Units units);

}  // namespace dishwright
