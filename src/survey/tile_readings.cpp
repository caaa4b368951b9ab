// SPDX-License-Identifier: MIT
#include "survey/tile_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/error.h"
#include "base/quantity.h"

namespace dishwright {

namespace {

using Places = std::vector<std::vector<std::size_t>>;  // readings of each place of a tile
constexpr std::size_t most_named = 6;

[[noreturn]] void refuse_readings(const std::string& what, const std::string& why, const std::string& fix) {
  throw InputError(what, why, fix);
}

/// "line 4, line 7, line 9 and 3 more".
std::string list_of(const std::vector<std::string>& names) {
  std::string out;
  for (std::size_t k = 0; k < std::min(most_named, names.size()); ++k) out += (k == 0 ? "" : ", ") + names[k];
  if (names.size() > most_named) out += fmt::format(" and {} more", names.size() - most_named);
  return out;
}

std::map<std::size_t, std::vector<std::size_t>> by_tile(const TileSurvey& survey) {
  const TileFinder finder(survey.design);
  std::map<std::size_t, std::vector<std::size_t>> out;
  std::vector<std::string> beside;
  for (std::size_t i = 0; i < survey.points.points.size(); ++i) {
    const long tile = finder.find(survey.points.points[i].head<2>());
    if (tile >= 0)
      out[static_cast<std::size_t>(tile)].push_back(i);
    else
      beside.push_back(fmt::format("line {}", survey.points.rows[i]));
  }
  if (!beside.empty())
    refuse_readings(
        fmt::format("{} {} on no tile: {}", beside.size(), beside.size() == 1 ? "reading lies" : "readings lie", list_of(beside)),
        fmt::format("the project file has {} tiles of {} with a gap of {}, one of them in the middle", survey.design.tiles.size(),
                    format_quantity(survey.design.pattern.tile, Dimension::length, nullptr),
                    format_quantity(survey.design.pattern.gap, Dimension::length, nullptr)),
        "check x and y of these rows; survey --form with the project file lists the places");
  return out;
}

Places places_of(const TileSurvey& survey, const std::vector<std::size_t>& readings) {
  constexpr double near = 0.0254 / 8, part = 0.125;
  const double size = std::min(near, part * survey.design.pattern.tile);
  Places out;
  for (const std::size_t i : readings) {
    const auto place = std::find_if(out.begin(), out.end(), [&](const std::vector<std::size_t>& others) {
      return (survey.points.points[others.front()] - survey.points.points[i]).head<2>().norm() <= size;
    });
    if (place == out.end())
      out.push_back({i});
    else
      place->push_back(i);
  }
  return out;
}

/// The corner that a place is nearest to.
std::size_t corner_of(const TileSurvey& survey, std::size_t tile, std::size_t reading) {
  const Tile& meant = survey.design.tiles[tile];
  const auto places = reading_places(survey.design.pattern.tile_shape, survey.design.pattern.tile);
  const Eigen::Vector2d at =
      meant.turn.topLeftCorner<2, 2>().inverse() * (survey.points.points[reading].head<2>() - meant.centre.head<2>());
  const auto nearest = std::min_element(places.begin(), places.end(), [&](const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
    return (a - at).norm() < (b - at).norm();
  });
  return static_cast<std::size_t>(nearest - places.begin());
}

void refuse_repeats(const TileSurvey& survey, std::size_t tile, const Places& places) {
  const std::vector<int>& rows = survey.points.rows;
  std::size_t readings = 0, twice = 0;
  const std::vector<std::size_t>* pair = nullptr;
  for (const std::vector<std::size_t>& place : places) {
    readings += place.size();
    if (place.size() < 2) continue;
    ++twice, pair = &place;
    const auto [low, high] = std::minmax_element(place.begin(), place.end(), [&](std::size_t a, std::size_t b) {
      return survey.points.points[a].z() < survey.points.points[b].z();
    });
    const double apart = survey.points.points[*high].z() - survey.points.points[*low].z();
    constexpr double steps = 3, usual = 0.0254 / 16;
    if (apart <= 1.0001 * steps * (survey.points.step > 0 ? survey.points.step : usual)) continue;
    refuse_readings(fmt::format("{}: lines {} and {} are both its {} corner and differ by {}", survey.design.name(tile),
                                rows[std::min(*low, *high)], rows[std::max(*low, *high)],
                                corner_names[corner_of(survey, tile, *low)], format_quantity(apart, Dimension::length, nullptr)),
                    "two readings of one place differ by a mark or two, not more", "measure it again and keep one row");
  }
  if (twice != 1 || readings < corner_count || places.size() != corner_count - 1) return;
  std::array<bool, corner_count> has{};
  for (const std::vector<std::size_t>& place : places) has[corner_of(survey, tile, place.front())] = true;
  const auto missing = static_cast<std::size_t>(std::find(has.begin(), has.end(), false) - has.begin());
  if (missing == corner_count) return;
  refuse_readings(fmt::format("{}: lines {} and {} are both its {} corner, and its {} one was not read", survey.design.name(tile),
                              rows[(*pair)[0]], rows[(*pair)[1]], corner_names[corner_of(survey, tile, pair->front())],
                              corner_names[missing]),
                  "one of them is likely typed with the x or y of the other", "check the two rows");
}

/// Means of the places; their scatter.
void merge(TileSurvey& survey, const std::map<std::size_t, Places>& tiles) {
  SurveyPoints& points = survey.points;
  SurveyPoints merged = points;
  merged.points.clear(), merged.rows.clear(), merged.counts.clear();
  double squares = 0, freedom = 0;
  for (const auto& [tile, places] : tiles) {
    SurveyedTile read;
    read.tile = tile;
    for (const std::vector<std::size_t>& place : places) {
      Vector3 mean = Vector3::Zero();
      for (const std::size_t i : place) mean += points.points[i] / static_cast<double>(place.size());
      for (const std::size_t i : place) squares += std::pow(points.points[i].z() - mean.z(), 2);
      freedom += static_cast<double>(place.size()) - 1;
      read.readings.push_back(merged.points.size());
      merged.points.push_back(mean), merged.rows.push_back(points.rows[place.front()]);
      merged.counts.push_back(static_cast<int>(place.size()));
    }
    survey.tiles.push_back(std::move(read));
  }
  // A list that was pasted twice says nothing of the noise.
  if (squares > 0) merged.noise.freedom = freedom, merged.noise.scatter = std::sqrt(squares / freedom);
  points = std::move(merged);
}

void refuse_unread(const TileSurvey& survey) {
  std::vector<std::string> unread;
  for (const std::size_t tile : survey.design.to_read) {
    if (survey.of(tile) == nullptr) unread.push_back(survey.design.name(tile));
  }
  if (unread.empty()) return;
  refuse_readings(fmt::format("there are no readings on {} of the {} tiles {}: {}", unread.size(), survey.design.to_read.size(),
                              survey.design.sampled() ? "of the form" : "of the dish", list_of(unread)),
                  survey.design.sampled() ? "the tiles of the form stand for all the others, so none of them may be left out"
                                          : "each tile lies by itself, so the others say nothing of it",
                  "read them, too: four corners, or one place where no more can be reached; survey --form with the project file "
                  "lists the places");
}

}  // namespace

void put_on_tiles(TileSurvey& survey) {
  std::map<std::size_t, Places> tiles;
  for (const auto& [tile, readings] : by_tile(survey)) {
    tiles[tile] = places_of(survey, readings);
    refuse_repeats(survey, tile, tiles[tile]);
  }
  merge(survey, tiles);
  refuse_unread(survey);
}

}  // namespace dishwright
