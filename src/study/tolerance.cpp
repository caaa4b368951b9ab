// SPDX-License-Identifier: MIT
#include "study/tolerance.h"

#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/error.h"
#include "scene/validate.h"
#include "study/caught_share.h"
#include "study/deviation.h"

namespace dishwright {

namespace {

constexpr int steps_outward = 16;
constexpr std::uint64_t fewest = 4096;                            // paths of a first look
constexpr double widest_slope = 0.08;                             // [rad]
constexpr double widest_aim = 20 * std::numbers::pi / 180;        // [rad]
constexpr double widest_aim_along = 45 * std::numbers::pi / 180;  // [rad] of a trough, which loses little by it
constexpr double small_margin = 0.02;                             // of the light: below it a wider target is told
constexpr double widest_target = 6;                               // times its own width
constexpr int width_steps = 12, width_narrowings = 7;
constexpr double widest_focal_share = 0.4;  // of the focal length
constexpr int fewest_petals = 3, most_petals = 256;
constexpr int tile_narrowings = 10;

/// A look at a point by a part of the paths: enough where the share is farther from the wanted one than this.
struct Look {
  std::uint64_t part;
  double near_share, sure;  // share, and standard errors on top
};
constexpr std::array<Look, 2> looks{Look{16, 0.01, 8}, Look{4, 0.0025, 5}};

using MakeScene = std::function<std::optional<Scene>(double)>;

class Search {
 public:
  Search(const Scene& scene, std::size_t target, double wanted, std::uint64_t paths, int threads, Watch& watch)
      : scene_(scene), target_(target), wanted_(wanted), threads_(threads), watch_(watch) {
    scene_.trace.paths = paths;
    scene_.trace.accuracy.reset();
  }

  const Scene& scene() const { return scene_; }

  /// `whole`: from all paths, however far it is from the wanted one.
  LimitPoint share(const Scene& scene, double at, bool whole = false) { return share_near(scene, at, wanted_, whole); }

  /// The same where another share is the one that matters.
  LimitPoint share_near(Scene scene, double at, double goal, bool whole = false) {
    if (watch_.stop) throw Interrupted();
    // The target in question first: only its share is counted.
    std::swap(scene.targets[0], scene.targets[target_]);
    const std::uint64_t paths = scene_.trace.paths;
    const ShareAsked share(scene, &geometries_);
    const auto caught_by = [&](std::uint64_t count) { return share.caught(count, threads_, watch_); };
    // Few paths tell a share that is far from the wanted one; only near to it are more of them worth their time. Very few tell
    // nothing: where all of them are caught they show no error.
    for (const Look& look : looks) {
      if (whole || paths / look.part < fewest) continue;
      const Estimate seen = caught_by(paths / look.part);
      const double error = seen.std_error.value_or(0);
      if (std::abs(seen.value - goal) > look.near_share + look.sure * error) return {at, seen.value, error};
    }
    const Estimate caught = caught_by(paths);
    return {at, caught.value, caught.std_error.value_or(0)};
  }

  ToleranceLimit outward(const std::string& key, const std::string& side, double end, const MakeScene& make) {
    ToleranceLimit limit = limit_outward(key, side, end, steps_outward, wanted_, [&](double at) -> std::optional<LimitPoint> {
      const auto scene = make(at);
      if (!scene) return std::nullopt;
      return share(*scene, at);
    });
    // Where the wanted share is never reached the best one is told: from all paths, since the largest of few is too large.
    if (limit.limit || limit.open || limit.curve.empty()) return limit;
    if (const auto scene = make(limit.best.at)) limit.best = share(*scene, limit.best.at, true);
    return limit;
  }

  double wanted() const { return wanted_; }

