// SPDX-License-Identifier: MIT
// Sheets of paper in true millimetres (Cairo, Pango), out as PDF or SVG. Origin at the top left corner of the sheet, x right, y down.
//
// Printed at 100 % a millimetre here is a millimetre on paper. The same drawing gives the same bytes: no date, no random names.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "picture/canvas.h"

namespace dishwright {

struct PageSize {
  double width = 0, height = 0;  ///< [mm]
};
constexpr PageSize letter_page{215.9, 279.4};  ///< 8 1/2 by 11 in
constexpr PageSize a4_page{210, 297};          ///< ISO 216

struct PagePoint {
  double x = 0, y = 0;  ///< [mm]
};

struct PagePen {
  double width = 0.25;  ///< [mm]
  Colour colour{29, 29, 31};
  Dash dash = Dash::solid;
};

struct PageText {
  double size = 10;  ///< of the type [points of 1/72 in]
  bool bold = false;
  Colour colour{29, 29, 31};
  Side side = Side::left;  ///< which part of the text stands at the given x (for paragraphs: in the box)
  double turn = 0;         ///< counter-clockwise about the given point [degrees]; single lines only
  double leading = 1.2;    ///< distance of lines, of their natural one; paragraphs only
};

/// A document of one or more sheets. Boxes are in millimetres. Text is DejaVu Sans, unhinted.
class Pages {
 public:
  Pages(PageSize size, const std::string& title);
  ~Pages();
  Pages(const Pages&) = delete;
  Pages& operator=(const Pages&) = delete;

  const PageSize& size() const;
  void next_page();  ///< what follows goes on a new sheet

  void line(PagePoint from, PagePoint to, const PagePen& pen);
  void polyline(const std::vector<PagePoint>& points, const PagePen& pen);  ///< open
  void fill(const std::vector<PagePoint>& points, const Colour& colour);
  void frame(const Box& box, const PagePen& pen);
  void fill(const Box& box, const Colour& colour);
  /// Counter-clockwise as seen on the page, angles from 3 o'clock [degrees]; 0 to 360 is a circle.
  void arc(PagePoint centre, double radius, double from, double to, const PagePen& pen);
  void circle(PagePoint centre, double radius, const PagePen& pen) { arc(centre, radius, 0, 360, pen); }
  void disc(PagePoint centre, double radius, const Colour& colour);

  /// One line of text; `at` is on its base line.
  void text(PagePoint at, const std::string& words, const PageText& style);
  /// Wrapped to the box's width from its top; a newline starts a new paragraph. Returns the height taken [mm], which may be more than the box's.
  double paragraph(const Box& box, const std::string& words, const PageText& style);
  /// The same without drawing.
  double paragraph_height(double width, const std::string& words, const PageText& style) const;
  double text_width(const std::string& words, const PageText& style) const;

  /// Fills the box with a picture.
  void image(const Box& box, const Pixels& pixels);
  void clip(const Box& box);  ///< until drop_clip() only the box is drawn on
  void drop_clip();

  std::string pdf() const;
  /// One sheet (from 0). Text stays text where the viewer has the font's shapes: glyphs are drawn as paths.
  std::string svg(std::size_t page) const;
  /// One sheet as a picture, white where nothing is drawn.
  Pixels pixels(std::size_t page, double dots_per_mm) const;
  std::size_t count() const;

 private:
  struct Book;
  std::unique_ptr<Book> book_;
};

}  // namespace dishwright
