// SPDX-License-Identifier: MIT
// A sheet to draw on: lines, shapes and text (Cairo, Pango) into pixels. Lengths in pixels, origin at the top left.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "picture/pixels.h"

namespace dishwright {

struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

enum class Dash { solid, dashed, dotted, long_dash, dash_dot };

struct Pen {
  double width = 1;
  Colour colour{29, 29, 31};
  Dash dash = Dash::solid;
  bool halo = false;  ///< a white line beneath, so that it stands out on any colour
};

enum class Side { left, middle, right };

struct TextStyle {
  double size = 16;  ///< height of the letters' em [px]
  bool bold = false;
  Colour colour{29, 29, 31};
  Side side = Side::left;  ///< which part of the text stands at the given x
  bool halo = false;       ///< white around the letters
  bool upward = false;     ///< read from bottom to top; the side then counts from the bottom
  double room = 0;         ///< > 0: cut with an ellipsis beyond this width [px]
};

enum class SheetKind {
  pixels,  ///< an image
  drawing  ///< SVG: sharp at any size; no dots()
};

/// Text comes in DejaVu Sans without hinting, so that a sheet is the same, byte for byte, on machines with the same libraries.
class Canvas {
 public:
  Canvas(int width, int height, SheetKind kind = SheetKind::pixels);  ///< white
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  void line(double x1, double y1, double x2, double y2, const Pen& pen);
  void frame(const Box& box, const Pen& pen);
  void fill(const Box& box, const Colour& colour);
  using Points = std::vector<std::pair<double, double>>;
  /// A line through all points.
  void curve(const Points& points, const Pen& pen);
  /// The inside of a closed line, coloured evenly.
  void area(const Points& points, const Colour& colour);
  void circle(double x, double y, double radius, const Pen& pen);
  /// Colours the pixels whose centres lie in the box: `colour_at` gets the centre; where it has no answer the paper stays.
  void dots(const Box& box, const std::function<std::optional<Colour>(double x, double y)>& colour_at);

  /// One line of text; y is the top of its line box.
  void text(double x, double y, const std::string& words, const TextStyle& style);
  /// Text wrapped to a width; returns the height it took.
  double paragraph(const Box& box, const std::string& words, const TextStyle& style);
  double text_width(const std::string& words, const TextStyle& style);

  /// What is drawn until drop_clip() shows inside the box only.
  void clip(const Box& box);
  void drop_clip();

  Pixels pixels() const;
  /// The drawing as an SVG file, letters as outlines; `title` and `description` are for readers that read aloud. Call it once, last.
  std::string svg(const std::string& title, const std::string& description);

 private:
  struct Sheet;
  std::unique_ptr<Sheet> sheet_;
};

}  // namespace dishwright
