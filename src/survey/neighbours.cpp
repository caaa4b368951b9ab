// SPDX-License-Identifier: MIT
#include "survey/neighbours.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

Neighbours::Neighbours(std::vector<Eigen::Vector2d> places) : places_(std::move(places)) {
  lowest_ = highest_ = places_.empty() ? Eigen::Vector2d(0, 0) : places_.front();
  for (const Eigen::Vector2d& place : places_) {
    lowest_ = lowest_.cwiseMin(place);
    highest_ = highest_.cwiseMax(place);
  }
  const Eigen::Vector2d size = highest_ - lowest_;
  const double count = std::max<double>(1, static_cast<double>(places_.size()));
  const double longest = std::max(size.x(), size.y());
  cell_ = std::max(std::sqrt(2 * std::max(size.x() * size.y(), 1e-3 * longest * longest) / count), longest / 4096);
  if (!(cell_ > 0)) cell_ = 1;
  columns_ = static_cast<int>(size.x() / cell_) + 1;
  rows_ = static_cast<int>(size.y() / cell_) + 1;
  // Counting sort by cell keeps the order of the places.
  starts_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  const auto cell_of = [this](const Eigen::Vector2d& place) {
    return static_cast<std::size_t>(row(place.y())) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column(place.x()));
  };
  for (const Eigen::Vector2d& place : places_) ++starts_[cell_of(place) + 1];
  for (std::size_t c = 1; c < starts_.size(); ++c) starts_[c] += starts_[c - 1];
  order_.resize(places_.size());
  std::vector<std::size_t> next(starts_.begin(), starts_.end() - 1);
  for (std::size_t i = 0; i < places_.size(); ++i) order_[next[cell_of(places_[i])]++] = i;
}

int Neighbours::column(double x) const {
  return static_cast<int>(std::clamp((x - lowest_.x()) / cell_, 0.0, static_cast<double>(columns_ - 1)));
}
int Neighbours::row(double y) const {
  return static_cast<int>(std::clamp((y - lowest_.y()) / cell_, 0.0, static_cast<double>(rows_ - 1)));
}

void Neighbours::look_in(int column, int row, const Eigen::Vector2d& from, std::vector<Neighbour>& found) const {
  if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return;
  const std::size_t c = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
  for (std::size_t k = starts_[c]; k < starts_[c + 1]; ++k) found.push_back({order_[k], (places_[order_[k]] - from).norm()});
}

std::vector<Neighbour> Neighbours::nearest(const Eigen::Vector2d& from, std::size_t count) const {
  count = std::min(count, places_.size());
  const auto nearer = [](const Neighbour& a, const Neighbour& b) {
    return a.distance != b.distance ? a.distance < b.distance : a.index < b.index;
  };
  std::vector<Neighbour> found;
  const int c = column(from.x()), r = row(from.y());
  // Rings of cells outward, until the count-th nearest is nearer than anything in the next ring can be.
  for (int ring = 0; ring <= std::max(columns_, rows_); ++ring) {
    for (int i = -ring; i <= ring; ++i) {
      look_in(c + i, r - ring, from, found);
      if (ring > 0) look_in(c + i, r + ring, from, found);
    }
    for (int j = -ring + 1; j < ring; ++j) {
      look_in(c - ring, r + j, from, found);
      look_in(c + ring, r + j, from, found);
    }
    if (found.size() < count) continue;
    const auto last = found.begin() + static_cast<std::ptrdiff_t>(count) - 1;
    std::nth_element(found.begin(), last, found.end(), nearer);
    const Eigen::Vector2d inside = from.cwiseMax(lowest_).cwiseMin(highest_);
    if (count == 0 || last->distance + (from - inside).norm() <= ring * cell_ || found.size() == places_.size()) break;
  }
  std::sort(found.begin(), found.end(), nearer);
  found.resize(count);
  return found;
}

std::vector<Neighbour> Neighbours::nearest_and_within(const Eigen::Vector2d& from, std::size_t count, double reach) const {
  std::vector<Neighbour> found = nearest(from, count);
  while (found.size() < places_.size() && !found.empty() && found.back().distance <= reach)
    found = nearest(from, 2 * found.size());
  while (found.size() > count && found.back().distance > reach) found.pop_back();
  return found;
}

}  // namespace dishwright
