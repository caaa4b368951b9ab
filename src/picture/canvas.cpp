// SPDX-License-Identifier: MIT
#include "picture/canvas.h"

#include <cairo-svg.h>
#include <cairo.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <numbers>
#include <stdexcept>

namespace dishwright {

namespace {

constexpr Colour paper{255, 255, 255};

struct LayoutEnd {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, LayoutEnd>;

void use(cairo_t* pen, const Colour& c) { cairo_set_source_rgb(pen, c.red / 255.0, c.green / 255.0, c.blue / 255.0); }

void set_dash(cairo_t* pen, Dash dash) {
  static constexpr std::array<double, 2> dashed{11, 6}, dotted{2, 5}, long_dash{24, 7};
  static constexpr std::array<double, 4> dash_dot{13, 5, 2.5, 5};
  if (dash == Dash::solid) cairo_set_dash(pen, nullptr, 0, 0);
  if (dash == Dash::dashed) cairo_set_dash(pen, dashed.data(), 2, 0);
  if (dash == Dash::dotted) cairo_set_dash(pen, dotted.data(), 2, 0);
  if (dash == Dash::long_dash) cairo_set_dash(pen, long_dash.data(), 2, 0);
  if (dash == Dash::dash_dot) cairo_set_dash(pen, dash_dot.data(), 4, 0);
}

/// Strokes the current path: halo first, then the line.
void stroke(cairo_t* cairo, const Pen& pen) {
  if (pen.halo) {
    set_dash(cairo, Dash::solid);
    use(cairo, paper);
    cairo_set_line_width(cairo, pen.width + 3);
    cairo_stroke_preserve(cairo);
  }
  set_dash(cairo, pen.dash);
  use(cairo, pen.colour);
  cairo_set_line_width(cairo, pen.width);
  cairo_stroke(cairo);
}

}  // namespace

struct Canvas::Sheet {
  std::string written;  // an SVG file as it comes
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;

  Layout layout(const std::string& words, const TextStyle& style) const {
    Layout made(pango_cairo_create_layout(cairo));
    PangoFontDescription* font = pango_font_description_from_string(style.bold ? "DejaVu Sans Bold" : "DejaVu Sans");
    pango_font_description_set_absolute_size(font, style.size * PANGO_SCALE);
    pango_layout_set_font_description(made.get(), font);
    pango_font_description_free(font);
    // A file name may hold bytes that are no UTF-8: they are shown as replacement signs.
    gchar* valid = g_utf8_make_valid(words.c_str(), static_cast<gssize>(words.size()));
    pango_layout_set_text(made.get(), valid, -1);
    g_free(valid);
    if (style.room > 0) {
      pango_layout_set_single_paragraph_mode(made.get(), TRUE);
      pango_layout_set_ellipsize(made.get(), PANGO_ELLIPSIZE_END);
      int natural = 0;
      pango_layout_get_size(made.get(), &natural, nullptr);
      const int room = static_cast<int>(style.room * PANGO_SCALE);
      if (natural > room) pango_layout_set_width(made.get(), room);
    }
    return made;
  }

