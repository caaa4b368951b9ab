// SPDX-License-Identifier: MIT
#include "page/solid_json.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "scene/mirror_patches.h"

namespace dishwright {

namespace {

constexpr int along_line = 24;              // steps of a line
constexpr std::size_t most_outlines = 600;  // of very many tiles or triangles only a part is drawn

Json place_json(const Vector3& at) { return {json_number(at.x()), json_number(at.y()), json_number(at.z())}; }

template <class Point>
void add_line(const Point& at, int steps, Json& lines) {
  Json line = Json::array();
  for (int k = 0; k <= steps; ++k) line.push_back(place_json(at(static_cast<double>(k) / steps)));
  lines.push_back(std::move(line));
}

/// The edges of a patch, and lines on it where there are few patches.
void add_patch(const MirrorPatch& patch, int across, int round, int steps, Json& lines) {
  for (int k = 0; k <= across; ++k) {
    const double u = static_cast<double>(k) / across;
    add_line([&](double v) { return patch.at(u, v).place; }, patch.closed ? 2 * steps : steps, lines);
  }
  for (int k = patch.closed ? 1 : 0; k <= round; ++k) {
    const double v = static_cast<double>(k) / round;
    add_line([&](double u) { return patch.at(u, v).place; }, steps, lines);
  }
}

Json mirror_lines(const Scene& scene) {
  const Patches patches = mirror_patches(scene);
  const std::size_t every = 1 + patches.size() / most_outlines;
  const bool few = patches.size() <= 4, many = patches.size() > 40;
  Json lines = Json::array();
  for (std::size_t k = 0; k < patches.size(); k += every) {
    const int round = few ? patches[k].closed ? 16 : 8 : 1;
    add_patch(patches[k], few ? 5 : 1, round, many ? 1 : along_line, lines);
  }
  return lines;
}

/// Which lines of a face are drawn: those at these b, round it, and those at these a, along it (TargetFace::point).
struct FaceLines {
  std::vector<double> round, along;
};
FaceLines lines_of(FaceForm form) {
  switch (form) {
    case FaceForm::disc: return {{1}, {}};
    case FaceForm::rectangle: return {{0, 1}, {0, 1}};
    case FaceForm::ball: return {{0.1, 0.3, 0.5, 0.7, 0.9}, {0, 0.25, 0.5, 0.75}};
    case FaceForm::upright:
    case FaceForm::lying: break;
  }
  return {{0, 1}, {0, 0.25, 0.5, 0.75}};
}

Json target_lines(const Scene& scene) {
  Json lines = Json::array();
  for (const Target& target : scene.targets) {
    const TargetBody body = body_of(target.shape);
    for (const TargetFace& face : body.faces()) {
      const auto placed = [&](double a, double b) {
        const Vector3 own = face.point(std::min(a, 1 - 1e-9), std::min(b, 1 - 1e-9)).place;
        return Vector3(target.pose.turn * own + target.pose.at);
      };
      const FaceLines drawn = lines_of(face.form);
      for (const double at : drawn.round) add_line([&](double t) { return placed(t, at); }, 2 * along_line, lines);
      for (const double at : drawn.along) add_line([&](double t) { return placed(at, t); }, 2 * along_line, lines);
    }
  }
  return lines;
}

/// Middles of the bright cells of the maps that lie flat, in the frame, with their share of the brightest: [x, y, z, share].
Json spot_places(const Scene& scene, const TraceFigures& figures) {
  constexpr double faint = 0.1;
  constexpr std::size_t most = 400;
  double top = 0;
  for (const TargetFigures& target : figures.targets)
    for (const MapFace& face : target.map)
      for (const double value : face.irradiance) top = std::max(top, value);
  std::vector<std::pair<Vector3, double>> lit;
  for (std::size_t k = 0; k < figures.targets.size(); ++k) {
    const Target& target = scene.targets[k];
    const TargetBody body = body_of(target.shape);
    for (const TargetFace& face : body.faces()) {
      const auto& maps = figures.targets[k].map;
      const auto map = std::find_if(maps.begin(), maps.end(), [&](const MapFace& one) { return one.name == face.name; });
      if (!face.flat() || map == maps.end()) continue;
      for (std::size_t cell = 0; cell < map->irradiance.size(); ++cell) {
        if (!(map->irradiance[cell] > faint * top)) continue;
        const std::size_t wide = static_cast<std::size_t>(map->columns), column = cell % wide, row = cell / wide;
        const double across = static_cast<double>(column) + 0.5, up = static_cast<double>(row) + 0.5;
        const Vector3 own(map->x_from + across / map->columns * (map->x_to - map->x_from),
                          map->y_from + up / map->rows * (map->y_to - map->y_from), face.height);
        lit.emplace_back(target.pose.turn * own + target.pose.at, map->irradiance[cell] / top);
      }
    }
  }
  Json out = Json::array();
  const std::size_t every = 1 + lit.size() / most;
  for (std::size_t k = 0; k < lit.size(); k += every) {
    Json place = place_json(lit[k].first);
    place.push_back(json_number(lit[k].second));
    out.push_back(std::move(place));
  }
  return out;
}

Json ray_json(const CutRay& ray, const SideView& view, double reach) {
  const auto in_space = [&](const CutPoint& at) -> Vector3 { return view.origin + at.across * view.across + at.up * view.up; };
  std::vector<Vector3> way;
  for (const CutPoint& at : ray.way) way.push_back(in_space(at));
  const bool misses = ray.end == SightEnd::missed;
  if (misses && !way.empty()) way.push_back(way.back() + reach * (ray.toward.across * view.across + ray.toward.up * view.up));
  Json line = Json::array();
  for (const Vector3& at : way) line.push_back(place_json(at));
  return {{"line", std::move(line)}, {"misses", misses}};
}

}  // namespace

Json solid_json(const Scene& scene, const SideView& view, const TraceFigures& figures) {
  Json out;
  out["mirrors"] = mirror_lines(scene);
  out["targets"] = target_lines(scene);
  out["spot"] = spot_places(scene, figures);
  out["rays"] = Json::object();
  const double reach = 1.5 * view.width;
  if (view.named && view.sun != 0) {
    out["rays"]["M"] = ray_json(view.named->middle, view, reach);
    out["rays"]["N"] = ray_json(view.named->near_rim, view, reach);
    out["rays"]["F"] = ray_json(view.named->far_rim, view, reach);
  } else {
    for (std::size_t k = 0; k < view.rays.size(); ++k) out["rays"][std::to_string(k)] = ray_json(view.rays[k], view, reach);
  }
  return out;
}

}  // namespace dishwright
