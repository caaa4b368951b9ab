// SPDX-License-Identifier: MIT
#include "reference_tracer.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <utility>

#include "reference_lamp.h"
#include "reference_surfaces.h"

namespace dishwright::reference {

namespace {

constexpr int batches = 40;
constexpr int most_bounces = 64;
constexpr double start_distance = 100;  // [m], outside any scene of the tests
constexpr double least_step = 1e-9;     // [m]; the intersections are good to 1e-14

void keep_nearest(std::optional<Hit>& nearest, const std::vector<Hit>& hits, double least) {
  for (const Hit& hit : hits) {
    if (hit.distance > least && (!nearest || hit.distance < nearest->distance)) nearest = hit;
  }
}

std::optional<Hit> first_mirror(const Scene& scene, const Ray& ray, double least) {
  std::optional<Hit> nearest;
  for (const Reflector& mirror : scene.reflectors)
    keep_nearest(nearest, meetings(mirror.shape, mirror.pose, mirror.name, ray), least);
  return nearest;
}

const Reflector& mirror_named(const Scene& scene, const std::string& name) {
  return *std::find_if(scene.reflectors.begin(), scene.reflectors.end(),
                       [&](const Reflector& mirror) { return mirror.name == name; });
}

// Two unit vectors that make a right angle with `axis` and with each other.
std::pair<Vector3, Vector3> across(const Vector3& axis) {
  const Vector3 helper = std::abs(axis.x()) < 0.6 ? Vector3::UnitX() : Vector3::UnitY();
  const Vector3 first = axis.cross(helper).normalized();
  return {first, axis.cross(first)};
}

Vector3 reflect(const Vector3& along, const Vector3& normal) { return along - 2 * along.dot(normal) * normal; }

// ---- The sun: rays that flood the scene ----

struct Box {
  Vector3 low = Vector3::Constant(1e300), high = Vector3::Constant(-1e300);
  void take(const Vector3& p) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
};

class Flood {
 public:
  /// Covers all mirrors, or all targets.
  Flood(const Scene& scene, bool over_targets)
      : sun_(scene.sun), disc_(scene.sun.disc, scene.sun.half_angle, scene.sun.aureole_share) {
    const double tilt = sun_.aim_error, side = sun_.aim_direction;
    toward_ = Vector3(std::sin(tilt) * std::cos(side), std::sin(tilt) * std::sin(side), std::cos(tilt));
    std::tie(first_, second_) = across(toward_);
    Box box;
    if (over_targets) {
      for (const Target& target : scene.targets) take(box, target.shape, target.pose);
    } else {
      for (const Reflector& mirror : scene.reflectors) take(box, mirror.shape, mirror.pose);
    }
    const double depth = box.high.z() - box.low.z();
    const double margin = depth * std::tan(disc_.largest_angle()) + 1e-6;
    low_ = box.low - Vector3::Constant(margin);
    high_ = box.high + Vector3::Constant(margin);
    middle_ = (box.low.z() + box.high.z()) / 2;
  }
  double power() const { return sun_.beam * (high_.x() - low_.x()) * (high_.y() - low_.y()); }

  Ray ray(std::mt19937_64& random) const {
    std::uniform_real_distribution<double> unit(0, 1);
    const double sine = disc_.sin_angle(unit(random));
    const double around = 2 * std::numbers::pi * unit(random);
    const Vector3 toward = sine * (std::cos(around) * first_ + std::sin(around) * second_) + std::sqrt(1 - sine * sine) * toward_;
    const double x = low_.x() + (high_.x() - low_.x()) * unit(random);
    const double y = low_.y() + (high_.y() - low_.y()) * unit(random);
    const Vector3 place = x * first_ + y * second_ + middle_ * toward_;
    return {place + start_distance * toward, -toward};
  }

