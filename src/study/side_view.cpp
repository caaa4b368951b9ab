// SPDX-License-Identifier: MIT
#include "study/side_view.h"

#include <algorithm>
#include <cmath>

#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

constexpr int steps = 480;          // across the mirrors
constexpr int shown = 9;            // rays in the picture
constexpr double rim_share = 0.98;  // of the half width: where the rim's rays meet
constexpr double break_step = 3;    // steps without mirror that part two lines
constexpr double lean_that_counts = 1e-9;

class Cut {
 public:
  explicit Cut(const Scene& scene) : scene_(scene), geometry_(scene), bare_(aimed_true_and_bare(scene)), mirrors_(bare_) {
    const Reflector& first = scene.reflectors.front();
    view_.origin = first.pose.at, view_.up = first.pose.turn.col(2);
    view_.across = direction();
    find_span();
  }

  SideView make() {
    add_profile();
    add_targets();
    add_sizes();
    if (surface_.empty()) return std::move(view_);
    add_rays();
    add_named();
    return std::move(view_);
  }

 private:
  static Scene aimed_true_and_bare(Scene scene) {
    scene.targets.clear(), scene.sun.aim_error = 0;
    return scene;
  }

  /// Toward the side that the sun leans to; across a trough; else own x.
  Vector3 direction() const {
    const Reflector& first = scene_.reflectors.front();
    const Vector3 x = first.pose.turn.col(0), sun = scene_.sun.direction();
    const Vector3 lean = sun - sun.dot(view_.up) * view_.up;
    const PlanOutline plan = plan_of(first.shape);
    const bool trough = !plan.round, aside = plan.round && std::abs(plan.y_middle) > std::abs(plan.x_middle);
    if (lean.norm() < lean_that_counts) return aside ? Vector3(first.pose.turn.col(1)) : x;
    if (trough) return lean.dot(x) >= 0 ? x : Vector3(-x);
    return lean.normalized();
  }

  /// How far the mirrors reach in the cut.
  void find_span() {
    low_ = 1e300, high_ = -1e300;
    for (const Reflector& mirror : scene_.reflectors) {
      const PlanOutline plan = plan_of(mirror.shape);
      const auto reach = [&](const Vector3& place) {
        const double at = (mirror.pose.turn * place + mirror.pose.at - view_.origin).dot(view_.across);
        low_ = std::min(low_, at), high_ = std::max(high_, at);
      };
      if (plan.round) {
        const Vector3 own = mirror.pose.turn.transpose() * view_.across;
        const double length = std::hypot(own.x(), own.y());
        const Vector3 way = length > 0 ? Vector3(own.x() / length, own.y() / length, 0) : Vector3::UnitX();
        const Vector3 middle(plan.x_middle, plan.y_middle, 0);
        reach(middle + plan.outer * way), reach(middle - plan.outer * way);
      } else {
        for (const double x : {plan.x_from, plan.x_to}) {
          for (const double y : {plan.y_from, plan.y_to}) reach({x, y, 0});
        }
      }
    }
    const PlanOutline plan = plan_of(scene_.reflectors.front().shape);
    // An offset mirror's cut goes through the middle of its outline.
    shift_ = scene_.reflectors.front().pose.turn * Vector3(plan.x_middle, plan.y_middle, 0);
    shift_ -= shift_.dot(view_.across) * view_.across;
  }

  std::vector<double> even_places() const {
    std::vector<double> places;
    for (int k = 0; k <= steps; ++k) places.push_back(low_ + (high_ - low_) * (k + 0.5) / (steps + 1));
    return places;
  }

  /// The sun's rays through the places of the mirrors that lie nearest to those.
  std::vector<SightRay> rays_at(const std::vector<double>& places) const {
    std::vector<Vector3> through;
    for (const double place : places) {
      const auto off = [&](const Vector3& at) { return std::abs(in_cut(at).across - place); };
      through.push_back(*std::min_element(surface_.begin(), surface_.end(),
                                          [&](const Vector3& a, const Vector3& b) { return off(a) < off(b); }));
    }
    return sight_rays(scene_, geometry_, through);
  }

  CutPoint in_cut(const Vector3& place) const {
    const Vector3 from = place - view_.origin;
    return {from.dot(view_.across), from.dot(view_.up)};
  }