  /// Shows the layout with its top left corner at the current point.
  void show(PangoLayout* made, const TextStyle& style) const {
    if (style.halo) {
      double x = 0, y = 0;
      cairo_get_current_point(cairo, &x, &y);
      pango_cairo_layout_path(cairo, made);
      use(cairo, paper);
      set_dash(cairo, Dash::solid);
      cairo_set_line_width(cairo, 5);
      cairo_stroke(cairo);
      cairo_move_to(cairo, x, y);
    }
    use(cairo, style.colour);
    pango_cairo_show_layout(cairo, made);
    cairo_new_path(cairo);
  }
};

Canvas::Canvas(int width, int height, SheetKind kind) : sheet_(std::make_unique<Sheet>()) {
  if (kind == SheetKind::pixels) {
    sheet_->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
  } else {
    const auto keep = [](void* to, const unsigned char* data, unsigned int size) {
      static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), size);
      return CAIRO_STATUS_SUCCESS;
    };
    sheet_->surface = cairo_svg_surface_create_for_stream(keep, &sheet_->written, width, height);
    cairo_svg_surface_set_document_unit(sheet_->surface, CAIRO_SVG_UNIT_PX);
  }
  sheet_->cairo = cairo_create(sheet_->surface);
  if (cairo_status(sheet_->cairo) != CAIRO_STATUS_SUCCESS) throw std::runtime_error("no memory for a picture");
  cairo_font_options_t* plain = cairo_font_options_create();
  cairo_font_options_set_antialias(plain, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style(plain, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(plain, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(sheet_->cairo, plain);
  cairo_font_options_destroy(plain);
  cairo_set_line_join(sheet_->cairo, CAIRO_LINE_JOIN_ROUND);
  use(sheet_->cairo, paper);
  cairo_paint(sheet_->cairo);
}

Canvas::~Canvas() {
  cairo_destroy(sheet_->cairo);
  cairo_surface_destroy(sheet_->surface);
}

void Canvas::line(double x1, double y1, double x2, double y2, const Pen& pen) {
  cairo_move_to(sheet_->cairo, x1, y1);
  cairo_line_to(sheet_->cairo, x2, y2);
  stroke(sheet_->cairo, pen);
}

void Canvas::frame(const Box& box, const Pen& pen) {
  cairo_rectangle(sheet_->cairo, box.x, box.y, box.width, box.height);
  stroke(sheet_->cairo, pen);
}

void Canvas::fill(const Box& box, const Colour& colour) {
  use(sheet_->cairo, colour);
  cairo_rectangle(sheet_->cairo, box.x, box.y, box.width, box.height);
  cairo_fill(sheet_->cairo);
}

void Canvas::curve(const Points& points, const Pen& pen) {
  cairo_new_path(sheet_->cairo);
  for (const auto& [x, y] : points) cairo_line_to(sheet_->cairo, x, y);
  stroke(sheet_->cairo, pen);
}

void Canvas::area(const Points& points, const Colour& colour) {
  cairo_new_path(sheet_->cairo);
  for (const auto& [x, y] : points) cairo_line_to(sheet_->cairo, x, y);
  cairo_close_path(sheet_->cairo);
  use(sheet_->cairo, colour);
  cairo_fill(sheet_->cairo);
}

void Canvas::circle(double x, double y, double radius, const Pen& pen) {
  cairo_new_path(sheet_->cairo);
  cairo_arc(sheet_->cairo, x, y, radius, 0, 2 * std::numbers::pi);
  cairo_close_path(sheet_->cairo);
  stroke(sheet_->cairo, pen);
}

void Canvas::dots(const Box& box, const std::function<std::optional<Colour>(double x, double y)>& colour_at) {
  cairo_surface_t* surface = sheet_->surface;
  cairo_surface_flush(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  const int from_x = std::max(0, static_cast<int>(std::ceil(box.x - 0.5)));
  const int to_x = std::min(cairo_image_surface_get_width(surface), static_cast<int>(std::ceil(box.right() - 0.5)));
  const int from_y = std::max(0, static_cast<int>(std::ceil(box.y - 0.5)));
  const int to_y = std::min(cairo_image_surface_get_height(surface), static_cast<int>(std::ceil(box.bottom() - 0.5)));
  for (int y = from_y; y < to_y; ++y) {
    unsigned char* row = cairo_image_surface_get_data(surface) + static_cast<std::ptrdiff_t>(y) * stride;
    for (int x = from_x; x < to_x; ++x) {
      const std::optional<Colour> c = colour_at(x + 0.5, y + 0.5);
      if (!c) continue;
      const std::uint32_t value = static_cast<std::uint32_t>(c->red << 16 | c->green << 8 | c->blue);
      std::memcpy(row + 4 * static_cast<std::ptrdiff_t>(x), &value, 4);
    }
  }
  cairo_surface_mark_dirty(surface);
}

void Canvas::text(double x, double y, const std::string& words, const TextStyle& style) {
  const Layout made = sheet_->layout(words, style);
  int width = 0, height = 0;
  pango_layout_get_size(made.get(), &width, &height);
  const double along = static_cast<double>(width) / PANGO_SCALE;
  const double shift = style.side == Side::left ? 0 : style.side == Side::middle ? along / 2 : along;
  cairo_save(sheet_->cairo);
  cairo_translate(sheet_->cairo, x, y);
  if (style.upward) cairo_rotate(sheet_->cairo, -std::numbers::pi / 2);
  cairo_move_to(sheet_->cairo, -shift, 0);
  sheet_->show(made.get(), style);
  cairo_restore(sheet_->cairo);
}

double Canvas::paragraph(const Box& box, const std::string& words, const TextStyle& style) {
  const Layout made = sheet_->layout(words, style);
  pango_layout_set_width(made.get(), static_cast<int>(box.width * PANGO_SCALE));
  pango_layout_set_wrap(made.get(), PANGO_WRAP_WORD_CHAR);
  pango_layout_set_line_spacing(made.get(), 1.15F);
  int height = 0;
  pango_layout_get_size(made.get(), nullptr, &height);
  cairo_move_to(sheet_->cairo, box.x, box.y);
  sheet_->show(made.get(), style);
  return static_cast<double>(height) / PANGO_SCALE;
}

double Canvas::text_width(const std::string& words, const TextStyle& style) {
  int width = 0;
  pango_layout_get_size(sheet_->layout(words, style).get(), &width, nullptr);
  return static_cast<double>(width) / PANGO_SCALE;
}

void Canvas::clip(const Box& box) {
  cairo_save(sheet_->cairo);
  cairo_rectangle(sheet_->cairo, box.x, box.y, box.width, box.height);
  cairo_clip(sheet_->cairo);
}

void Canvas::drop_clip() { cairo_restore(sheet_->cairo); }

Pixels Canvas::pixels() const {
  cairo_surface_flush(sheet_->surface);
  Pixels out;
  out.width = cairo_image_surface_get_width(sheet_->surface);
  out.height = cairo_image_surface_get_height(sheet_->surface);
  const unsigned char* data = cairo_image_surface_get_data(sheet_->surface);
  const int stride = cairo_image_surface_get_stride(sheet_->surface);
  out.rgba.reserve(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height) * 4);
  for (int y = 0; y < out.height; ++y) {
    for (int x = 0; x < out.width; ++x) {
      std::uint32_t value = 0;
      std::memcpy(&value, data + static_cast<std::ptrdiff_t>(y) * stride + 4 * static_cast<std::ptrdiff_t>(x), 4);
      for (const int shift : {16, 8, 0}) out.rgba.push_back(static_cast<std::uint8_t>(value >> shift & 0xffU));
      out.rgba.push_back(255);
    }
  }
  return out;
}

std::string Canvas::svg(const std::string& title, const std::string& description) {
  cairo_surface_finish(sheet_->surface);
  if (cairo_surface_status(sheet_->surface) != CAIRO_STATUS_SUCCESS) throw std::runtime_error("no memory for a drawing");
  std::string text = std::move(sheet_->written);
  // Cairo numbers its surfaces through the life of the program: the same drawing shall be the same file.
  for (std::size_t at = text.find("\"surface"); at != std::string::npos; at = text.find("\"surface", at + 1)) {
    const std::size_t from = at + 8, to = text.find_first_not_of("0123456789", from);
    text.erase(from, to - from);
  }
  const auto escaped = [](const std::string& words) {
    gchar* safe = g_markup_escape_text(words.c_str(), static_cast<gssize>(words.size()));
    std::string out = safe;
    g_free(safe);
    return out;
  };
  const std::size_t head = text.find('>', text.find("<svg"));
  if (head != std::string::npos)
    text.insert(head + 1, "\n<title>" + escaped(title) + "</title>\n<desc>" + escaped(description) + "</desc>");
  return text;
}

}  // namespace dishwright
