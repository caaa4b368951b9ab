// SPDX-License-Identifier: MIT
// Words beside the lines of a chart, off all lines and off each other; a key for charts without room for that.
#pragma once

#include <string>
#include <vector>

#include "picture/line_chart.h"

namespace dishwright {

using PageTrail = std::vector<PagePoint>;

/// Finds places for words in a plot.
class LineNames {
 public:
  /// `lines`: the drawn lines [mm]. `type`: of the picture [points].
  LineNames(Pages& pages, const Box& plot, double type, const std::vector<PageTrail>& lines);
  /// No words come here from now on.
  void keep_off(const Box& box) { taken_.push_back(box); }
  /// Puts a line's name beside it, with a leader where it stands far off.
  void draw_name(std::size_t number, const std::string& label);
  /// Puts words beside an upright line, where they meet nothing, the lower the better.
  void draw_beside(double x, const std::string& label);

 private:
  struct Place {
    Box box;
    PagePoint anchor;
  };
  Place best_place(std::size_t number, double width) const;
  double crossings(const Box& leader) const;
  /// Exact up to `most`; beyond it only that it is more.
  double cost_of(const Box& box, std::size_t own, double most) const;

  Pages& pages_;
  Box plot_;
  double type_, unit_;  // points; lengths below are told in 18ths of the names' em [mm]
  std::vector<PageTrail> trails_;
  std::vector<Box> taken_;
};

/// Size of the lines' names in a picture of that type [points].
constexpr double name_type(double type) { return 1.1 * type; }

/// A short piece of each line and its name, in rows; or one below the other.
double key_height(const Pages& pages, double width, const std::vector<ChartLine>& lines, double type);
void draw_key(Pages& pages, const Box& box, const std::vector<ChartLine>& lines, double type);
void draw_key_column(Pages& pages, const Box& box, const std::vector<ChartLine>& lines, double type);

}  // namespace dishwright
