// SPDX-License-Identifier: MIT
#include "survey/repeats.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <unordered_map>

#include "base/error.h"
#include "survey/median.h"
#include "survey/neighbours.h"

namespace dishwright {

namespace {

using Group = std::vector<std::size_t>;

constexpr double finest_share = 1e-6;  // of the cloud's reach: float noise of its file
constexpr double wall_share = 0.03;    // of the reach: points above one another that far apart are no repeats
constexpr double deviations = 6, steps = 3, depth_share = 0.01;
constexpr std::size_t fewest_places = 10;

struct Box {
  Vector3 low, high;
  double reach() const { return (high - low).maxCoeff(); }
};

Box box_of(const std::vector<Vector3>& points) {
  Box box{points.front(), points.front()};
  for (const Vector3& p : points) box.low = box.low.cwiseMin(p), box.high = box.high.cwiseMax(p);
  return box;
}

/// From a tenth to nine tenths of the heights [m]: a slip of the pen does not count.
double depth_of(const std::vector<Vector3>& points) {
  std::vector<double> heights;
  heights.reserve(points.size());
  for (const Vector3& p : points) heights.push_back(p.z());
  std::sort(heights.begin(), heights.end());
  return heights[heights.size() - 1 - heights.size() / 10] - heights[heights.size() / 10];
}

std::uint64_t cell_key(double x, double y, double size) {
  const auto column = static_cast<std::int64_t>(std::floor(x / size)), row = static_cast<std::int64_t>(std::floor(y / size));
  return static_cast<std::uint64_t>(column) * 0x9e3779b97f4a7c15U + static_cast<std::uint64_t>(row);
}

/// Each reading joins the first place within `size` of it, or opens one.
std::vector<Group> groups_near(const std::vector<Vector3>& points, double size) {
  std::vector<Group> groups;
  std::unordered_map<std::uint64_t, Group> cells;  // numbers of the groups that began in a cell
  const auto find = [&](const Vector3& p) -> std::size_t {
    for (int i = -1; i <= 1; ++i) {
      for (int j = -1; j <= 1; ++j) {
        const auto cell = cells.find(cell_key(p.x() + i * size, p.y() + j * size, size));
        if (cell == cells.end()) continue;
        for (const std::size_t group : cell->second) {
          if ((points[groups[group].front()] - p).head<2>().norm() <= size) return group;
        }
      }
    }
    return groups.size();
  };
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::size_t group = find(points[i]);
    if (group == groups.size()) {
      groups.emplace_back();
      cells[cell_key(points[i].x(), points[i].y(), size)].push_back(group);
    }
    groups[group].push_back(i);
  }
  return groups;
}

/// Splits points above one another where their heights lie apart.
void add_split(const std::vector<Vector3>& points, Group group, double reach, std::vector<Group>& out) {
  std::sort(group.begin(), group.end(),
            [&](std::size_t a, std::size_t b) { return points[a].z() != points[b].z() ? points[a].z() < points[b].z() : a < b; });
  const double range = points[group.back()].z() - points[group.front()].z();
  const double gap = range > wall_share * reach ? finest_share * reach : range;
  std::size_t from = 0;
  for (std::size_t k = 1; k <= group.size(); ++k) {
    if (k < group.size() && points[group[k]].z() - points[group[k - 1]].z() <= gap) continue;
    Group part(group.begin() + static_cast<std::ptrdiff_t>(from), group.begin() + static_cast<std::ptrdiff_t>(k));
    std::sort(part.begin(), part.end());
    out.push_back(std::move(part));
    from = k;
  }
}

/// Points with the same x and y to a millionth of the reach, in the order of the file; nothing where no two are.
std::vector<Group> groups_of_cloud(const std::vector<Vector3>& points, double reach) {
  const double size = finest_share * reach;
  std::vector<std::pair<std::uint64_t, std::size_t>> keys;
  keys.reserve(points.size());
  // Cells that do not begin at round numbers, where grids of points lie.
  for (std::size_t i = 0; i < points.size(); ++i)
    keys.emplace_back(cell_key(points[i].x() + 0.382 * size, points[i].y() + 0.382 * size, size), i);
  std::sort(keys.begin(), keys.end());
  std::vector<Group> groups;
  const auto same = [](const auto& a, const auto& b) { return a.first == b.first; };
  if (std::adjacent_find(keys.begin(), keys.end(), same) == keys.end()) return groups;
  for (std::size_t from = 0; from < keys.size();) {
    std::size_t to = from;
    Group group;
    for (; to < keys.size() && keys[to].first == keys[from].first; ++to) group.push_back(keys[to].second);
    add_split(points, std::move(group), reach, groups);
    from = to;
  }
  std::sort(groups.begin(), groups.end(), [](const Group& a, const Group& b) { return a.front() < b.front(); });
  return groups;
}

double middle_height(const std::vector<Vector3>& points, const Group& group) {
  std::vector<double> heights;
  for (const std::size_t i : group) heights.push_back(points[i].z());
  std::sort(heights.begin(), heights.end());
  const std::size_t n = heights.size();
  return (heights[(n - 1) / 2] + heights[n / 2]) / 2;
}

/// How far apart two readings of a place may lie [m]; `apart`: in x and y, where the surface may lean by 45 degrees.
struct Tolerance {
  double height = 0;
  bool bears(const Vector3& a, const Vector3& b) const { return std::abs(a.z() - b.z()) <= height + (a - b).head<2>().norm(); }
};

/// Typical scatter of one reading about its place that wild ones do not raise [m]: of each place the middle one of the distances
/// from its middle, of the places the middle one. Pairs count only where there are five or more, for one pair cannot tell which
/// of the two is wild.
double robust_scatter(const std::vector<Vector3>& points, const std::vector<Group>& groups) {
  std::vector<double> pairs, larger;
  for (const Group& group : groups) {
    if (group.size() < 2) continue;
    const double middle = middle_height(points, group);
    std::vector<double> away;
    for (const std::size_t i : group) away.push_back(std::abs(points[i].z() - middle));
    std::sort(away.begin(), away.end());
    // The middle reading of an odd count is no evidence.
    if (away.size() % 2 == 1) away.erase(away.begin());
    (group.size() == 2 ? pairs : larger).push_back(away[(away.size() - 1) / 2]);
  }
  constexpr std::size_t enough = 5;
  if (pairs.size() >= enough) larger.insert(larger.end(), pairs.begin(), pairs.end());
  constexpr double pair_scale = 2.1;  // half the difference of two readings has the median 0.477 standard deviations
  return pair_scale * median(std::move(larger));
}

Tolerance tolerance_of(const SurveyPoints& raw, const std::vector<Group>& groups) {
  return {std::max({deviations * robust_scatter(raw.points, groups), steps * raw.step, depth_share * depth_of(raw.points)})};
}

/// The readings of a group that agree with its middle one; of an even count that is the middle between two.
Group agreeing(const std::vector<Vector3>& points, const Group& group, const Tolerance& tolerance) {
  const double middle = middle_height(points, group);
  Group out;
  std::copy_if(group.begin(), group.end(), std::back_inserter(out), [&](std::size_t i) {
    return tolerance.bears(points[i], Vector3(points[group.front()].x(), points[group.front()].y(), middle));
  });
  return out;
}

bool all_agree(const std::vector<Vector3>& points, const Group& group, const Tolerance& tolerance) {
  Box box{points[group.front()], points[group.front()]};
  for (const std::size_t i : group) box.low = box.low.cwiseMin(points[i]), box.high = box.high.cwiseMax(points[i]);
  return tolerance.bears(box.low, box.high);
}

void name_wild(Repeats& repeats, std::size_t place, const Group& good, std::size_t bad, bool set_aside) {
  const std::vector<int>& rows = repeats.raw.rows;
  WildRepeat wild;
  wild.row = rows[bad], wild.other_row = rows[good.front()];
  wild.off = repeats.raw.points[bad].z() - middle_height(repeats.raw.points, good);
  wild.set_aside = set_aside, wild.place = place;
  repeats.wild.push_back(wild);
}

void drop(Repeats& repeats, std::size_t place, const Group& good, bool keep_all) {
  Group& group = repeats.readings[place];
  for (const std::size_t i : group) {
    if (std::find(good.begin(), good.end(), i) == good.end()) name_wild(repeats, place, good, i, !keep_all);
  }
  if (!keep_all) group = good;
}

Vector3 mean_of(const std::vector<Vector3>& points, const Group& group) {
  Vector3 mean = Vector3::Zero();
  for (const std::size_t i : group) mean += points[i];
  return mean / static_cast<double>(group.size());
}

/// One point a place.
void set_means(const Repeats& repeats, SurveyPoints& survey) {
  survey.points.clear(), survey.rows.clear(), survey.counts.clear();
  for (const Group& group : repeats.readings) {
    survey.points.push_back(mean_of(repeats.raw.points, group));
    survey.rows.push_back(repeats.raw.rows[group.front()]);
    survey.counts.push_back(static_cast<int>(group.size()));
  }
}

void refuse_few(std::size_t places, std::size_t read) {
  throw InputError(places == 1 ? fmt::format("all {} readings are of one place", read)
                               : fmt::format("the {} readings are of only {} different places", read, places),
                   "a place that is read again counts once; a curved shape and its tilt need at least 10 places",
                   "read three rings of four places and the middle, or more");
}

}  // namespace