 private:
  Scene scene_;
  std::size_t target_;
  double wanted_;
  int threads_;
  GeometryCache geometries_;
  Watch& watch_;
};

void set_slope(Scene& scene, double slope) {
  for (Reflector& mirror : scene.reflectors) mirror.slope_error = slope;
}

void find_angles(Search& search, Tolerance& out) {
  const Scene& scene = search.scene();
  const auto put = [&](ToleranceLimit limit, double here, const char* unit) {
    if (limit.limit) limit.limit->unit = unit;
    limit.here = here;
    out.limits.push_back(std::move(limit));
  };
  double own_slope = 0;
  for (const Reflector& mirror : scene.reflectors) own_slope = std::max(own_slope, mirror.slope_error);
  put(search.outward("slope_error", "", widest_slope,
                     [&](double at) {
                       Scene made = scene;
                       set_slope(made, at);
                       return std::optional(made);
                     }),
      own_slope, "rad");
  put(search.outward("aim_error", "", widest_aim,
                     [&](double at) {
                       Scene made = scene;
                       made.sun.aim_error = at;
                       return std::optional(made);
                     }),
      scene.sun.aim_error, "rad");
}

bool is_trough(const ReflectorShape& shape) {
  const auto* profile = std::get_if<Profile>(&shape);
  return std::holds_alternative<Trough>(shape) || std::holds_alternative<ArcTrough>(shape) ||
         (profile != nullptr && profile->trough);
}

/// The sun's side for the aim of a trough: the file's own aim is cut into one across and one along, as angles from the z axis add
/// up while they are small.
struct TroughAim {
  double across_direction;  // [rad] from the frame's +x
  double across, along;     // [rad]
  explicit TroughAim(const Scene& scene) {
    const Vector3 x = scene.reflectors.front().pose.turn * Vector3(1, 0, 0);
    across_direction = std::atan2(x.y(), x.x());
    const double side = scene.sun.aim_direction - across_direction;
    across = scene.sun.aim_error * std::cos(side), along = scene.sun.aim_error * std::sin(side);
  }
  void set(Scene& scene) const {
    scene.sun.aim_error = std::hypot(across, along);
    scene.sun.aim_direction = across_direction + std::atan2(along, across);
  }
};

/// Across and along a trough: to the side that the file has, if it has one.
void find_trough_aim(Search& search, Tolerance& out) {
  const Scene& scene = search.scene();
  if (!is_trough(scene.reflectors.front().shape)) return;
  const TroughAim own(scene);
  const auto find = [&](const char* key, double TroughAim::*part, double end) {
    ToleranceLimit limit = search.outward(key, "", end, [&](double at) {
      Scene made = scene;
      TroughAim aim = own;
      aim.*part = own.*part < 0 ? -at : at;
      aim.set(made);
      return std::optional(made);
    });
    if (limit.limit) limit.limit->unit = "rad";
    limit.here = std::abs(own.*part);
    out.limits.push_back(std::move(limit));
  };
  if (own.along == 0 && own.across >= 0) {  // the file's own way
    ToleranceLimit same = out.limits.back();
    same.key = "aim_across";
    out.limits.push_back(std::move(same));
  } else {
    find("aim_across", &TroughAim::across, widest_aim);
  }
  find("aim_along", &TroughAim::along, widest_aim_along);
}

void find_offsets(Search& search, Tolerance& out) {
  const Scene& scene = search.scene();
  const double away = distance_to_target(scene, out.target), across = rim_width(scene.reflectors.front().shape) / 3;
  for (const OffsetSide& side : offset_sides()) {
    const double end = side.way.z() != 0 ? 0.6 * away : across;
    ToleranceLimit limit =
        search.outward(side.key, side.name, end, [&](double at) { return sensible(shifted(scene, out.target, at * side.way)); });
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
          return sensible(made);
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

/// Another shape for the same mirror, with those of its flaws that the shape can have.
void reshape(Reflector& mirror, ReflectorShape shape) {
  if (std::holds_alternative<Facets>(shape)) mirror.flaws = {};
  if (std::holds_alternative<Petals>(shape)) mirror.flaws.sag_x = mirror.flaws.sag_y = 0, mirror.flaws.scallop.reset();
  mirror.shape = std::move(shape);
}

void find_petals(Search& search, Tolerance& out) {
  const auto dish = round_dish(search.scene().reflectors.front().shape);
  if (!dish || std::holds_alternative<Facets>(search.scene().reflectors.front().shape)) return;
  const auto* own = std::get_if<Petals>(&search.scene().reflectors.front().shape);
  ToleranceLimit limit;
  limit.key = "petals", limit.at_least = true, limit.searched = most_petals;
  limit.here = own != nullptr ? own->count : 0;
  const auto with = [&](int count) {
    Scene scene = search.scene();
    reshape(scene.reflectors.front(),
            Petals{dish->focal_length, dish->width, count, own != nullptr && own->seams_on_curve, dish->hole_width});
    limit.curve.push_back(search.share(scene, count));
    return limit.curve.back().figure >= search.wanted();
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
  put_in_order(limit);
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
  limit.key = "tile", limit.here = own != nullptr ? own->tile : 0;
  const auto with = [&](double tile) {
    Scene scene = search.scene();
    facets.tile = tile;
    if (own == nullptr) facets.gap = 0.05 * tile;  // flat squares on a bowl would meet at their corners
    reshape(scene.reflectors.front(), facets);
    if (!validate_scene(scene).empty()) return false;
    limit.curve.push_back(search.share(scene, tile));
    return limit.curve.back().figure >= search.wanted();
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
  put_in_order(limit);
  out.limits.push_back(std::move(limit));
}

/// Slope, aim and a shift of the target, each alone, then all at the same fraction of those: the target shifted away from the
/// mirror, then toward the side that the sun leans to.
class BudgetSearch {
 public:
  BudgetSearch(Search& search, std::size_t target) : search_(search), target_(target) {}

  std::optional<ToleranceBudget> run() const {
    const Scene& scene = search_.scene();
    const auto slope = limit(widest_slope, [&](double at) { return with(at, 0, Vector3::Zero()); });
    const auto aim = limit(widest_aim, [&](double at) { return with(0, at, Vector3::Zero()); });
    if (!slope || !aim) return std::nullopt;
    const Vector3 away(0, 0, 1);
    const auto along = limit(0.6 * distance_to_target(scene, target_), [&](double at) { return with(0, 0, at * away); });
    const auto all = along ? together(*slope, *aim, *along, away) : std::nullopt;
    if (!all) return std::nullopt;
    ToleranceBudget out{in(*slope, "rad"), in(*aim, "rad"), in(*along, "m"), in(*all, "1")};
    const Matrix3 own = scene.reflectors.front().pose.turn.transpose();
    const double side = scene.sun.aim_direction;
    const Vector3 leaning = own * Vector3(std::cos(side), std::sin(side), 0);
    const auto aside = limit(rim_width(scene.reflectors.front().shape) / 3, [&](double at) { return with(0, 0, at * leaning); });
    const auto third = aside ? together(*slope, *aim, *aside, leaning) : std::nullopt;
    if (third) out.aside = ToleranceBudget::Aside{in(*aside, "m"), in(*third, "1")};
    return out;
  }

 private:
  std::optional<Scene> with(double slope, double aim, const Vector3& shift) const {
    Scene scene = search_.scene();
    set_slope(scene, slope);
    scene.sun.aim_error = aim;
    return sensible(shifted(scene, target_, shift));
  }
  std::optional<Estimate> limit(double end, const MakeScene& make) const { return search_.outward("", "", end, make).limit; }
  std::optional<Estimate> together(const Estimate& slope, const Estimate& aim, const Estimate& shift, const Vector3& way) const {
    return limit(1, [&](double q) { return with(q * slope.value, q * aim.value, q * shift.value * way); });
  }
  static Estimate in(const Estimate& one, const char* unit) { return {one.value, one.std_error, unit}; }

  Search& search_;
  std::size_t target_;
};

/// The narrowest of the same targets that surely catches enough, where the file's does not or does so by little.
void find_width(Search& search, Tolerance& out) {
  const double own = target_width(search.scene().targets[out.target].shape), margin = out.share.value - out.wanted;
  if (own <= 0 || margin >= small_margin) return;
  NeededWidth need;
  need.share = margin < 2 * out.share.std_error.value_or(0) ? out.wanted : (1 + out.wanted) / 2;
  const auto enough = [&](double width) -> std::optional<bool> {
    Scene made = search.scene();
    set_width(made.targets[out.target].shape, width);
    const auto scene = sensible(std::move(made));
    if (!scene) return std::nullopt;
    const LimitPoint point = search.share_near(*scene, width, need.share);
    return point.figure - 2 * point.std_error >= need.share;
  };
  need.searched = own;
  double narrow = own;
  for (int k = 1; k <= width_steps && !need.width; ++k) {
    const double width = own * std::pow(widest_target, static_cast<double>(k) / width_steps);
    const auto good = enough(width);
    if (!good) break;
    need.searched = width;
    if (*good) need.width = width;
    if (!*good) narrow = width;
  }
  for (int k = 0; need.width && k < width_narrowings; ++k) {
    const double middle = (narrow + *need.width) / 2;
    (enough(middle).value_or(false) ? *need.width : narrow) = middle;
  }
  out.needed = need;
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
  const LimitPoint now = search.share(search.scene(), 0, true);
  out.share = Estimate{now.figure, now.std_error, "1"};
  find_angles(search, out);
  find_trough_aim(search, out);
  find_offsets(search, out);
  find_focal_length(search, out);
  find_petals(search, out);
  find_tile(search, out);
  out.budget = BudgetSearch(search, out.target).run();
  find_width(search, out);
  return out;
}

}  // namespace dishwright