 private:
  // The box is kept in the sun's axes: x, y on the rectangle, z toward the sun.
  template <class Shape>
  void take(Box& box, const Shape& shape, const Pose& pose) const {
    const auto [low, high] = std::visit(OwnBox{}, shape);
    for (int corner = 0; corner < 8; ++corner) {
      const Vector3 own((corner & 1) ? low.x() : high.x(), (corner & 2) ? low.y() : high.y(), (corner & 4) ? low.z() : high.z());
      const Vector3 p = pose.turn * own + pose.at;
      box.take(Vector3(p.dot(first_), p.dot(second_), p.dot(toward_)));
    }
  }
  Sun sun_;
  DiscSampler disc_;
  Vector3 toward_, first_, second_, low_, high_;
  double middle_ = 0;
};

// The first thing that a lamp's ray meets; targets that do not shade let through what is on its way to a mirror.
std::optional<Hit> first_from_lamp(const Scene& scene, const Ray& ray) {
  const std::optional<Hit> hit = first_hit(scene, ray, 0, true);
  if (hit && (hit->side == Side::mirror || hit->side == Side::mirror_back)) return hit;
  return first_hit(scene, ray, 0, false);
}

// ---- Book-keeping ----

struct PlaneCrossing {
  double x, y, power;
};

struct TargetSums {
  double power = 0, direct = 0;
  std::vector<Landing> landings;
  std::vector<PlaneCrossing> crossings;
};

struct BatchSums {
  double aperture = 0, caught = 0, first_reflected = 0, lost = 0;
  std::map<std::string, double> ledger;
  std::vector<TargetSums> targets;
};

bool is_flat(const Target& target) {
  return std::holds_alternative<DiskTarget>(target.shape) || std::holds_alternative<RectangleTarget>(target.shape);
}

class Walker {
 public:
  Walker(const Scene& scene, std::mt19937_64& random, BatchSums& sums) : scene_(scene), random_(random), sums_(sums) {}

  void sunlight(const Ray& ray, double power) {
    const std::optional<Hit> hit = first_hit(scene_, ray, 0, true);
    if (!hit) return;
    if (hit->side == Side::mirror || hit->side == Side::mirror_back) {
      sums_.aperture += power;
      bounce(ray, *hit, power);
    } else if (first_mirror(scene_, ray, 0)) {
      sums_.aperture += power;
      sums_.ledger["shaded by " + hit->name] += power;
    }
  }

  void lamplight(const Ray& ray, double power) {
    sums_.aperture += power;
    const std::optional<Hit> hit = first_from_lamp(scene_, ray);
    if (!hit) {
      sums_.ledger["missed the mirrors"] += power;
    } else if (hit->side == Side::mirror || hit->side == Side::mirror_back) {
      if (hit->side == Side::mirror) sums_.caught += power;
      bounce(ray, *hit, power);
    } else if (hit->side != Side::counted) {
      land(*hit, power);
    } else {
      sums_.ledger["straight to " + hit->name] += power;
      for (std::size_t i = 0; i < scene_.targets.size(); ++i)
        if (scene_.targets[i].name == hit->name) sums_.targets[i].direct += power;
    }
  }

  // Straight light on a counted face that nothing hides; a target that does not shade hides nothing.
  void count_direct(const Ray& ray, double power) {
    for (std::size_t i = 0; i < scene_.targets.size(); ++i) {
      const Target& target = scene_.targets[i];
      std::optional<Hit> own;
      keep_nearest(own, meetings(target.shape, target.pose, target.name, ray), 0);
      if (!own || own->side != Side::counted) continue;
      const std::optional<Hit> other = first_hit(scene_, ray, 0, true);
      if (!other || other->distance >= own->distance) sums_.targets[i].direct += power;
    }
  }

 private:
  void bounce(Ray ray, Hit hit, double power) {
    std::vector<bool> crossed(scene_.targets.size(), false);
    for (int bounces = 0; bounces < most_bounces; ++bounces) {
      if (hit.side == Side::mirror_back) {
        sums_.ledger["back of " + hit.name] += power;
        return;
      }
      const Reflector& mirror = mirror_named(scene_, hit.name);
      sums_.ledger["absorbed by " + hit.name] += power * (1 - mirror.reflectance);
      power *= mirror.reflectance;
      if (bounces == 0) sums_.first_reflected += power;
      ray = {hit.point, leaving(ray.along, hit.normal, mirror)};
      const std::optional<Hit> next = first_hit(scene_, ray, least_step, false);
      note_crossings(ray, next ? next->distance : 1e300, power, crossed);
      if (!next) {
        sums_.ledger["missed"] += power;
        return;
      }
      hit = *next;
      if (hit.side != Side::mirror && hit.side != Side::mirror_back) return land(hit, power);
    }
    sums_.lost += power;
  }

