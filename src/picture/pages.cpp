// SPDX-License-Identifier: MIT
#include "picture/pages.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include <array>
#include <cmath>
#include <cstring>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string_view>

namespace dishwright {

namespace {

constexpr double points_per_mm = 72 / 25.4;
constexpr double line_halo = 0.6, text_halo = 1.0;  // white beyond a line, and a stroke about letters [mm]

struct LayoutEnd {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, LayoutEnd>;

void use(cairo_t* cairo, const Colour& c) { cairo_set_source_rgb(cairo, c.red / 255.0, c.green / 255.0, c.blue / 255.0); }

void set_dash(cairo_t* cairo, Dash dash) {
  static constexpr std::array<double, 2> dashed{2.2, 1.2}, dotted{0.4, 1.0}, long_dash{4.8, 1.4};
  static constexpr std::array<double, 4> dash_dot{2.6, 1.0, 0.5, 1.0};
  if (dash == Dash::solid) cairo_set_dash(cairo, nullptr, 0, 0);
  if (dash == Dash::dashed) cairo_set_dash(cairo, dashed.data(), 2, 0);
  if (dash == Dash::dotted) cairo_set_dash(cairo, dotted.data(), 2, 0);
  if (dash == Dash::long_dash) cairo_set_dash(cairo, long_dash.data(), 2, 0);
  if (dash == Dash::dash_dot) cairo_set_dash(cairo, dash_dot.data(), 4, 0);
}

/// Strokes the current path: halo first, then the line.
void stroke(cairo_t* cairo, const Pen& pen) {
  if (pen.halo) {
    set_dash(cairo, Dash::solid);
    use(cairo, paper_white);
    cairo_set_line_width(cairo, pen.width + line_halo);
    cairo_stroke_preserve(cairo);
  }
  set_dash(cairo, pen.dash);
  use(cairo, pen.colour);
  cairo_set_line_width(cairo, pen.width);
  cairo_stroke(cairo);
}

void trail(cairo_t* cairo, const std::vector<PagePoint>& points) {
  cairo_new_path(cairo);
  for (const PagePoint& p : points) cairo_line_to(cairo, p.x, p.y);
}

cairo_status_t append(void* target, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(target)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// Numbers the "surface12" and "image12" of an SVG anew from 1 in the order they come: Cairo counts them through the whole run.
std::string numbered_anew(const std::string& svg) {
  std::string out;
  std::map<std::string, int> numbers;
  for (std::size_t at = 0; at < svg.size();) {
    std::size_t word = 0;
    for (const std::string_view name : {"surface", "image"}) {
      const bool whole = at > 0 && (svg[at - 1] == '"' || svg[at - 1] == '#');
      if (whole && svg.compare(at, name.size(), name) == 0) word = name.size();
    }
    std::size_t end = at + word;
    while (word > 0 && end < svg.size() && svg[end] >= '0' && svg[end] <= '9') ++end;
    if (word == 0 || end == at + word) {
      out += svg[at++];
      continue;
    }
    const auto [found, added] = numbers.try_emplace(svg.substr(at, end - at), static_cast<int>(numbers.size()) + 1);
    out += svg.substr(at, word) + std::to_string(found->second);
    at = end;
  }
  return out;
}

/// A file name may hold bytes that are no UTF-8: they are shown as replacement signs.
std::string valid(const std::string& words) {
  gchar* made = g_utf8_make_valid(words.c_str(), static_cast<gssize>(words.size()));
  std::string out = made;
  g_free(made);
  return out;
}

/// Fit for XML.
std::string escaped(const std::string& words) {
  gchar* safe = g_markup_escape_text(words.c_str(), -1);
  std::string out = safe;
  g_free(safe);
  return out;
}

void check(cairo_surface_t* surface) {
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
    throw std::runtime_error(std::string("a page could not be drawn: ") + cairo_status_to_string(cairo_surface_status(surface)));
}

}  // namespace

struct Pages::Book {
  /// What was drawn on one sheet, kept to be drawn again on any kind of output.
  struct Sheet {
    cairo_surface_t* surface = nullptr;
    cairo_t* cairo = nullptr;
  };

