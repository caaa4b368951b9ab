// SPDX-License-Identifier: MIT
#include "picture/page.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string_view>

namespace dishwright {

namespace {

constexpr double points_per_mm = 72 / 25.4;
constexpr double mm_per_point = 25.4 / 72;

struct LayoutEnd {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, LayoutEnd>;

void use(cairo_t* cairo, const Colour& c) { cairo_set_source_rgb(cairo, c.red / 255.0, c.green / 255.0, c.blue / 255.0); }

void stroke(cairo_t* cairo, const PagePen& pen) {
  const std::array<double, 2> dashed{2.2, 1.2}, dotted{0.4, 0.9};
  if (pen.dash == Dash::solid) cairo_set_dash(cairo, nullptr, 0, 0);
  if (pen.dash == Dash::dashed) cairo_set_dash(cairo, dashed.data(), 2, 0);
  if (pen.dash == Dash::dotted) cairo_set_dash(cairo, dotted.data(), 2, 0);
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
  std::string title;
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
    cairo_font_options_set_hint_style(plain, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(plain, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(sheet.cairo, plain);
    cairo_font_options_destroy(plain);
    cairo_set_line_join(sheet.cairo, CAIRO_LINE_JOIN_ROUND);
    sheets.push_back(sheet);
  }

  Layout layout(const std::string& words, const PageText& style) const {
    Layout made(pango_cairo_create_layout(cairo()));
    // Letters stand where they belong, not on whole millimetres.
    pango_context_set_round_glyph_positions(pango_layout_get_context(made.get()), FALSE);
    PangoFontDescription* font = pango_font_description_from_string(style.bold ? "DejaVu Sans Bold" : "DejaVu Sans");
    pango_font_description_set_absolute_size(font, style.size * mm_per_point * PANGO_SCALE);
    pango_layout_set_font_description(made.get(), font);
    pango_font_description_free(font);
    gchar* valid = g_utf8_make_valid(words.c_str(), static_cast<gssize>(words.size()));
    pango_layout_set_text(made.get(), valid, -1);
    g_free(valid);
    return made;
  }

  Layout wrapped_layout(double width, const std::string& words, const PageText& style) const {
    Layout made = layout(words, style);
    pango_layout_set_width(made.get(), static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_wrap(made.get(), PANGO_WRAP_WORD_CHAR);
    pango_layout_set_line_spacing(made.get(), static_cast<float>(style.leading));
    pango_layout_set_alignment(made.get(), style.side == Side::left     ? PANGO_ALIGN_LEFT
                                           : style.side == Side::middle ? PANGO_ALIGN_CENTER
                                                                        : PANGO_ALIGN_RIGHT);
    return made;
  }

  void replay(const Sheet& sheet, cairo_t* onto) const {
    cairo_set_source_surface(onto, sheet.surface, 0, 0);
    cairo_paint(onto);
    cairo_show_page(onto);
  }
};

Pages::Pages(PageSize size, const std::string& title) : book_(std::make_unique<Book>()) {
  book_->size = size;
  book_->title = title;
  book_->add_sheet();
}

Pages::~Pages() {
  for (const Book::Sheet& sheet : book_->sheets) {
    cairo_destroy(sheet.cairo);
    cairo_surface_destroy(sheet.surface);
  }
}

const PageSize& Pages::size() const { return book_->size; }
std::size_t Pages::count() const { return book_->sheets.size(); }
void Pages::next_page() { book_->add_sheet(); }

void Pages::line(PagePoint from, PagePoint to, const PagePen& pen) { polyline({from, to}, pen); }

void Pages::polyline(const std::vector<PagePoint>& points, const PagePen& pen) {
  trail(book_->cairo(), points);
  stroke(book_->cairo(), pen);
}

void Pages::fill(const std::vector<PagePoint>& points, const Colour& colour) {
  trail(book_->cairo(), points);
  use(book_->cairo(), colour);
  cairo_fill(book_->cairo());
}

void Pages::frame(const Box& box, const PagePen& pen) {
  cairo_rectangle(book_->cairo(), box.x, box.y, box.width, box.height);
  stroke(book_->cairo(), pen);
}

void Pages::fill(const Box& box, const Colour& colour) {
  use(book_->cairo(), colour);
  cairo_rectangle(book_->cairo(), box.x, box.y, box.width, box.height);
  cairo_fill(book_->cairo());
}

void Pages::arc(PagePoint centre, double radius, double from, double to, const PagePen& pen) {
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

void Pages::text(PagePoint at, const std::string& words, const PageText& style) {
  cairo_t* cairo = book_->cairo();
  const Layout made = book_->layout(words, style);
  pango_layout_set_single_paragraph_mode(made.get(), TRUE);
  int width = 0;
  pango_layout_get_size(made.get(), &width, nullptr);
  const double along = static_cast<double>(width) / PANGO_SCALE;
  const double shift = style.side == Side::left ? 0 : style.side == Side::middle ? along / 2 : along;
  const double base = static_cast<double>(pango_layout_get_baseline(made.get())) / PANGO_SCALE;
  cairo_save(cairo);
  cairo_translate(cairo, at.x, at.y);
  cairo_rotate(cairo, -style.turn * std::numbers::pi / 180);
  cairo_move_to(cairo, -shift, -base);
  use(cairo, style.colour);
  pango_cairo_show_layout(cairo, made.get());
  cairo_new_path(cairo);
  cairo_restore(cairo);
}

double Pages::paragraph(const Box& box, const std::string& words, const PageText& style) {
  cairo_t* cairo = book_->cairo();
  const Layout made = book_->wrapped_layout(box.width, words, style);
  int height = 0;
  pango_layout_get_size(made.get(), nullptr, &height);
  cairo_move_to(cairo, box.x, box.y);
  use(cairo, style.colour);
  pango_cairo_show_layout(cairo, made.get());
  cairo_new_path(cairo);
  return static_cast<double>(height) / PANGO_SCALE;
}

double Pages::paragraph_height(double width, const std::string& words, const PageText& style) const {
  int height = 0;
  pango_layout_get_size(book_->wrapped_layout(width, words, style).get(), nullptr, &height);
  return static_cast<double>(height) / PANGO_SCALE;
}

double Pages::text_width(const std::string& words, const PageText& style) const {
  int width = 0;
  pango_layout_get_size(book_->layout(words, style).get(), &width, nullptr);
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
  std::string bytes;
  cairo_surface_t* surface =
      cairo_svg_surface_create_for_stream(append, &bytes, book_->size.width * points_per_mm, book_->size.height * points_per_mm);
  cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_PT);
  cairo_t* cairo = cairo_create(surface);
  book_->replay(book_->sheets.at(page), cairo);
  cairo_destroy(cairo);
  cairo_surface_finish(surface);
  check(surface);
  cairo_surface_destroy(surface);
  return numbered_anew(bytes);
}

Pixels Pages::pixels(std::size_t page, double dots_per_mm) const {
  Pixels out;
  out.width = static_cast<int>(std::lround(book_->size.width * dots_per_mm));
  out.height = static_cast<int>(std::lround(book_->size.height * dots_per_mm));
  cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, out.width, out.height);
  check(surface);
  cairo_t* cairo = cairo_create(surface);
  use(cairo, {255, 255, 255});
  cairo_paint(cairo);
  cairo_scale(cairo, dots_per_mm / points_per_mm, dots_per_mm / points_per_mm);
  book_->replay(book_->sheets.at(page), cairo);
  cairo_destroy(cairo);
  cairo_surface_flush(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  out.rgba.reserve(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height) * 4);
  for (int y = 0; y < out.height; ++y) {
    const auto* row =
        reinterpret_cast<const std::uint32_t*>(cairo_image_surface_get_data(surface) + static_cast<std::ptrdiff_t>(y) * stride);
    for (int x = 0; x < out.width; ++x) {
      for (const unsigned shift : {16U, 8U, 0U}) out.rgba.push_back(static_cast<std::uint8_t>(row[x] >> shift & 0xffU));
      out.rgba.push_back(255);
    }
  }
  cairo_surface_destroy(surface);
  return out;
}

}  // namespace dishwright
