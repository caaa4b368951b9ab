// SPDX-License-Identifier: MIT
#include "blur/quadrature.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/error.h"
#include "blur/outline.h"
#include "blur/solution.h"
#include "blur/straight.h"

namespace dishwright {

namespace {

constexpr double coarser = 0.7, finer = 1.4;                       // between one order and the next
constexpr double most_work = 3e8;                                  // cells of the map under all images together; about a second
constexpr double most_refined = 12000, most_band_refined = 80000;  // images on a disk, on a band
constexpr double soft_edge = 1e-4;  // of the shaded power: the half-shade is second order in half angle × distance / width

/// Figures from the finer order, their errors from the step between the orders.
class Assembly {
 public:
  Assembly(const Scene& scene, const std::vector<Outline>& outlines, const Solution& coarse, const Solution& fine,
           double blur_error)
      : scene_(scene), outlines_(outlines), coarse_(coarse), fine_(fine), blur_error_(blur_error), target_(scene.targets[0]) {
    for (std::size_t k = 0; k < outlines.size(); ++k)
      aperture_ += scene_.sun.beam * outlines[k].silhouette(scene_.reflectors[k].pose.turn.transpose() * scene_.sun.direction());
    soft_error_ = half_shade_error();
  }

  TraceFigures figures(bool map) const {
    TraceFigures out;
    out.seed = scene_.trace.seed;
    out.paths = fine_.samples;
    out.replicates = 0;
    out.method = "quadrature";
    out.beam = scene_.sun.beam;
    out.aperture_power = {aperture_, std::nullopt, "W"};
    out.targets.push_back(target(map));
    add_ledger(out);
    return out;
  }

 private:
  Estimate estimate(const std::string& unit, const std::function<double(const Solution&)>& figure) const {
    const double value = figure(fine_);
    return {value, std::hypot(value - figure(coarse_), blur_error_ * value), unit};
  }
  Estimate length(const std::function<double(const Solution&)>& figure) const {
    return with_share(estimate("m", figure), soft_error_);
  }
  static Estimate with_share(Estimate value, double share) {
    value.std_error = std::hypot(*value.std_error, share * value.value);
    return value;
  }
  bool shaded() const { return target_.shades && std::abs(aperture_ - fine_.all_lit()) > 1e-6 * aperture_; }

  /// What the missing half-shade at the shadow's edge may do to sizes and peaks, relative: the half-shade's share of the light times the
  /// square of the sun's half width in spot widths. By trial: a trough with a wide target has 0.8 of that.
  double half_shade_error() const {
    if (!shaded() || fine_.size <= 0) return 0;
    double distance = 0, power = 0;
    for (const Image& image : fine_.images) distance += image.power * image.distance, power += image.power;
    const double sun = scene_.sun.half_angle * distance / power;
    return std::min(1.0, shadow_edge() * 2 * sun * scene_.sun.beam / aperture_) * std::min(1.0, std::pow(sun / fine_.size, 2));
  }

  /// Length of the shadow's edge, or a little more [m].
  double shadow_edge() const {
    const double width = std::visit([](const auto& s) { return s.width; }, target_.shape);
    if (const auto* pot = std::get_if<PotTarget>(&target_.shape)) return std::numbers::pi * width + 2 * pot->height;
    double length = -1;
    if (const auto* rectangle = std::get_if<RectangleTarget>(&target_.shape)) length = rectangle->length;
    if (const auto* tube = std::get_if<TubeTarget>(&target_.shape)) length = tube->length;
    return length >= 0 ? 2 * (width + length) : std::numbers::pi * width;
  }