  PageSize size;
  std::string title, description;
  std::vector<Sheet> sheets;

  cairo_t* cairo() const { return sheets.back().cairo; }

  void add_sheet() {
    Sheet sheet;
    const cairo_rectangle_t extents{0, 0, size.width * points_per_mm, size.height * points_per_mm};
    sheet.surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents);
    sheet.cairo = cairo_create(sheet.surface);
    check(sheet.surface);
    cairo_scale(sheet.cairo, points_per_mm, points_per_mm);
    cairo_font_options_t* plain = cairo_font_options_create();
    cairo_font_options_set_antialias(plain, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(plain, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(plain, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(sheet.cairo, plain);
    cairo_font_options_destroy(plain);
    cairo_set_line_join(sheet.cairo, CAIRO_LINE_JOIN_ROUND);
    sheets.push_back(sheet);
  }

  Layout layout(const std::string& words, const TextStyle& style) const {
    Layout made(pango_cairo_create_layout(cairo()));
    // Letters stand where they belong, not on whole millimetres.
    pango_context_set_round_glyph_positions(pango_layout_get_context(made.get()), FALSE);
    PangoFontDescription* font = pango_font_description_from_string(style.bold ? "DejaVu Sans Bold" : "DejaVu Sans");
    pango_font_description_set_absolute_size(font, em(style.size) * PANGO_SCALE);
    pango_layout_set_font_description(made.get(), font);
    pango_font_description_free(font);
    pango_layout_set_text(made.get(), valid(words).c_str(), -1);
    return made;
  }

  /// One line, cut with an ellipsis where the style has less room.
  Layout line_layout(const std::string& words, const TextStyle& style) const {
    Layout made = layout(words, style);
    pango_layout_set_single_paragraph_mode(made.get(), TRUE);
    if (style.room <= 0) return made;
    pango_layout_set_ellipsize(made.get(), PANGO_ELLIPSIZE_END);
    int natural = 0;
    pango_layout_get_size(made.get(), &natural, nullptr);
    const int room = static_cast<int>(style.room * PANGO_SCALE);
    if (natural > room) pango_layout_set_width(made.get(), room);
    return made;
  }

  /// Shows the layout with its top left corner at a place of the drawing.
  void show(PangoLayout* made, double x, double y, const TextStyle& style) const {
    if (style.halo) {
      cairo_move_to(cairo(), x, y);
      pango_cairo_layout_path(cairo(), made);
      use(cairo(), paper_white);
      set_dash(cairo(), Dash::solid);
      cairo_set_line_width(cairo(), text_halo);
      cairo_stroke(cairo());
    }
    cairo_move_to(cairo(), x, y);
    use(cairo(), style.colour);
    pango_cairo_show_layout(cairo(), made);
    cairo_new_path(cairo());
  }

  Layout wrapped_layout(double width, const std::string& words, const TextStyle& style) const {
    Layout made = layout(words, style);
    pango_layout_set_width(made.get(), static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_wrap(made.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_line_spacing(made.get(), static_cast<float>(style.leading));
    pango_layout_set_alignment(made.get(), style.side == Side::left     ? PANGO_ALIGN_LEFT
                                           : style.side == Side::middle ? PANGO_ALIGN_CENTER
                                                                        : PANGO_ALIGN_RIGHT);
    return made;
  }

  ~Book() {
    for (const Sheet& sheet : sheets) {
      cairo_destroy(sheet.cairo);
      cairo_surface_destroy(sheet.surface);
    }
  }

  void replay(const Sheet& sheet, cairo_t* onto) const {
    cairo_set_source_surface(onto, sheet.surface, 0, 0);
    cairo_paint(onto);
    cairo_show_page(onto);
  }
};

Pages::Pages(PageSize size, const std::string& title, const std::string& description) : book_(std::make_unique<Book>()) {
  book_->size = size;
  book_->title = valid(title), book_->description = valid(description);
  book_->add_sheet();
}

Pages::~Pages() = default;
Pages::Pages(Pages&&) noexcept = default;
Pages& Pages::operator=(Pages&&) noexcept = default;

const PageSize& Pages::size() const { return book_->size; }
std::size_t Pages::count() const { return book_->sheets.size(); }
void Pages::next_page() { book_->add_sheet(); }

void Pages::line(PagePoint from, PagePoint to, const Pen& pen) { polyline({from, to}, pen); }

void Pages::polyline(const std::vector<PagePoint>& points, const Pen& pen) {
  trail(book_->cairo(), points);
  stroke(book_->cairo(), pen);
}

void Pages::fill(const std::vector<PagePoint>& points, const Colour& colour) {
  trail(book_->cairo(), points);
  use(book_->cairo(), colour);
  cairo_fill(book_->cairo());
}

void Pages::frame(const Box& box, const Pen& pen) {
  cairo_rectangle(book_->cairo(), box.x, box.y, box.width, box.height);
  stroke(book_->cairo(), pen);
}

void Pages::fill(const Box& box, const Colour& colour) {
  use(book_->cairo(), colour);
  cairo_rectangle(book_->cairo(), box.x, box.y, box.width, box.height);
  cairo_fill(book_->cairo());
}

void Pages::arc(PagePoint centre, double radius, double from, double to, const Pen& pen) {
  // Cairo's angles grow toward +y, which is down here.
  const double radian = std::numbers::pi / 180;
  cairo_new_path(book_->cairo());
  cairo_arc_negative(book_->cairo(), centre.x, centre.y, radius, -from * radian, -to * radian);
  if (to - from >= 360) cairo_close_path(book_->cairo());
  stroke(book_->cairo(), pen);
}

void Pages::disc(PagePoint centre, double radius, const Colour& colour) {
  cairo_new_path(book_->cairo());
  cairo_arc(book_->cairo(), centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  use(book_->cairo(), colour);
  cairo_fill(book_->cairo());
}

void Pages::text(PagePoint at, const std::string& words, const TextStyle& style) {
  cairo_t* cairo = book_->cairo();
  const Layout made = book_->line_layout(words, style);
  int width = 0;
  pango_layout_get_size(made.get(), &width, nullptr);
  const double along = static_cast<double>(width) / PANGO_SCALE;
  const double shift = style.side == Side::left ? 0 : style.side == Side::middle ? along / 2 : along;
  const double base = static_cast<double>(pango_layout_get_baseline(made.get())) / PANGO_SCALE;
  cairo_save(cairo);
  cairo_translate(cairo, at.x, at.y);
  cairo_rotate(cairo, -style.turn * std::numbers::pi / 180);
  book_->show(made.get(), -shift, -base, style);
  cairo_restore(cairo);
}

double Pages::paragraph(const Box& box, const std::string& words, const TextStyle& style) {
  const Layout made = book_->wrapped_layout(box.width, words, style);
  int height = 0;
  pango_layout_get_size(made.get(), nullptr, &height);
  book_->show(made.get(), box.x, box.y, style);
  return static_cast<double>(height) / PANGO_SCALE;
}

double Pages::paragraph_height(double width, const std::string& words, const TextStyle& style) const {
  int height = 0;
  pango_layout_get_size(book_->wrapped_layout(width, words, style).get(), nullptr, &height);
  return static_cast<double>(height) / PANGO_SCALE;
}

double Pages::text_width(const std::string& words, const TextStyle& style) const {
  int width = 0;
  pango_layout_get_size(book_->line_layout(words, style).get(), &width, nullptr);
  return static_cast<double>(width) / PANGO_SCALE;
}

void Pages::image(const Box& box, const Pixels& pixels) {
  cairo_surface_t* picture = cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels.width, pixels.height);
  check(picture);
  const int stride = cairo_image_surface_get_stride(picture);
  for (int y = 0; y < pixels.height; ++y) {
    auto* row = reinterpret_cast<std::uint32_t*>(cairo_image_surface_get_data(picture) + static_cast<std::ptrdiff_t>(y) * stride);
    for (int x = 0; x < pixels.width; ++x) {
      const Colour c = pixels.at(x, y);
      row[x] = static_cast<std::uint32_t>(c.red << 16 | c.green << 8 | c.blue);
    }
  }
  cairo_surface_mark_dirty(picture);
  cairo_t* cairo = book_->cairo();
  cairo_save(cairo);
  cairo_translate(cairo, box.x, box.y);
  cairo_scale(cairo, box.width / pixels.width, box.height / pixels.height);
  cairo_set_source_surface(cairo, picture, 0, 0);
  cairo_paint(cairo);
  cairo_restore(cairo);
  cairo_surface_destroy(picture);
}

void Pages::clip(const Box& box) {
  cairo_save(book_->cairo());
  cairo_rectangle(book_->cairo(), box.x, box.y, box.width, box.height);
  cairo_clip(book_->cairo());
}

void Pages::drop_clip() { cairo_restore(book_->cairo()); }

std::string Pages::pdf() const {
  std::string bytes;
  cairo_surface_t* surface =
      cairo_pdf_surface_create_for_stream(append, &bytes, book_->size.width * points_per_mm, book_->size.height * points_per_mm);
  // An empty date leaves the entry out.
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, book_->title.c_str());
  cairo_t* cairo = cairo_create(surface);
  for (const Book::Sheet& sheet : book_->sheets) book_->replay(sheet, cairo);
  cairo_destroy(cairo);
  cairo_surface_finish(surface);
  check(surface);
  cairo_surface_destroy(surface);
  return bytes;
}

std::string Pages::svg(std::size_t page) const {
  const Book::Sheet& sheet = book_->sheets.at(page);
  std::string bytes;
  cairo_surface_t* surface =
      cairo_svg_surface_create_for_stream(append, &bytes, book_->size.width * points_per_mm, book_->size.height * points_per_mm);
  cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_PT);
  cairo_t* cairo = cairo_create(surface);
  use(cairo, paper_white);
  cairo_paint(cairo);
  book_->replay(sheet, cairo);
  cairo_destroy(cairo);
  cairo_surface_finish(surface);
  check(surface);
  cairo_surface_destroy(surface);
  std::string text = numbered_anew(bytes);
  const std::size_t head = text.find('>', text.find("<svg"));
  if (head == std::string::npos || book_->title.empty()) return text;
  const std::string description = book_->description.empty() ? "" : "\n<desc>" + escaped(book_->description) + "</desc>";
  return text.insert(head + 1, "\n<title>" + escaped(book_->title) + "</title>" + description);
}

// Drawn on nothing, in the picture's own memory, and laid on white there: on a white surface Cairo would draw the sheet elsewhere
// first and copy it over.
Pixels Pages::pixels(std::size_t page, double dots_per_mm) const {
  const Book::Sheet& sheet = book_->sheets.at(page);
  Pixels out;
  out.width = static_cast<int>(std::lround(book_->size.width * dots_per_mm));
  out.height = static_cast<int>(std::lround(book_->size.height * dots_per_mm));
  const std::size_t dots = static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height);
  out.rgba.resize(4 * dots);
  cairo_surface_t* surface =
      cairo_image_surface_create_for_data(out.rgba.data(), CAIRO_FORMAT_ARGB32, out.width, out.height, 4 * out.width);
  check(surface);
  cairo_t* cairo = cairo_create(surface);
  cairo_set_operator(cairo, CAIRO_OPERATOR_SOURCE);
  cairo_scale(cairo, dots_per_mm / points_per_mm, dots_per_mm / points_per_mm);
  book_->replay(sheet, cairo);
  cairo_destroy(cairo);
  cairo_surface_destroy(surface);
  std::uint8_t* dot = out.rgba.data();
  for (std::size_t i = 0; i < dots; ++i, dot += 4) {
    std::uint32_t drawn = 0;  // premultiplied
    std::memcpy(&drawn, dot, sizeof drawn);
    const std::uint32_t paper = 255 - (drawn >> 24U);
    for (const int k : {0, 1, 2})
      dot[k] = static_cast<std::uint8_t>((drawn >> (16U - 8U * static_cast<unsigned>(k)) & 0xffU) + paper);
    dot[3] = 255;
  }
  return out;
}

}  // namespace dishwright
