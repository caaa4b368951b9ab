// SPDX-License-Identifier: MIT
// What every chart and map shares: the window of values it shows, its frame, ticks, grid and labels, and the bar beside it that
// tells its inks.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "picture/pages.h"
#include "picture/ticks.h"

namespace dishwright {

/// A rectangle of values, in the unit of its axes.
struct MapWindow {
  double x_from = 0, x_to = 0, y_from = 0, y_to = 0;
  double width() const { return x_to - x_from; }
  double height() const { return y_to - y_from; }
  bool operator==(const MapWindow&) const = default;
};

/// Size of the type in a picture that fills that box: 6.5 points in a column of a printed sheet, 9 on a whole one.
double picture_type(const Box& box);

TextStyle picture_text(double size, Side side = Side::left);
TextStyle picture_bold(double size, Side side = Side::left);

/// A window of values on a sheet, x to the right, y up.
struct Axes {
  Box box;
  MapWindow window;
  bool x_log = false;  ///< equal steps for equal ratios of x; x_from > 0
  PagePoint at(double x, double y) const;
  /// Millimetres for each unit of x, where the axis is even.
  double scale() const { return box.width / window.width(); }
};

struct AxisWords {
  std::string x_label, y_label;  ///< with unit: "width [in]"; none where empty
  double type = 6.5;             ///< [points]
  bool grid = false;             ///< pale lines at the ticks
};

/// Room that ticks and labels take at the left of a box with such values, and below it [mm].
double axes_left(const Pages& pages, const MapWindow& window, const AxisWords& words);
double axes_below(const AxisWords& words);

/// Frame, ticks with their numbers, grid and labels. Several numbers an axis where they fit.
void draw_axes(Pages& pages, const Axes& axes, const AxisWords& words);
/// The label of each axis alone.
void draw_axis_labels(Pages& pages, const Box& box, double left, const AxisWords& words);

/// A bar that says which ink stands for which value, its lowest value at the foot.
struct ScaleBar {
  double from = 0, to = 1;                          ///< equal or less: only the foot is named
  std::string unit;                                 ///< above it
  std::vector<Tick> marks;                          ///< values that are named; round numbers where empty
  double beam = 0;                                  ///< > 0: values are also told in suns of this many units, at the right
  std::function<Colour(double share)> colour = {};  ///< of a share from the foot, 0 … 1; ink on paper where none is given
};
/// The inks of a scale along a box, lightest at the foot, or at the left where the box is wider than high; ink on paper without
/// `colour`.
void draw_inks(Pages& pages, const Box& bar, const std::function<Colour(double share)>& colour = {});
/// How wide the bar is with all its words [mm].
double scale_bar_width(const Pages& pages, const ScaleBar& bar, double type);
/// Draws it over the whole height of the room, from its left side.
void draw_scale_bar(Pages& pages, const Box& room, const ScaleBar& bar, double type);

}  // namespace dishwright
