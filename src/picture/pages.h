// SPDX-License-Identifier: MIT
// Sheets to draw on in true millimetres (Cairo, Pango), out as PDF, SVG or pixels. Origin at the top left corner of the sheet, x
// right, y down.
//
// A sheet is drawn once and kept; every kind of output is made from that. Printed at 100 % a millimetre here is a millimetre on
// paper. The same drawing gives the same bytes: no date, no random names.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "picture/pixels.h"

namespace dishwright {

constexpr Colour ink{29, 29, 31}, soft_ink{96, 96, 100}, faint_ink{224, 224, 222}, paper_white{255, 255, 255};

/// [mm]
struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

struct PageSize {
  double width = 0, height = 0;  ///< [mm]
};
constexpr PageSize letter_page{215.9, 279.4};   ///< 8 1/2 by 11 in
constexpr PageSize a4_page{210, 297};           ///< ISO 216
constexpr PageSize screen_page{240, 180};       ///< for a screen, 4 : 3
constexpr PageSize tall_screen_page{240, 228};  ///< of a card with a strip below its pictures
constexpr double screen_dots = 5;               ///< of a screen's sheet for each mm: 1200 × 900 pixels

struct PagePoint {
  double x = 0, y = 0;  ///< [mm]
};

enum class Dash { solid, dashed, dotted, long_dash, dash_dot };

struct Pen {
  double width = 0.25;  ///< [mm]
  Colour colour = ink;
  Dash dash = Dash::solid;
  bool halo = false;  ///< a white line beneath, so that it stands out on any colour
};

enum class Side { left, middle, right };

struct TextStyle {
  double size = 10;  ///< of the type [points of 1/72 in]
  bool bold = false;
  Colour colour = ink;
  Side side = Side::left;  ///< which part of the text stands at the given x (for paragraphs: in the box)
  double turn = 0;         ///< counter-clockwise about the given point [degrees]; single lines only
  double leading = 1.15;   ///< distance of lines, of their natural one; paragraphs only
  bool halo = false;       ///< white around the letters
  double room = 0;         ///< > 0: cut with an ellipsis beyond this width [mm]; single lines only
};
/// Height of the em of a type [mm].
constexpr double em(double points) { return points * 25.4 / 72; }

/// A document of one or more sheets. Boxes are in millimetres. Text is DejaVu Sans, unhinted, so that a sheet is the same, byte
/// for byte, on machines with the same libraries.
class Pages {
 public:
  /// `title` and `description` are for readers that read aloud.
  Pages(PageSize size, const std::string& title, const std::string& description = "");
  ~Pages();
  Pages(Pages&&) noexcept;
  Pages& operator=(Pages&&) noexcept;
  Pages(const Pages&) = delete;
  Pages& operator=(const Pages&) = delete;

  const PageSize& size() const;
  std::size_t count() const;
  void next_page();  ///< what follows goes on a new sheet

  void line(PagePoint from, PagePoint to, const Pen& pen);
  void polyline(const std::vector<PagePoint>& points, const Pen& pen);  ///< open
  void fill(const std::vector<PagePoint>& points, const Colour& colour);
  void frame(const Box& box, const Pen& pen);
  void fill(const Box& box, const Colour& colour);
  /// Counter-clockwise as seen on the page, angles from 3 o'clock [degrees]; 0 to 360 is a circle.
  void arc(PagePoint centre, double radius, double from, double to, const Pen& pen);
  void circle(PagePoint centre, double radius, const Pen& pen) { arc(centre, radius, 0, 360, pen); }
  void disc(PagePoint centre, double radius, const Colour& colour);

  /// One line of text; `at` is on its base line.
  void text(PagePoint at, const std::string& words, const TextStyle& style);
  /// Wrapped to the box's width from its top; a newline starts a new paragraph. Returns the height taken [mm], which may be more
  /// than the box's.
  double paragraph(const Box& box, const std::string& words, const TextStyle& style);
  /// The same without drawing.
  double paragraph_height(double width, const std::string& words, const TextStyle& style) const;
  /// Of one line, cut to the style's room where it has one [mm].
  double text_width(const std::string& words, const TextStyle& style) const;

  /// Fills the box with a picture.
  void image(const Box& box, const Pixels& pixels);
  void clip(const Box& box);  ///< until drop_clip() only the box is drawn on
  void drop_clip();

  std::string pdf() const;
  /// One sheet (from 0), its letters drawn as outlines, with the document's title and description.
  std::string svg(std::size_t page) const;
  /// One sheet as a picture, white where nothing is drawn.
  Pixels pixels(std::size_t page, double dots_per_mm) const;

 private:
  struct Book;
  std::unique_ptr<Book> book_;
};

}  // namespace dishwright