  /// Places of the mirrors, looked for along the axis: also behind the target's shadow.
  void add_profile() {
    std::vector<Vector3> through;
    for (const double place : even_places()) through.push_back(view_.origin + shift_ + place * view_.across);
    const double gap = break_step * (high_ - low_) / steps;
    int last_mirror = -1;
    unsigned last_element = 0;
    for (const SightRay& ray : sight_rays(bare_, mirrors_, through)) {
      if (ray.met < 0) continue;
      const CutPoint at = in_cut(ray.way[1]);
      surface_.push_back(ray.way[1]);
      const bool goes_on =
          !view_.profile.empty() && last_mirror == ray.met && std::abs(at.across - last_.across) < gap &&
          (last_element == ray.element[0] || !in_flat_pieces(scene_.reflectors[static_cast<std::size_t>(last_mirror)].shape));
      if (!goes_on) view_.profile.emplace_back();
      view_.profile.back().push_back(at);
      last_ = at, last_mirror = ray.met, last_element = ray.element[0];
    }
  }

  /// The outline of each target as seen along the cut: the hull of places on its faces.
  void add_targets() {
    for (const Target& target : scene_.targets) {
      std::vector<CutPoint> places;
      const Vector3 aside = view_.across.cross(view_.up);
      double before = 1e300, behind = -1e300;
      const auto take = [&](const Vector3& place) {
        places.push_back(in_cut(place));
        const double depth = (place - view_.origin - shift_).dot(aside);
        before = std::min(before, depth), behind = std::max(behind, depth);
      };
      const TargetBody body = body_of(target.shape);
      constexpr int even = 24;
      for (const TargetFace& face : body.faces()) {
        for (int i = 0; i <= even; ++i) {
          for (int j = 0; j <= even; ++j) {
            const Vector3 own = face.point(std::min(i / double{even}, 1 - 1e-9), std::min(j / double{even}, 1 - 1e-9)).place;
            take(target.pose.turn * own + target.pose.at);
          }
        }
      }
      if (body.is_point()) take(target.pose.at);
      constexpr double rounding = 1e-9;
      view_.cut_targets.push_back(before <= rounding && behind >= -rounding ? 1 : 0);
      view_.targets.push_back(hull(std::move(places)));
    }
  }

  /// Andrew's monotone chain.
  static std::vector<CutPoint> hull(std::vector<CutPoint> places) {
    std::sort(places.begin(), places.end(),
              [](const CutPoint& a, const CutPoint& b) { return a.across < b.across || (a.across == b.across && a.up < b.up); });
    const auto left = [](const CutPoint& a, const CutPoint& b, const CutPoint& c) {
      return (b.across - a.across) * (c.up - a.up) - (b.up - a.up) * (c.across - a.across) > 0;
    };
    std::vector<CutPoint> out;
    for (int half = 0; half < 2; ++half) {
      const std::size_t start = out.size();
      for (const CutPoint& place : places) {
        while (out.size() >= start + 2 && !left(out[out.size() - 2], out.back(), place)) out.pop_back();
        out.push_back(place);
      }
      if (places.size() > 1) out.pop_back();
      std::reverse(places.begin(), places.end());
    }
    return out;
  }

  void add_sizes() {
    const Reflector& first = scene_.reflectors.front();
    const HeightRange range = std::visit([](const auto& shape) { return shape.height_range(); }, first.shape);
    view_.depth = range.high - range.low;
    view_.width = rim_width(first.shape);
    const PlanOutline plan = plan_of(first.shape);
    view_.offset = plan.round && std::hypot(plan.x_middle, plan.y_middle) > 1e-9;
    if (const auto focus = own_focus(first.shape); focus && focus->z() > 0) view_.focal_length = focus->z();
    if (const auto* petals = std::get_if<Petals>(&first.shape)) view_.petals = petals->count;
    view_.directrix =
        view_.focal_length && (std::holds_alternative<Paraboloid>(first.shape) || std::holds_alternative<Trough>(first.shape) ||
                               std::holds_alternative<OffsetParaboloid>(first.shape));
    if (!scene_.targets.empty()) {
      const Vector3 sun = scene_.targets.front().pose.turn.transpose() * scene_.sun.direction();
      const double length = std::hypot(sun.x(), sun.y());
      if (length > lean_that_counts) view_.sun_side = {sun.x() / length, sun.y() / length};
    }
    view_.sun = std::atan2(scene_.sun.direction().dot(view_.across), scene_.sun.direction().dot(view_.up));
  }

