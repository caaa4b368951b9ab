// SPDX-License-Identifier: MIT
#include "study/tolerance.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/error.h"
#include "scene/check.h"
#include "study/caught_share.h"

namespace dishwright {

namespace {

constexpr int steps_outward = 16, narrowings = 14;
constexpr double widest_slope = 0.08;                       // [rad]
constexpr double widest_aim = 20 * std::numbers::pi / 180;  // [rad]
constexpr double widest_focal_share = 0.4;                  // of the focal length
constexpr int fewest_petals = 3, most_petals = 256;
constexpr int tile_narrowings = 10;

using MakeScene = std::function<std::optional<Scene>(double)>;

/// Makes the focal length longer by this factor; false for a shape that has none.
bool scale_focal_length(ReflectorShape& shape, double factor) {
  return std::visit(
      [factor](auto& s) {
        if constexpr (requires { s.focal_length; }) return (s.focal_length *= factor) > 0;
        if constexpr (requires { s.radius; }) return (s.radius *= factor) > 0;
        return false;
      },
      shape);
}

/// A scene that makes sense, or none.
std::optional<Scene> sound(Scene scene) {
  if (!check_sense(scene).empty()) return std::nullopt;
  return scene;
}

class Search {
 public:
  Search(const Scene& scene, std::size_t target, double wanted, std::uint64_t paths, int threads, Watch& watch)
      : scene_(scene), target_(target), wanted_(wanted), threads_(threads), watch_(watch) {
    scene_.trace.paths = paths;
    scene_.trace.accuracy.reset();
  }

  const Scene& scene() const { return scene_; }

  SharePoint share(Scene scene, double at) {
    if (watch_.stop) throw Interrupted();
    // The target in question first: only its share is counted.
    std::swap(scene.targets[0], scene.targets[target_]);
    const Estimate caught = caught_share(scene, scene_.trace.paths, threads_, watch_, &grounds_);
    return {at, caught.value, caught.std_error.value_or(0)};
  }

  /// Goes outward from 0 to `end` (> 0) in growing steps until the share is too small, then narrows the place.
  ToleranceLimit outward(const std::string& key, const std::string& side, double end, const MakeScene& make) {
    ToleranceLimit out;
    out.key = key, out.side = side, out.searched = end;
    std::vector<SharePoint>& curve = out.curve;
    for (int k = 0; k <= steps_outward; ++k) {
      const double at = end * std::pow(static_cast<double>(k) / steps_outward, 2);
      const auto scene = make(at);
      if (!scene) {  // the target would stick in the mirror, or the shape would not exist
        out.searched = curve.empty() ? 0 : curve.back().at;
        break;
      }
      curve.push_back(share(*scene, at));
      if (curve.back().share < wanted_ && k > 0) break;
    }
    if (curve.empty()) return out;
    finish(out, make);
    return out;
  }

  double wanted() const { return wanted_; }

 private:
  void finish(ToleranceLimit& out, const MakeScene& make) {
    std::vector<SharePoint>& curve = out.curve;
    const bool starts_well = curve.front().share >= wanted_;
    if (starts_well && curve.back().share >= wanted_) {
      out.open = true;
    } else if (starts_well) {
      narrow(out, make);
    } else {
      look_farther(out, make);
    }
    std::sort(curve.begin(), curve.end(), [](const SharePoint& a, const SharePoint& b) { return a.at < b.at; });
    out.best =
        *std::max_element(curve.begin(), curve.end(), [](const SharePoint& a, const SharePoint& b) { return a.share < b.share; });
  }

  /// Not enough at 0: the rest of the way is looked at too, for the best place.
  void look_farther(ToleranceLimit& out, const MakeScene& make) {
    const int from = static_cast<int>(out.curve.size());
    for (int k = from; k <= steps_outward; ++k) {
      const double at = out.searched * std::pow(static_cast<double>(k) / steps_outward, 2);
      const auto scene = make(at);
      if (!scene) return;
      out.curve.push_back(share(*scene, at));
    }
  }

