// SPDX-License-Identifier: MIT
// Parts of a map card: one face with its axes and marks, the small picture of a whole face, the colour bar.
#pragma once

#include "picture/canvas.h"
#include "picture/map_page.h"

namespace dishwright {

/// Room that a panel needs around its map for the heading and the axes [px].
constexpr double panel_left = 64, panel_bottom = 50, panel_top = 28;

/// Draws the panel's view at true aspect, as large as fits; returns where the map lies on the sheet.
Box draw_panel(Canvas& canvas, const MapPanel& panel, const Box& room, double top);

/// The whole face, small, with a frame around what the panel shows.
void draw_whole_face(Canvas& canvas, const MapPanel& panel, const Box& room, double top);

/// Colour bar with two scales: `unit` on its left, suns on its right (none where the beam is 0).
void draw_colour_bar(Canvas& canvas, const Box& room, double top, double beam, const std::string& unit = "kW/m²");

/// Value at a point, between bin centres linear, from bins inside the face only; below 0 outside the face.
double map_value(const MapPanel& panel, double x, double y);

}  // namespace dishwright
