// SPDX-License-Identifier: MIT
// What a class wrote down while its dish heated water, and the cooking power that follows from it.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace dishwright {

/// One row of the log.
struct LogRow {
  double time = 0;             ///< [s]
  double temperature = 0;      ///< of the water [K]
  double beam = 0;             ///< [W/m²]
  std::optional<double> wind;  ///< [m/s]
  std::optional<double> air;   ///< [K]
  int line = 0;                ///< of the file
};

struct DemoLog {
  std::string file;
  std::vector<LogRow> rows;  ///< by rising time
  /// Mean of the rows, weighed by time; empty where the log has no such column.
  double mean_beam = 0;  ///< [W/m²]
  std::optional<double> mean_wind, mean_air;
};

/// Reads `time [min],temperature [degC],beam [W/m2]` and, if there, `wind [m/s]` and `air [degC]`; rows with nothing in them are
/// passed over. Throws InputError with all that is wrong, each by its line: a missing column or unit, a cell that is no number or
/// empty, times that do not rise, water below -10 or above `hottest` [K], a beam outside of 0 … 1500 W/m², wind above 40 m/s, air
/// beyond -30 … 60 °C, fewer than two rows.
DemoLog read_demo_log(const std::filesystem::path& path, double hottest);

/// One ten-minute step.
struct CookingStep {
  double from = 0, to = 0;          ///< [s]
  int line = 0;                     ///< first line of the file in it
  double power = 0;                 ///< P = (T_f − T_i) M C / 600 s, C = 4186 J/(kg K) [W]
  double beam = 0, difference = 0;  ///< means: of the beam [W/m²], of water over air [K]
  std::optional<double> wind;       ///< mean [m/s]
  double standard_power = 0;        ///< P × 700 W/m² / beam [W]
  std::string left_out;             ///< why the line does not count it; empty where it does
};

/// Steps, their straight line and its reading at 50 K: [asae_x580], seen in restatements.
struct CookingPower {
  std::vector<CookingStep> steps;
  int counted = 0;
  std::optional<double> offset, slope;  ///< P_s = offset + slope × T_d [W], [W/K]; from two counted steps on
  std::optional<double> fit;            ///< share of the scatter that the line explains, R² [1]; from three on
  std::optional<double> at_50;          ///< the single measure: the line at 50 K [W]
};

/// Steps of 600 s from the first row on; between rows the readings run straight. Left out, with the reason: steps with a gap of
/// more than ten minutes between rows (the standard's longest), with a mean beam below 450 or above 1100 W/m² or one that changes
/// by more than 100 W/m², with water within 5 K of boiling, or with wind above 2.5 m/s. `air` [K] stands in where the log has no
/// such column; `mass` of the water alone [kg]; `boiling` [K]. The limits of wind and beam are from memory of the standard's
/// later text.
CookingPower cooking_power(const DemoLog& log, double mass, double air, double boiling);

}  // namespace dishwright