  Vector3 leaving(const Vector3& along, const Vector3& normal, const Reflector& mirror) {
    std::normal_distribution<double> gauss(0, 1);
    // A draw that would send the light into the mirror is drawn again (matters at grazing incidence only).
    for (;;) {
      const auto [t1, t2] = across(normal);
      const double s1 = mirror.slope_error * gauss(random_), s2 = mirror.slope_error * gauss(random_);
      const Vector3 tilted = (normal + s1 * t1 + s2 * t2).normalized();
      const Vector3 straight = reflect(along, tilted);
      const auto [u1, u2] = across(straight);
      const double a1 = mirror.specular_spread * gauss(random_), a2 = mirror.specular_spread * gauss(random_);
      const Vector3 out = (straight + a1 * u1 + a2 * u2).normalized();
      if (tilted.dot(along) < 0 && out.dot(normal) > 0) return out;
    }
  }

  void land(const Hit& hit, double power) {
    if (hit.side == Side::back || hit.side == Side::lid) {
      sums_.ledger[(hit.side == Side::lid ? "lid of " : "back of ") + hit.name] += power;
      return;
    }
    sums_.ledger[hit.name] += power;
    for (std::size_t i = 0; i < scene_.targets.size(); ++i) {
      if (scene_.targets[i].name != hit.name) continue;
      sums_.targets[i].power += power;
      sums_.targets[i].landings.push_back({hit.own_point, power});
    }
  }

  // First crossing of each flat target's unbounded plane from the front, on a leg that ends at `reach`.
  void note_crossings(const Ray& ray, double reach, double power, std::vector<bool>& crossed) {
    for (std::size_t i = 0; i < scene_.targets.size(); ++i) {
      const Target& target = scene_.targets[i];
      if (crossed[i] || !is_flat(target)) continue;
      const Vector3 from = target.pose.turn.transpose() * (ray.from - target.pose.at);
      const Vector3 along = target.pose.turn.transpose() * ray.along;
      if (along.z() <= 0 || from.z() > 0) continue;
      const double distance = -from.z() / along.z();
      if (distance > reach + least_step) continue;
      crossed[i] = true;
      sums_.targets[i].crossings.push_back({from.x() + distance * along.x(), from.y() + distance * along.y(), power});
    }
  }

