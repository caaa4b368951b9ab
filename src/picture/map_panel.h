// SPDX-License-Identifier: MIT
// A map of values on a face: ink on paper, with its axes and marks; several of one target with the bar that tells the inks.
#pragma once

#include <string>
#include <vector>

#include "picture/axes.h"

namespace dishwright {

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

/// One face of a target. Values in the unit of its picture, rows × columns, row 0 the lowest y; all lengths in the unit that the
/// labels name.
struct MapPanel {
  std::string heading;           ///< "base, 6 in across"; may be empty
  std::string x_label, y_label;  ///< "x [in]"
  int columns = 0, rows = 0;
  std::vector<double> values;
  MapWindow face;          ///< what the values cover
  bool round = false;      ///< only the inscribed circle belongs to the face
  MapWindow view;          ///< what is shown; where it is not the whole face, a small picture of the whole is added
  std::string whole_name;  ///< caption of that small picture: "whole disk"
  std::vector<MapCircle> circles;
  std::vector<MapBand> bands;
  double blur = 0;  ///< standard deviation of the smoothing that the values have been through [bins]
};

/// The faces of one target on one scale of ink.
struct MapPicture {
  std::vector<MapPanel> panels;                 ///< 1 or 2, one below the other
  std::string unit = "kW/m²";                   ///< of the values
  double top = 0;                               ///< value at the dark end of the scale [unit]; 0 = no light at all
  double beam = 0;                              ///< one sun [unit]; 0 = not told in suns
  bool bar = true;                              ///< the inks are told by a bar beside the maps
  std::string empty = "no light arrives here";  ///< told on the map where top is 0
};
void draw_map_picture(Pages& pages, const Box& box, const MapPicture& picture);

/// Value at a point, between bin centres linear, from bins inside the face only; below 0 outside the face.
double map_value(const MapPanel& panel, double x, double y);

/// Room that a panel needs around its map [mm].
struct PanelRoom {
  double left = 0, above = 0, below = 0;
};
PanelRoom panel_room(const Pages& pages, const MapPanel& panel, double type);
/// Draws the panel's view at true aspect, as large as fits, in type of that size [points]; returns where the map lies on the
/// sheet.
Box draw_panel(Pages& pages, const Box& room, const MapPanel& panel, double top, double type);
/// The same with more room at its left than it needs, to stand in line with others.
Box draw_panel(Pages& pages, const Box& room, const MapPanel& panel, double top, double type, const PanelRoom& around);

/// Colours of the places of a box, `colour_at` a share of its width and height from the top left, as an image of 5 dots for each
/// mm.
void draw_dots(Pages& pages, const Box& box, const std::function<Colour(double across, double down)>& colour_at);

}  // namespace dishwright