double same_place(double width, std::size_t count) {
  constexpr double pencil = 0.0254 / 8, share = 0.1;
  return std::min(pencil, share * width / std::sqrt(static_cast<double>(count)));
}

std::vector<std::vector<std::size_t>> place_groups(const SurveyPoints& survey) {
  if (survey.points.empty()) return {};
  const Box box = box_of(survey.points);
  const double across = (box.high - box.low).head<2>().maxCoeff();
  std::vector<Group> groups = survey.under_rim && across > 0
                                  ? groups_near(survey.points, same_place(across, survey.points.size()))
                                  : groups_of_cloud(survey.points, std::max(box.reach(), 1e-300));
  if (groups.size() == survey.points.size()) groups.clear();
  return groups;
}

Repeats merge_repeats(SurveyPoints& survey, bool keep_all) {
  Repeats out;
  out.read = survey.points.size();
  if (survey.points.empty()) return out;
  const Box box = box_of(survey.points);
  if (box.reach() <= 0) refuse_few(1, out.read);
  std::vector<Group> groups = place_groups(survey);
  if (groups.empty()) return out;
  for (std::size_t i = survey.rows.size(); i < out.read; ++i) survey.rows.push_back(static_cast<int>(i) + 1);
  if (groups.size() < fewest_places && out.read >= fewest_places) refuse_few(groups.size(), out.read);
  for (const Group& group : groups) {
    out.repeated += group.size() > 1 ? 1 : 0;
    out.most = std::max(out.most, group.size());
  }
  out.raw = survey;
  out.readings = std::move(groups);
  const Tolerance tolerance = tolerance_of(out.raw, out.readings);
  out.tolerance = tolerance.height;
  for (std::size_t place = 0; place < out.readings.size(); ++place) {
    const Group& group = out.readings[place];
    if (group.size() < 3 || all_agree(out.raw.points, group, tolerance)) continue;
    const Group good = agreeing(out.raw.points, group, tolerance);
    if (2 * good.size() > group.size() && good.size() < group.size()) drop(out, place, good, keep_all);
  }
  set_means(out, survey);
  return out;
}