  /// Straight lines between the last good and the first bad point, with a halving whenever one end stays (the Illinois rule).
  void narrow(ToleranceLimit& out, const MakeScene& make) {
    SharePoint good = out.curve[out.curve.size() - 2], bad = out.curve.back();
    double weight_good = good.share - wanted_, weight_bad = bad.share - wanted_;
    int kept = 0;
    for (int k = 0; k < narrowings; ++k) {
      const double noise = std::max({good.std_error, bad.std_error, 1e-6});
      if (good.share - bad.share < noise || bad.at - good.at < 1e-4 * bad.at) break;
      // Halves now and then: a share that falls in one step has no slope to follow.
      double at = k % 3 == 2 ? (good.at + bad.at) / 2 : good.at + (bad.at - good.at) * weight_good / (weight_good - weight_bad);
      at = std::clamp(at, good.at + 0.02 * (bad.at - good.at), bad.at - 0.02 * (bad.at - good.at));
      const auto scene = make(at);
      if (!scene) break;
      const SharePoint middle = share(*scene, at);
      out.curve.push_back(middle);
      if (std::abs(middle.share - wanted_) < 0.1 * noise) {
        (middle.share >= wanted_ ? good : bad) = middle;
        break;
      }
      if (middle.share >= wanted_) {
        good = middle, weight_good = middle.share - wanted_;
        if (kept > 0) weight_bad /= 2;
        kept = 1;
      } else {
        bad = middle, weight_bad = middle.share - wanted_;
        if (kept < 0) weight_good /= 2;
        kept = -1;
      }
    }
    set_limit(out, good, bad);
  }

  /// Where the line between the two points meets the wanted share; its error from theirs and from the slope of the curve about there.
  void set_limit(ToleranceLimit& out, const SharePoint& good, const SharePoint& bad) const {
    const double drop = good.share - bad.share;
    const double at = drop > 0 ? good.at + (bad.at - good.at) * (good.share - wanted_) / drop : good.at;
    const double error = std::max(good.std_error, bad.std_error), slope = slope_about(out.curve, at, std::max(10 * error, 0.01));
    Estimate limit{at, std::nullopt, ""};
    if (slope > 0) limit.std_error = error / slope;
    out.limit = limit;
  }

  /// Fall of the share a unit, between the nearest points that differ by at least `apart`.
  static double slope_about(const std::vector<SharePoint>& curve, double at, double apart) {
    double best = 0, nearest = 1e300;
    for (const SharePoint& a : curve) {
      for (const SharePoint& b : curve) {
        if (!(a.at <= at && b.at >= at && a.share - b.share >= apart) || b.at - a.at >= nearest) continue;
        nearest = b.at - a.at;
        best = (a.share - b.share) / (b.at - a.at);
      }
    }
    return best;
  }