  const Scene& scene_;
  std::mt19937_64& random_;
  BatchSums& sums_;
};

// ---- From sums to figures ----

template <class Value>
Estimate sum_over(const std::vector<BatchSums>& all, const char* unit, Value value) {
  double sum = 0, squares = 0;
  for (const BatchSums& one : all) sum += value(one);
  for (const BatchSums& one : all) squares += std::pow(value(one) - sum / batches, 2);
  return {sum, std::sqrt(squares * batches / (batches - 1.0)), unit};
}

// Value from all batches; standard error from the spread of the batches' own values.
template <class Value>
Estimate statistic(const char* unit, Value value) {
  std::vector<double> each;
  double mean = 0, squares = 0;
  for (int b = 0; b < batches; ++b) each.push_back(value(b, b + 1));
  for (const double one : each) mean += one / batches;
  for (const double one : each) squares += (one - mean) * (one - mean);
  return {value(0, batches), std::sqrt(squares / (batches - 1.0) / batches), unit};
}

// Full width about the centroid that holds a share of the power: circle (disk) or band along x (rectangle).
double width_holding(double share, std::vector<PlaneCrossing> light, bool circle) {
  double x = 0, y = 0, power = 0;
  for (const PlaneCrossing& one : light) {
    x += one.x * one.power;
    y += one.y * one.power;
    power += one.power;
  }
  x /= power;
  y /= power;
  std::vector<std::pair<double, double>> by_reach;
  for (const PlaneCrossing& one : light)
    by_reach.emplace_back(circle ? std::hypot(one.x - x, one.y - y) : std::abs(one.x - x), one.power);
  std::sort(by_reach.begin(), by_reach.end());
  double held = 0;
  for (const auto& [reach, part] : by_reach) {
    held += part;
    if (held >= share * power) return 2 * reach;
  }
  return 0;
}

void flat_figures(const std::vector<BatchSums>& all, std::size_t i, bool circle, TargetResult& result) {
  const auto crossings = [&](int from, int to) {
    std::vector<PlaneCrossing> light;
    for (int b = from; b < to; ++b) {
      const auto& part = all[static_cast<std::size_t>(b)].targets[i].crossings;
      light.insert(light.end(), part.begin(), part.end());
    }
    return light;
  };
  result.spot_width_50 = statistic("m", [&](int from, int to) { return width_holding(0.5, crossings(from, to), circle); });
  result.spot_width_90 = statistic("m", [&](int from, int to) { return width_holding(0.9, crossings(from, to), circle); });
  const auto mean_of = [&](int from, int to, auto value) {
    double sum = 0, power = 0;
    for (int b = from; b < to; ++b) {
      for (const Landing& one : result.landings[static_cast<std::size_t>(b)]) {
        sum += one.power * value(one.own);
        power += one.power;
      }
    }
    return sum / power;
  };
  const auto x = [](const Vector3& p) { return p.x(); };
  const auto y = [](const Vector3& p) { return p.y(); };
  result.centroid = {statistic("m", [&](int a, int b) { return mean_of(a, b, x); }),
                     statistic("m", [&](int a, int b) { return mean_of(a, b, y); })};
  result.spot_rms_radius = statistic("m", [&](int a, int b) {
    const double cx = mean_of(a, b, x), cy = mean_of(a, b, y);
    return std::sqrt(mean_of(a, b, [&](const Vector3& p) { return std::pow(p.x() - cx, 2) + std::pow(p.y() - cy, 2); }));
  });
}

TargetResult target_figures(const Scene& scene, std::vector<BatchSums>& all, std::size_t i) {
  TargetResult result;
  result.name = scene.targets[i].name;
  result.power = sum_over(all, "W", [&](const BatchSums& one) { return one.targets[i].power; });
  result.direct_power = sum_over(all, "W", [&](const BatchSums& one) { return one.targets[i].direct; });
  bool light_in_each = true;
  for (BatchSums& one : all) {
    light_in_each = light_in_each && !one.targets[i].landings.empty();
    result.landings.push_back(std::move(one.targets[i].landings));
  }
  if (!light_in_each) return result;
  result.intercept = statistic("1", [&](int from, int to) {
    double landed = 0, reflected = 0;
    for (int b = from; b < to; ++b) {
      landed += all[static_cast<std::size_t>(b)].targets[i].power;
      reflected += all[static_cast<std::size_t>(b)].first_reflected;
    }
    return landed / reflected;
  });
  if (is_flat(scene.targets[i])) flat_figures(all, i, std::holds_alternative<DiskTarget>(scene.targets[i].shape), result);
  return result;
}

}  // namespace

std::optional<Hit> first_hit(const Scene& scene, const Ray& ray, double least, bool shading_targets_only) {
  std::optional<Hit> nearest = first_mirror(scene, ray, least);
  for (const Target& target : scene.targets) {
    if (target.shades || !shading_targets_only)
      keep_nearest(nearest, meetings(target.shape, target.pose, target.name, ray), least);
  }
  return nearest;
}

namespace {

void shine(const Scene& scene, std::uint64_t each, std::mt19937_64& random, std::vector<BatchSums>& all) {
  const LampRays lamp(*scene.lamp);
  const double power = scene.lamp->power / static_cast<double>(each * batches);
  for (BatchSums& sums : all) {
    Walker walker(scene, random, sums);
    for (std::uint64_t i = 0; i < each; ++i) walker.lamplight(lamp.ray(random), power);
  }
}

void flood(const Scene& scene, std::uint64_t each, std::mt19937_64& random, std::vector<BatchSums>& all) {
  const Flood over_mirrors(scene, false), over_targets(scene, true);
  const std::uint64_t each_direct = each / 4 + 1;
  const double power = over_mirrors.power() / static_cast<double>(each * batches);
  const double direct = over_targets.power() / static_cast<double>(each_direct * batches);
  for (BatchSums& sums : all) {
    Walker walker(scene, random, sums);
    for (std::uint64_t i = 0; i < each; ++i) walker.sunlight(over_mirrors.ray(random), power);
    for (std::uint64_t i = 0; i < each_direct; ++i) walker.count_direct(over_targets.ray(random), direct);
  }
}

}  // namespace

Result trace(const Scene& scene, std::uint64_t paths, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const std::uint64_t each = std::max<std::uint64_t>(1, paths / batches);
  std::vector<BatchSums> all(batches);
  for (BatchSums& sums : all) sums.targets.resize(scene.targets.size());
  if (scene.lamp) {
    shine(scene, each, random, all);
  } else {
    flood(scene, each, random, all);
  }
  Result result;
  if (scene.lamp) {
    const double power = scene.lamp->power;
    result.caught_share = sum_over(all, "1", [power](const BatchSums& one) { return one.caught / power; });
  }
  result.aperture_power = sum_over(all, "W", [](const BatchSums& one) { return one.aperture; });
  std::map<std::string, bool> names;
  for (const BatchSums& one : all) {
    for (const auto& [name, unused] : one.ledger) names[name] = true;
    result.lost += one.lost;
  }
  for (const auto& [name, unused] : names) {
    result.ledger[name] = sum_over(all, "W", [&](const BatchSums& one) {
      const auto found = one.ledger.find(name);
      return found == one.ledger.end() ? 0.0 : found->second;
    });
  }
  for (std::size_t i = 0; i < scene.targets.size(); ++i) result.targets.push_back(target_figures(scene, all, i));
  return result;
}

Estimate irradiance(const TargetResult& target, double x, double y, double diameter) {
  const double area = std::numbers::pi / 4 * diameter * diameter;
  double sum = 0, squares = 0;
  std::vector<double> each;
  for (const auto& batch : target.landings) {
    double power = 0;
    for (const Landing& one : batch) power += std::hypot(one.own.x() - x, one.own.y() - y) <= diameter / 2 ? one.power : 0;
    each.push_back(power / area);
    sum += power / area;
  }
  for (const double one : each) squares += std::pow(one - sum / batches, 2);
  return {sum, std::sqrt(squares * batches / (batches - 1.0)), "W/m2"};
}

std::vector<Followed> walk_given_start(const Scene& scene, const PathHistory& story) {
  std::vector<Followed> walked;
  const Step& start = story.steps.front();
  if (start.kind != StepKind::from_sun && start.kind != StepKind::from_lamp) return walked;
  Ray ray{start.point, start.direction};
  if (!scene.lamp) ray.from -= start_distance * start.direction;
  std::optional<Hit> hit = scene.lamp ? first_from_lamp(scene, ray) : first_hit(scene, ray, 0, true);
  for (std::size_t i = 1; i < story.steps.size(); ++i) {
    if (!hit) {
      walked.push_back({StepKind::missed, "", "", Vector3::Zero(), Vector3::Zero(), Vector3::Zero(), Vector3::Zero()});
      return walked;
    }
    Followed step{StepKind::target, hit->name, hit->face, hit->point, hit->own_point, hit->normal, Vector3::Zero()};
    const bool is_mirror = hit->side == Side::mirror || hit->side == Side::mirror_back;
    if (i == 1 && !is_mirror && !scene.lamp)
      step.kind = StepKind::shaded;
    else if (hit->side == Side::mirror)
      step.kind = StepKind::reflected;
    else if (hit->side == Side::mirror_back || hit->side == Side::back)
      step.kind = StepKind::back;
    else if (hit->side == Side::lid)
      step.kind = StepKind::lid;
    if (step.kind != StepKind::reflected) {
      walked.push_back(step);
      return walked;
    }
    step.direction = reflect(ray.along, story.steps[i].tilted_normal);
    walked.push_back(step);
    const bool spreads = mirror_named(scene, hit->name).specular_spread > 0;
    ray = {hit->point, spreads ? story.steps[i].direction : step.direction};
    hit = first_hit(scene, ray, least_step, false);
  }
  return walked;
}

}  // namespace dishwright::reference