void settle_disputes(Repeats& repeats, SurveyPoints& survey, const ShapeFit& fit, bool keep_all) {
  if (repeats.readings.empty()) return;
  const Tolerance tolerance{repeats.tolerance};
  const auto height = [&](const Vector3& point) { return nearest_foot(fit.shape, fit.shape.to_own(point)).distance; };
  std::vector<Eigen::Vector2d> places;
  for (const Vector3& point : survey.points) places.emplace_back(point.head<2>());
  const Neighbours near(places);
  bool changed = false;
  for (std::size_t place = 0; place < repeats.readings.size(); ++place) {
    const Group group = repeats.readings[place];
    if (group.size() < 2 || all_agree(repeats.raw.points, group, tolerance)) continue;
    std::vector<double> around;
    constexpr std::size_t company = 7;  // the place itself and six others
    for (const Neighbour& other : near.nearest(places[place], company)) {
      if (other.index != place) around.push_back(height(survey.points[other.index]));
    }
    const double expected = median(around);
    Group good;
    std::copy_if(group.begin(), group.end(), std::back_inserter(good),
                 [&](std::size_t i) { return std::abs(height(repeats.raw.points[i]) - expected) <= tolerance.height; });
    if (!keep_all && !good.empty() && good.size() < group.size() && all_agree(repeats.raw.points, good, tolerance)) {
      drop(repeats, place, good, false);
      changed = true;
    } else if (!keep_all || group.size() == 2) {
      name_wild(repeats, place, {group.front()}, group[1], false);
    }
  }
  if (changed) set_means(repeats, survey);
}

void use_scatter(Repeats& repeats, SurveyPoints& survey, const ShapeFit& fit) {
  if (repeats.readings.empty()) return;
  double squares = 0, shares = 0, apart = 0;  // apart: largest difference of the heights as read
  std::size_t places = 0;
  for (const Group& group : repeats.readings) {
    shares += 1 / static_cast<double>(group.size());
    if (group.size() < 2) continue;
    std::vector<double> heights;
    double mean = 0;
    for (const std::size_t i : group) {
      heights.push_back(nearest_foot(fit.shape, fit.shape.to_own(repeats.raw.points[i])).distance);
      mean += heights.back() / static_cast<double>(group.size());
    }
    for (const double height : heights) squares += (height - mean) * (height - mean);
    for (const std::size_t i : group)
      apart = std::max(apart, std::abs(repeats.raw.points[i].z() - repeats.raw.points[group.front()].z()));
    repeats.freedom += static_cast<double>(group.size() - 1);
    ++places;
  }
  if (!(repeats.freedom > 0)) return;
  repeats.scatter = std::sqrt(squares / repeats.freedom);
  repeats.alike = std::min(repeats.scatter, apart) <= finest_share * depth_of(survey.points);
  constexpr double enough = 5;
  if (repeats.alike || repeats.freedom < enough || static_cast<double>(places) < enough) return;
  survey.noise.scatter = repeats.scatter, survey.noise.freedom = repeats.freedom;
  survey.noise.mean_share = shares / static_cast<double>(repeats.readings.size());
}

}  // namespace dishwright
