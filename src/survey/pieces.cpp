// SPDX-License-Identifier: MIT
#include "survey/pieces.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.h"

namespace dishwright {

namespace {

using std::numbers::pi;

double wrapped(double angle) { return angle - 2 * pi * std::floor(angle / (2 * pi)); }

/// From one azimuth to another, the shorter way [rad].
double apart(double a, double b) {
  const double d = wrapped(a - b);
  return std::min(d, 2 * pi - d);
}

/// "3.5" of an azimuth: o'clock, to a tenth.
std::string clock_text(double angle) {
  const double hours = std::round(10 * wrapped(pi / 2 - angle) * 6 / pi) / 10;
  return fmt::format("{:g}", hours < 0.05 || hours > 11.95 ? 12.0 : hours);
}

}  // namespace

std::vector<Piece> pieces_of(const MeantSurface& surface) {
  std::vector<Piece> out;
  out.reserve(static_cast<std::size_t>(std::max(0, surface.pieces)));
  const double turn = 2 * pi / std::max(1, surface.pieces), first = surface.first_piece + (surface.ribs ? turn / 2 : 0);
  // The middle nearest to 12 o'clock on its clockwise side, then on clockwise.
  const double behind = wrapped(pi / 2 - first), steps = std::floor(behind / turn + 1e-9);
  const double start = first + steps * turn;
  for (int k = 0; k < surface.pieces; ++k) out.push_back({k + 1, wrapped(start - k * turn), wrapped(start - (k + 0.5) * turn)});
  return out;
}

void refuse_unread_pieces(const SurveyPoints& survey, const MeantSurface& surface) {
  if (surface.pieces == 0) return;
  const double half = pi / surface.pieces;
  std::string unread;
  int count = 0;
  for (const Piece& piece : pieces_of(surface)) {
    const bool read = std::any_of(survey.points.begin(), survey.points.end(), [&](const Vector3& p) {
      return p.head<2>().norm() > 1e-9 && apart(std::atan2(p.y(), p.x()), piece.middle) <= half * (1 + 1e-6);
    });
    constexpr int most = 6;
    if (read || ++count > most) continue;
    unread += fmt::format("{}{} (at {} o'clock)", count == 1 ? "" : ", ", piece.number, clock_text(piece.middle));
  }
  if (count == 0) return;
  const char* const word = surface.ribs ? "bay" : "petal";
  throw InputError(fmt::format("there are no readings on {} of the {} {}s: {} {}{}", count, surface.pieces, word, word, unread,
                               count > 6 ? " and more" : ""),
                   fmt::format("each {} is a sheet of its own, so the others say nothing of it", word),
                   "read them, too; survey --form with the project file lists the places");
}

bool shows_pieces(const MeantSurface& surface, const std::vector<double>& angles) {
  if (surface.pieces == 0) return false;
  const double near = 0.25 * pi / surface.pieces;
  const auto has = [&](double at) {
    return std::any_of(angles.begin(), angles.end(), [&](double angle) { return apart(angle, at) <= near; });
  };
  const std::vector<Piece> pieces = pieces_of(surface);
  return std::all_of(pieces.begin(), pieces.end(), [&](const Piece& piece) { return has(piece.middle) && has(piece.edge); });
}

}  // namespace dishwright