  TargetFigures target(bool map) const {
    TargetFigures out;
    out.name = target_.name;
    out.shape = shape_word(target_.shape);
    out.area = counted_area(target_.shape);
    // Where all light is caught, its place does not matter.
    const double caught = fine_.leaving > 0 ? fine_.power / fine_.leaving : 0;
    const double soft = soft_error_ * (1 - caught);
    out.power = with_share(estimate("W", [](const Solution& s) { return s.power; }), soft);
    out.direct_power = straight_power(scene_, outlines_);
    if (fine_.leaving > 0 && coarse_.leaving > 0)
      out.intercept = with_share(estimate("1", [](const Solution& s) { return s.power / s.leaving; }), soft);
    out.mean_irradiance = with_share(estimate("W/m2", [&](const Solution& s) { return s.power / out.area; }), soft);
    if (fine_.peak && coarse_.peak) {
      const auto with_search = [this](const Estimate& peak) {
        return with_share(peak, std::hypot(fine_.peak->error, soft_error_));
      };
      out.peak_irradiance = with_search(estimate("W/m2", [](const Solution& s) { return s.peak->irradiance; }));
      out.peak_concentration =
          with_search(estimate("1", [&](const Solution& s) { return s.peak->irradiance / scene_.sun.beam; }));
    }
    if (fine_.widths.half && coarse_.widths.half) {
      out.plane_centroid = fine_.widths.centre;
      out.spot_width_50 = length([](const Solution& s) { return *s.widths.half; });
    }
    if (fine_.widths.most && coarse_.widths.most) out.spot_width_90 = length([](const Solution& s) { return *s.widths.most; });
    if (fine_.faces.size() == 1 && fine_.faces[0].flat && fine_.power > 0 && coarse_.power > 0) {
      out.spot_rms_radius = length([](const Solution& s) { return s.light[0].rms_radius; });
      const auto centre = [&](std::size_t axis) {
        Estimate place = length([axis](const Solution& s) { return s.light[0].centroid[axis]; });
        place.std_error = std::hypot(place.value - coarse_.light[0].centroid[axis],
                                     std::hypot(blur_error_, soft_error_) * fine_.light[0].rms_radius);
        return place;
      };
      out.centroid = {centre(0), centre(1)};
    }
    for (std::size_t f = 0; map && f < fine_.faces.size(); ++f) {
      out.map.push_back(fine_.faces[f].layout);
      out.map.back().irradiance = fine_.light[f].irradiance;
    }
    return out;
  }

  void add_ledger(TraceFigures& out) const {
    const double aperture = aperture_;
    const auto lit = [](const Solution& s) { return s.all_lit(); };
    double rest = aperture;
    const auto add = [&](const std::string& where, const Estimate& power) {
      out.ledger.push_back({where, power});
      rest -= power.value;
    };
    add(target_.name, out.targets[0].power);
    if (shaded())
      add("shaded by " + target_.name, error_of(estimate("W", [&](const Solution& s) { return aperture - lit(s); }), lit));
    for (std::size_t k = 0; k < scene_.reflectors.size(); ++k) {
      const double share = 1 - scene_.reflectors[k].reflectance;
      const Estimate absorbed = estimate("W", [&](const Solution& s) { return share * s.lit[k]; });
      if (absorbed.value > 0) add("absorbed by " + scene_.reflectors[k].name, absorbed);
    }
    if (fine_.back > 0) add("back of " + target_.name, estimate("W", [](const Solution& s) { return s.back; }));
    if (fine_.lid > 0) add("lid of " + target_.name, estimate("W", [](const Solution& s) { return s.lid; }));
    // The rest, so that all adds up.
    out.ledger.push_back({"missed", {std::max(0.0, rest), out.targets[0].power.std_error, "W"}});
  }

  /// The error of what is left of the aperture is the lit part's.
  Estimate error_of(Estimate value, const std::function<double(const Solution&)>& of) const {
    value.std_error = std::abs(of(fine_) - of(coarse_)) + soft_edge * value.value;
    return value;
  }

  const Scene& scene_;
  const std::vector<Outline>& outlines_;
  const Solution &coarse_, &fine_;
  double blur_error_;
  double aperture_ = 0;    ///< [W]
  double soft_error_ = 0;  ///< relative
  const Target& target_;
};

}  // namespace

std::optional<WhyNot> why_no_quadrature(const Scene& scene, bool quick) {
  const auto setting = make_setting(scene, quick);
  if (const WhyNot* no = std::get_if<WhyNot>(&setting)) return *no;
  return std::nullopt;
}

TraceFigures quadrature_figures(const Scene& scene, const QuadratureOptions& options) {
  const auto made = make_setting(scene);
  if (const WhyNot* no = std::get_if<WhyNot>(&made)) throw InputError(quadrature_refused, no->why, no->fix);
  const Setting& setting = std::get<Setting>(made);
  Solver solver(scene, setting, options);
  double order = coarser;
  Solution coarse = solver.solve(order, true);
  order = 1;
  Solution fine = solver.solve(order, false);
  const double most_images = setting.receiver.band() ? most_band_refined : most_refined;
  const auto may_grow = [&] {
    return fine.work * finer * finer < most_work && static_cast<double>(fine.images.size()) * finer * finer < most_images;
  };
  while (map_change(coarse, fine) > options.tolerance && may_grow()) {
    order *= finer;
    coarse = std::move(fine);
    fine = solver.solve(order, false);
  }
  Solver::find_peak(coarse, fine);
  return Assembly(scene, setting.outlines, coarse, fine, solver.blur_error()).figures(options.map);
}

}  // namespace dishwright