  CutRay cut_ray(const SightRay& ray) const {
    CutRay out;
    for (const Vector3& place : ray.way) out.way.push_back(in_cut(place));
    if (ray.reflected()) out.across = out.way[1].across;
    out.toward = {ray.direction.dot(view_.across), ray.direction.dot(view_.up)};
    out.end = ray.end, out.target = ray.target, out.landed = ray.landed;
    if (ray.target >= 0) {
      const Target& target = scene_.targets[static_cast<std::size_t>(ray.target)];
      out.face = body_of(target.shape).faces()[static_cast<std::size_t>(ray.face)].name;
    }
    out.on_plane = crossing(ray);
    return out;
  }

  /// Where the last flight crosses the plane of the first target's plate, or of a pot's base.
  std::optional<CutPoint> crossing(const SightRay& ray) const {
    if (!ray.reflected() || scene_.targets.empty()) return std::nullopt;
    const Target& target = scene_.targets.front();
    const TargetBody body = body_of(target.shape);
    if (!body.is_plate() && !std::holds_alternative<PotTarget>(target.shape)) return std::nullopt;
    const bool ended = ray.end != SightEnd::missed;
    const Vector3 from = ended ? ray.way[ray.way.size() - 2] : ray.way.back();
    const Vector3 own = target.pose.turn.transpose() * (from - target.pose.at),
                  way = target.pose.turn.transpose() * ray.direction;
    const double distance = -own.z() / way.z();
    if (!(way.z() > 0) || !(distance > 0) || !std::isfinite(distance)) return std::nullopt;
    const Vector3 met = own + distance * way;
    return CutPoint{met.x(), met.y()};
  }

  /// Evenly spread over what is reflected or shaded.
  void add_rays() {
    std::vector<double> places;
    for (int k = 0; k < shown; ++k) {
      const double share = rim_share * (2.0 * k / (shown - 1) - 1);
      places.push_back((low_ + high_) / 2 + share * (high_ - low_) / 2);
    }
    for (const SightRay& ray : rays_at(places)) {
      if (ray.met >= 0 || ray.end == SightEnd::shaded) view_.rays.push_back(cut_ray(ray));
    }
  }

  /// The middle ray is the one nearest to the middle that no target shades.
  void add_named() {
    if (scene_.reflectors.size() > 1) return;
    const double centre = (low_ + high_) / 2, half = (high_ - low_) / 2;
    const std::vector<SightRay> rims = rays_at({centre + rim_share * half, centre - rim_share * half});
    const SightRay* middle = nullptr;
    const std::vector<SightRay> inner = rays_at(middle_places(centre, half));
    for (const SightRay& ray : inner) {
      if (middle == nullptr && ray.reflected()) middle = &ray;
    }
    if (middle == nullptr || !rims[0].reflected() || !rims[1].reflected()) return;
    view_.named = NamedRays{named(*middle), named(rims[0]), named(rims[1])};
  }

  /// With where the light of a true aim goes from the same place of the mirror, in no target's shadow.
  CutRay named(const SightRay& ray) const {
    CutRay out = cut_ray(ray);
    out.aimed_true = crossing(sight_rays(bare_, mirrors_, {ray.way[1]}).front());
    return out;
  }

  /// From the middle outward, on either side in turn.
  static std::vector<double> middle_places(double centre, double half) {
    std::vector<double> places{centre};
    constexpr int tries = 160;
    for (int k = 1; k <= tries; ++k) {
      for (const int side : {-1, 1}) places.push_back(centre + side * half * k / (2.0 * tries));
    }
    return places;
  }

  const Scene& scene_;
  SceneGeometry geometry_;
  Scene bare_;  // without targets, aimed true
  SceneGeometry mirrors_;
  SideView view_;
  double low_ = 0, high_ = 0;  // of the mirrors, across [m]
  Vector3 shift_ = Vector3::Zero();
  std::vector<Vector3> surface_;  // places of the mirrors in the cut, in the frame
  CutPoint last_;
};

}  // namespace

SideView side_view(const Scene& scene) {
  if (scene.is_wave() || scene.lamp) throw InputError("a side view is drawn of sunlight", "", "give the file a [sun]");
  return Cut(scene).make();
}

}  // namespace dishwright
