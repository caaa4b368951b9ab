// SPDX-License-Identifier: MIT
#include "report/survey/survey_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.h"
#include "survey/pieces.h"

namespace dishwright {

namespace {

constexpr double outer_from = 0.6;  // of the outermost ring

double edge_margin(Units units) { return units == Units::us ? 0.0127 : 0.01; }

/// Evenly spaced places from 0 to just inside the edge, about 4 in (100 mm) apart, on marks of half an inch (5 mm).
std::vector<double> places_to(double edge, Units units, bool both_sides) {
  const double mark = units == Units::us ? 0.0127 : 0.005, inside = edge - edge_margin(units);
  const double wanted = std::clamp(edge / 6, std::max(2 * mark, 0.0508 / 2), 0.1016);
  const int count = std::max(3, static_cast<int>(std::lround(edge / wanted)));
  const double step = std::max(mark, std::round(edge / count / mark) * mark), last = std::floor(inside / mark + 1e-9) * mark;
  std::vector<double> out;
  for (int k = 1; k * step < last - step / 2; ++k) out.push_back(k * step);
  out.push_back(last);
  if (!both_sides) return out;
  std::vector<double> all;
  for (auto place = out.rbegin(); place != out.rend(); ++place) all.push_back(-*place);
  all.push_back(0);
  all.insert(all.end(), out.begin(), out.end());
  return all;
}

double hours_of(double azimuth) {
  const double hours = (std::numbers::pi / 2 - azimuth) * 6 / std::numbers::pi;
  const double round = hours - 12 * std::floor(hours / 12);
  return round < 1e-9 ? 12 : round;
}

/// Into how many steps the way from a middle to an edge is cut on the inner and on the outer rings. Of very many petals every
/// third place, which still falls on a middle or a seam, and on every petal.
struct PieceSteps {
  int inner = 1, outer = 1, every = 1;
};
PieceSteps piece_steps(int pieces) {
  constexpr int on_inner = 12, on_outer = 24, most = 64;
  const int half_steps = 2 * pieces;
  PieceSteps out;
  out.inner = (on_inner + half_steps - 1) / half_steps;
  out.outer = out.inner * ((on_outer + half_steps * out.inner - 1) / (half_steps * out.inner));
  if (half_steps > most) out.every = 3;
  return out;
}

std::string half_hour(int half) {
  const int whole = half / 2 == 0 ? 12 : half / 2;
  return half % 2 == 0 ? std::to_string(whole) : fmt::format("{} 1/2", whole);
}

std::vector<ClockPlace> piece_clock(const MeantSurface& surface) {
  const int steps = piece_steps(surface.pieces).outer, every = piece_steps(surface.pieces).every;
  std::vector<ClockPlace> all, out;
  for (const Piece& piece : pieces_of(surface)) {
    const int next = piece.number % surface.pieces + 1;
    for (int k = 0; k < 2 * steps; ++k) {
      const double azimuth = piece.middle - std::numbers::pi / surface.pieces * k / steps;
      std::string label = fmt::format("{:.1f}", hours_of(azimuth));
      if (k == 0) label = fmt::format("{} {}", surface.ribs ? "bay" : "petal", piece.number);
      if (k == steps) label = fmt::format("{} {}-{}", surface.ribs ? "rib" : "seam", piece.number, next);
      all.push_back({hours_of(azimuth), label});
    }
  }
  for (std::size_t k = 0; k < all.size(); k += static_cast<std::size_t>(every)) out.push_back(all[k]);
  return out;
}

}  // namespace

std::vector<double> form_rings(const FormDish& dish, Units units) {
  std::vector<double> out = places_to(dish.width / 2, units, dish.by_rows());
  if (dish.by_rows()) return out;
  const double inside = dish.hole_width > 0 ? dish.hole_width / 2 + edge_margin(units) : 0;
  std::vector<double> rings;
  std::copy_if(out.begin(), out.end(), std::back_inserter(rings), [inside](double r) { return r >= inside; });
  // A narrow band of mirror has at least its middle and its edge.
  if (rings.size() < 2) rings = {(dish.hole_width + dish.width) / 4, dish.width / 2 - edge_margin(units) / 2};
  return rings;
}

std::vector<double> form_stations(const FormDish& dish, Units units) {
  if (!dish.length) return {};
  if (dish.offset()) return places_to(*dish.length / 2, units, true);
  const double mark = units == Units::us ? 0.0127 : 0.005,
               half = std::floor((dish.length.value() / 2 - 0.0127) / mark + 1e-9) * mark;
  std::vector<double> out;
  constexpr int count = 5;
  out.reserve(count);
  for (int k = 0; k < count; ++k) out.push_back(std::round((-half + 2 * half * k / (count - 1)) / mark) * mark);
  return out;
}

bool on_form(const FormDish& dish, double x, double y) {
  if (!dish.offset()) return true;
  const double a = dish.width / 2, b = dish.length.value_or(dish.width) / 2, hole = dish.hole_width / dish.width;
  // A rule needs a little room beside the rim.
  constexpr double room = 0.985;
  const double out = std::hypot(x / a, y / b);
  return out <= room && (hole <= 0 || out >= hole / room);
}

std::vector<ClockPlace> form_clock(const FormDish& dish) {
  if (dish.in_pieces()) return piece_clock(*dish.meant);
  std::vector<ClockPlace> out;
  for (int half = 1; half <= 24; ++half) out.push_back({half / 2.0, half_hour(half)});
  return out;
}

bool form_reads(const FormDish& dish, const std::vector<double>& rings, std::size_t ring, std::size_t place) {
  if (rings[ring] >= outer_from * rings.back()) return true;
  if (!dish.in_pieces()) return (place % 2 == 1) == (ring % 2 == 0);
  const PieceSteps steps = piece_steps(dish.meant->pieces);
  return place % static_cast<std::size_t>(steps.outer / steps.inner) == 0;
}

std::string readings_table(const FormDish& dish, Units units) {
  const double per_metre = lengths_per_metre(units);
  const std::string unit = length_unit(units);
  const std::vector<double> across = form_rings(dish, units), along = form_stations(dish, units);
  const auto number = [per_metre](double metres) { return exact_text(std::round(metres * per_metre * 1e6) / 1e6 + 0.0); };
  if (dish.by_rows()) {
    std::string out = fmt::format("x [{0}],y [{0}],depth [{0}]\n", unit);
    for (const double y : along) {
      for (const double x : across) {
        if (on_form(dish, x, y)) out += fmt::format("{},{},\n", number(x), number(y));
      }
    }
    return out;
  }
  const bool named = dish.in_pieces();
  std::string out = fmt::format("{1}ring [{0}],clock [h],depth [{0}]\n", unit, named ? "place," : "");
  if (dish.hole_width <= 0) out += named ? "middle,0,12,\n" : "0,12,\n";
  const std::vector<ClockPlace> clock = form_clock(dish);
  for (std::size_t k = 0; k < across.size(); ++k) {
    for (std::size_t place = 0; place < clock.size(); ++place) {
      if (!form_reads(dish, across, k, place)) continue;
      const double hours = clock[place].hours, typed = std::round(1e4 * (hours < 1 ? hours + 12 : hours)) / 1e4;
      out += fmt::format("{}{},{},\n", named ? clock[place].label + "," : "", number(across[k]), fmt::format("{:.7g}", typed));
    }
  }
  return out;
}

}  // namespace dishwright
