// SPDX-License-Identifier: MIT
// The one table of figures. A figure has one row here: its name in JSON, CSV and on the command line, what it measures, whose it
// is, and how it is called. Everything that prints figures goes through these rows; what a figure's value is, is said by
// light_figure() for light and by wave_figure() (study/wave_answer.h) for sound and radio, which the compiler keeps complete.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/estimate.h"
#include "result/figures.h"

namespace dishwright {

/// In the order of the JSON.
enum class Figure {
  power,
  direct_power,
  total_power,
  intercept,
  peak_irradiance,
  peak_concentration,
  mean_irradiance,
  evenness,
  spot_width_50,
  spot_width_90,
  spot_rms_radius,
  gain,
  reflected_gain,
  aperture_efficiency,
  spillover,
  taper,
  phase,
  surface,
  blockage,
  reflection,
  half_power_width,
  side_lobe,
};

/// What a figure measures; it decides the unit.
enum class FigureKind {
  power,          ///< W or lm
  irradiance,     ///< W/m² or lux; printed in kW/m² under the sun
  concentration,  ///< suns
  share,          ///< of light or power; printed in %
  ratio,          ///< a pure number
  length,         ///< m; printed in mm or in
  level,          ///< dB; a radio's gain in dBi
  angle           ///< rad; printed in degrees
};

/// Whose figure it is.
struct FigureOf {
  bool sun = false, lamp = false, sound = false, radio = false;
};

struct FigureRow {
  Figure figure;
  std::string_view name;  ///< of JSON and CSV, and of --figure
  FigureKind kind;
  FigureOf of;
  bool compared;            ///< shown side by side, and by a sweep
  std::string_view label;   ///< "share caught": an axis, a legend, a sentence. "{}" stands for circle or band
  std::string_view column;  ///< head of a narrow column; empty: it stands in no table of light
  std::string_view line;    ///< before its value in a text; empty: the text has words of its own for it
  std::string_view card;    ///< on the card of a target; empty: not there
};

/// All rows, in the order of Figure.
const std::vector<FigureRow>& all_figures();
const FigureRow& row_of(Figure figure);
/// Null where no figure has that name.
const FigureRow* find_figure(std::string_view name);
/// Rows that can be compared and swept, of light (a lamp's or the sun's), sound or radio.
enum class FigureSource { light, sound, radio };
const std::vector<FigureRow>& compared_rows(FigureSource source);

/// With "circle" or "band" put in where the words leave it open.
std::string with_outline(std::string_view words, bool band);

/// A figure of light of one target; empty where it has none or the figure is one of waves.
std::optional<Estimate> light_figure(const TargetFigures& target, Figure figure);
/// The same by the name; empty where there is no such figure.
std::optional<Estimate> light_figure(const TargetFigures& target, std::string_view name);

}  // namespace dishwright