  Scene scene_;
  std::size_t target_;
  double wanted_;
  int threads_;
  Grounds grounds_;
  Watch& watch_;
};

void set_slope(Scene& scene, double slope) {
  for (Reflector& mirror : scene.reflectors) mirror.slope_error = slope;
}

/// The scene with its target shifted, in the axes of the first reflector.
Scene shifted(Scene scene, std::size_t target, const Vector3& by) {
  scene.targets[target].pose.at += scene.reflectors.front().pose.turn * by;
  return scene;
}

double distance_to_target(const Scene& scene, std::size_t target) {
  return (scene.targets[target].pose.at - scene.reflectors.front().pose.at).norm();
}

void find_angles(Search& search, Tolerance& out) {
  const Scene& scene = search.scene();
  const auto put = [&](ToleranceLimit limit, const char* unit) {
    if (limit.limit) limit.limit->unit = unit;
    out.limits.push_back(std::move(limit));
  };
  put(search.outward("slope_error", "", widest_slope,
                     [&](double at) {
                       Scene made = scene;
                       set_slope(made, at);
                       return std::optional(made);
                     }),
      "rad");
  put(search.outward("aim_error", "", widest_aim,
                     [&](double at) {
                       Scene made = scene;
                       made.sun.aim_error = at;
                       return std::optional(made);
                     }),
      "rad");
}

void find_offsets(Search& search, Tolerance& out) {
  const Scene& scene = search.scene();
  const double away = distance_to_target(scene, out.target), across = rim_width(scene.reflectors.front().shape) / 3;
  struct Side {
    const char *key, *name;
    Vector3 way;
    double end;
  };
  const Side sides[] = {{"offset_along", "toward the mirror", {0, 0, -1}, 0.6 * away},
                        {"offset_along", "away from the mirror", {0, 0, 1}, 0.6 * away},
                        {"offset_across", "+x", {1, 0, 0}, across},
                        {"offset_across", "-x", {-1, 0, 0}, across},
                        {"offset_across", "+y", {0, 1, 0}, across},
                        {"offset_across", "-y", {0, -1, 0}, across}};
  for (const Side& side : sides) {
    ToleranceLimit limit = search.outward(side.key, side.name, side.end,
                                          [&](double at) { return sound(shifted(scene, out.target, at * side.way)); });
    if (limit.limit) limit.limit->unit = "m";
    out.limits.push_back(std::move(limit));
  }
}

void find_focal_length(Search& search, Tolerance& out) {
  const Scene& scene = search.scene();
  if (ReflectorShape shape = scene.reflectors.front().shape; !scale_focal_length(shape, 1)) return;
  for (const double way : {1.0, -1.0}) {
    ToleranceLimit limit =
        search.outward("focal_length_error", way > 0 ? "longer" : "shorter", widest_focal_share, [&](double at) {
          Scene made = scene;
          scale_focal_length(made.reflectors.front().shape, 1 + way * at);
          return sound(made);
        });
    if (limit.limit) limit.limit->unit = "1";
    out.limits.push_back(std::move(limit));
  }
}

/// The round dish that petals or tiles would be made after; empty for other shapes.
std::optional<Paraboloid> round_dish(const ReflectorShape& shape) {
  if (const auto* dish = std::get_if<Paraboloid>(&shape)) return *dish;
  if (const auto* petals = std::get_if<Petals>(&shape))
    return Paraboloid{petals->focal_length, petals->width, petals->hole_width};
  if (const auto* facets = std::get_if<Facets>(&shape); facets != nullptr && facets->frame == FacetFrame::paraboloid)
    return Paraboloid{facets->focal_length, facets->width, facets->hole_width};
  return std::nullopt;
}

void find_petals(Search& search, Tolerance& out) {
  const auto dish = round_dish(search.scene().reflectors.front().shape);
  if (!dish || std::holds_alternative<Facets>(search.scene().reflectors.front().shape)) return;
  const auto* own = std::get_if<Petals>(&search.scene().reflectors.front().shape);
  ToleranceLimit limit;
  limit.key = "petals", limit.at_least = true, limit.searched = most_petals;
  const auto with = [&](int count) {
    Scene scene = search.scene();
    scene.reflectors.front().shape =
        Petals{dish->focal_length, dish->width, count, own != nullptr && own->seams_on_curve, dish->hole_width};
    limit.curve.push_back(search.share(scene, count));
    return limit.curve.back().share >= search.wanted();
  };
  int bad = fewest_petals - 1, good = fewest_petals;
  while (good <= most_petals && !with(good)) bad = good, good *= 2;
  if (good <= most_petals) {
    while (good - bad > 1) {
      const int middle = (good + bad) / 2;
      (with(middle) ? good : bad) = middle;
    }
    limit.limit = Estimate{static_cast<double>(good), std::nullopt, "1"};
  }
  std::sort(limit.curve.begin(), limit.curve.end(), [](const SharePoint& a, const SharePoint& b) { return a.at < b.at; });
  limit.best = *std::max_element(limit.curve.begin(), limit.curve.end(),
                                 [](const SharePoint& a, const SharePoint& b) { return a.share < b.share; });
  out.limits.push_back(std::move(limit));
}

void find_tile(Search& search, Tolerance& out) {
  const auto dish = round_dish(search.scene().reflectors.front().shape);
  if (!dish || std::holds_alternative<Petals>(search.scene().reflectors.front().shape)) return;
  Facets facets;
  const auto* own = std::get_if<Facets>(&search.scene().reflectors.front().shape);
  if (own != nullptr) facets = *own;
  facets.focal_length = dish->focal_length, facets.width = dish->width, facets.hole_width = dish->hole_width;
  ToleranceLimit limit;
  limit.key = "tile";
  const auto with = [&](double tile) {
    Scene scene = search.scene();
    facets.tile = tile;
    if (own == nullptr) facets.gap = 0.05 * tile;  // flat squares on a bowl would meet at their corners
    scene.reflectors.front().shape = facets;
    if (!check_sense(scene).empty()) return false;
    limit.curve.push_back(search.share(scene, tile));
    return limit.curve.back().share >= search.wanted();
  };
  // From fine to coarse by halves of an octave, then narrowed.
  double good = 0, bad = 0;
  for (int k = 0; k < 9; ++k) {
    const double tile = dish->width / 40 * std::pow(2.0, k / 2.0);
    if (tile >= dish->width / 2) break;
    limit.searched = tile;
    if (!with(tile)) {
      bad = tile;
      break;
    }
    good = tile;
  }
  if (good > 0 && bad == 0) limit.open = true;
  if (good > 0 && bad > 0) {
    for (int k = 0; k < tile_narrowings && bad - good > 0.01 * good; ++k) {
      const double middle = (good + bad) / 2;
      (with(middle) ? good : bad) = middle;
    }
    limit.limit = Estimate{good, bad - good, "m"};
  }
  if (limit.curve.empty()) return;
  std::sort(limit.curve.begin(), limit.curve.end(), [](const SharePoint& a, const SharePoint& b) { return a.at < b.at; });
  limit.best = *std::max_element(limit.curve.begin(), limit.curve.end(),
                                 [](const SharePoint& a, const SharePoint& b) { return a.share < b.share; });
  out.limits.push_back(std::move(limit));
}

/// Slope, aim and shift along the axis (away from the mirror), each alone, then all at the same fraction of those.
void find_budget(Search& search, Tolerance& out) {
  const auto with = [&](double slope, double aim, double along) -> std::optional<Scene> {
    Scene scene = search.scene();
    set_slope(scene, slope);
    scene.sun.aim_error = aim;
    return sound(shifted(scene, out.target, {0, 0, along}));
  };
  const double away = distance_to_target(search.scene(), out.target);
  const ToleranceLimit slope = search.outward("", "", widest_slope, [&](double at) { return with(at, 0, 0); });
  const ToleranceLimit aim = search.outward("", "", widest_aim, [&](double at) { return with(0, at, 0); });
  const ToleranceLimit along = search.outward("", "", 0.6 * away, [&](double at) { return with(0, 0, at); });
  if (!slope.limit || !aim.limit || !along.limit) return;
  const ToleranceLimit all = search.outward(
      "", "", 1, [&](double q) { return with(q * slope.limit->value, q * aim.limit->value, q * along.limit->value); });
  if (!all.limit) return;
  const auto in = [](const ToleranceLimit& one, const char* unit) {
    return Estimate{one.limit->value, one.limit->std_error, unit};
  };
  out.budget = ToleranceBudget{in(slope, "rad"), in(aim, "rad"), in(along, "m"), in(all, "1")};
}

}  // namespace

std::optional<Estimate> tightest(const Tolerance& all, const std::string& key) {
  std::optional<Estimate> least;
  for (const ToleranceLimit& one : all.limits) {
    if (one.key != key) continue;
    if (!one.limit && !one.open) return std::nullopt;
    if (one.limit && (!least || one.limit->value < least->value)) least = one.limit;
  }
  return least;
}

Tolerance find_tolerance(const Scene& scene, std::size_t target, double wanted, std::uint64_t paths, int threads, Watch& watch) {
  Search search(scene, target, wanted, paths, threads, watch);
  Tolerance out;
  out.scene = search.scene(), out.target = target, out.wanted = wanted;
  const SharePoint now = search.share(search.scene(), 0);
  out.share = Estimate{now.share, now.std_error, "1"};
  find_angles(search, out);
  find_offsets(search, out);
  find_focal_length(search, out);
  find_petals(search, out);
  find_tile(search, out);
  find_budget(search, out);
  return out;
}

}  // namespace dishwright
