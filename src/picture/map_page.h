// SPDX-License-Identifier: MIT
// The work-card of one target: title block, the question with its answer, the light map, the numbers, the why, the settings.
#pragma once

#include <string>
#include <vector>

#include "picture/pixels.h"
#include "picture/sheet.h"

namespace dishwright {

/// A rectangle in the plane of a map, in the unit of its axes.
struct MapWindow {
  double x_from = 0, x_to = 0, y_from = 0, y_to = 0;
  double width() const { return x_to - x_from; }
  double height() const { return y_to - y_from; }
  bool operator==(const MapWindow&) const = default;
};

enum class MarkLine { solid, dashed };

/// A circle on a map that holds a share of the light.
struct MapCircle {
  double x = 0, y = 0, width = 0;
  std::string label;  ///< "50 %"
  MarkLine line = MarkLine::solid;
};

/// A band between two upright lines that holds a share of the light.
struct MapBand {
  double from = 0, to = 0;
  std::string label;
  MarkLine line = MarkLine::solid;
};

/// One face of a target. Values in the unit of its page, rows × columns, row 0 the lowest y; all lengths in the unit that the labels name.
struct MapPanel {
  std::string heading;           ///< "base, 6 in across"
  std::string x_label, y_label;  ///< "x [in]"
  int columns = 0, rows = 0;
  std::vector<double> values;
  MapWindow face;          ///< what the values cover
  bool round = false;      ///< only the inscribed circle belongs to the face
  MapWindow view;          ///< what is shown; where it is not the whole face, a small picture of the whole is added
  std::string whole_name;  ///< caption of that small picture: "whole disk"
  std::vector<MapCircle> circles;
  std::vector<MapBand> bands;
};

/// A share of the whole as a bar.
struct CardShare {
  std::string label;
  double share = 0;  ///< 0 … 1
};

struct MapPage {
  std::vector<CardEntry> title_block;  ///< 4 cells, of decreasing importance
  std::string question, answer;
  std::vector<MapPanel> panels;  ///< 1 or 2
  std::string unit = "kW/m²";    ///< of the values
  double top = 0;                ///< value at the dark end of the colour scale [unit]; 0 = no light at all
  double beam = 0;               ///< one sun [unit]; 0 = not told in suns
  std::vector<CardEntry> numbers;
  std::vector<std::string> why;
  std::string empty = "no light arrives here";  ///< told on the map where top is 0
  std::string ledger_title = "Where the light went";
  std::vector<CardShare> ledger;      ///< drawn as bars where room is left
  std::vector<std::string> settings;  ///< at the foot, a line each
};

/// 1200 × 900 pixels.
Pixels draw_map_page(const MapPage& page);

}  // namespace dishwright
