// SPDX-License-Identifier: MIT
#include "quadrature/quadrature.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

#include "base/error.h"
#include "quadrature/direct_light.h"
#include "quadrature/half_shade.h"
#include "quadrature/outline.h"
#include "quadrature/solution.h"

namespace dishwright {

namespace {

constexpr double soft_edge = 1e-4;  // of the shaded power: the half-shade is second order in half angle × distance / width
constexpr double small_half_shade = 1e-4;  // relative; what is rougher is looked at closely
constexpr double faint = 1e-6;  // of the light that leaves the mirrors: where nearly none arrives, the blur's far tails

/// Figures from the finer order, their errors from the step between the orders.
class Assembly {
 public:
  Assembly(const Scene& scene, const Setting& setting, const Solution& coarse, const Solution& fine, double blur_error,
           Effort& effort)
      : scene_(scene),
        outlines_(setting.outlines),
        coarse_(coarse),
        fine_(fine),
        blur_error_(blur_error),
        target_(scene.targets[0]) {
    for (std::size_t k = 0; k < outlines_.size(); ++k)
      aperture_ += scene_.sun.beam * outlines_[k].silhouette(scene_.reflectors[k].pose.turn.transpose() * scene_.sun.direction());
    if (target_.shades) find_half_shade(setting, effort);
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
    return with_share(estimate("m", figure), soft_.size);
  }
  static Estimate with_share(Estimate value, double share) {
    value.std_error = std::hypot(*value.std_error, share * value.value);
    return value;
  }
  /// Closely only where a rough guess says that it may matter.
  void find_half_shade(const Setting& setting, Effort& effort) {
    const bool meets = shade_is_lopsided(scene_, setting);
    if (!meets && !shaded()) return;
    soft_ = rough_half_shade(scene_, setting, aperture_, fine_.size);
    if (meets || soft_.size > small_half_shade) soft_ = half_shade(scene_, setting, effort);
  }
  static Estimate with_floor(Estimate value, double leaving) {
    value.std_error = std::hypot(*value.std_error, faint * leaving);
    return value;
  }
  bool shaded() const { return target_.shades && std::abs(aperture_ - fine_.all_lit()) > 1e-6 * aperture_; }

  TargetFigures target(bool map) const {
    TargetFigures out;
    out.name = target_.name;
    out.shape = shape_word(target_.shape);
    out.area = counted_area(target_.shape);
    // Where all light is caught, its place does not matter.
    const double caught = fine_.leaving > 0 ? fine_.power / fine_.leaving : 0;
    const double moved = soft_.size * (1 - caught), soft = std::hypot(moved, soft_.lit);
    out.power = with_floor(with_share(estimate("W", [](const Solution& s) { return s.power; }), soft), fine_.leaving);
    out.direct_power = direct_light(scene_, outlines_);
    if (fine_.leaving > 0 && coarse_.leaving > 0)
      out.intercept = with_floor(with_share(estimate("1", [](const Solution& s) { return s.power / s.leaving; }), moved), 1);
    out.mean_irradiance = {out.power.value / out.area, *out.power.std_error / out.area, "W/m2"};
    if (fine_.peak && coarse_.peak) {
      const auto with_search = [this](const Estimate& peak) {
        return with_share(peak, std::hypot(fine_.peak->error, soft_.size, soft_.lit));
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
                                     std::hypot(blur_error_ * fine_.light[0].rms_radius, soft_.place));
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
    if (shaded() || soft_.lit > 0)
      add("shaded by " + target_.name, error_of(estimate("W", [&](const Solution& s) { return aperture - lit(s); }), lit));
    for (std::size_t k = 0; k < scene_.reflectors.size(); ++k) {
      const double share = 1 - scene_.reflectors[k].reflectance;
      const Estimate absorbed = estimate("W", [&](const Solution& s) { return share * s.lit[k]; });
      if (absorbed.value > 0) add("absorbed by " + scene_.reflectors[k].name, absorbed);
    }
    if (fine_.back > 0) add("back of " + target_.name, estimate("W", [](const Solution& s) { return s.back; }));
    if (fine_.lid > 0) add("lid of " + target_.name, estimate("W", [](const Solution& s) { return s.lid; }));
    // The rest, so that all adds up.
    const double error = std::hypot(*out.targets[0].power.std_error, soft_.lit * fine_.all_lit());
    out.ledger.push_back({"missed", {std::max(0.0, rest), error, "W"}});
  }

  /// The error of what is left of the aperture is the lit part's.
  Estimate error_of(Estimate value, const std::function<double(const Solution&)>& of) const {
    value.std_error = std::hypot(std::abs(of(fine_) - of(coarse_)) + soft_edge * value.value, soft_.lit * of(fine_));
    return value;
  }

  const Scene& scene_;
  const std::vector<Outline>& outlines_;
  const Solution &coarse_, &fine_;
  double blur_error_;
  double aperture_ = 0;  ///< [W]
  HalfShade soft_;
  const Target& target_;
};

}  // namespace

namespace {

/// Images with sharp edges settle slowly, and their errors are no small change from one order to the next.
std::optional<Refusal> sharp_edged(const Scene& scene, const Setting& setting) {
  for (const Blur& blur : setting.blurs) {
    if (blur.slope <= 0 && blur.spread < 0.3 * scene.sun.half_angle)
      return Refusal{"a mirror so perfect throws images of the sun with sharp edges", use_rays};
  }
  return std::nullopt;
}

}  // namespace

Refusal too_much_work(const Scene& scene, double looks) {
  return {
      fmt::format("the light is spread over far more than its blur on {}: that takes images so many that summing them would last "
                  "about {:.1g} s or longer",
                  scene.targets[0].name, looks * 1e-9),
      use_rays};
}

struct PreparedQuadrature::Parts {
  Parts(const Scene& of, const QuadratureOptions& asked, Setting made)
      : scene(of), options(asked), setting(std::move(made)), solver(scene, setting, options, effort) {}
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;
  ~Parts() = default;
  double first_work() { return solver.work(0, true) + solver.work(1, false); }
  TraceFigures figures();

  const Scene& scene;
  const QuadratureOptions options;
  const Setting setting;
  Effort effort;
  Solver solver;
};

/// Raises the orders until the map stays.
TraceFigures PreparedQuadrature::Parts::figures() {
  if (options.settled && solver.surely_beyond(effort.left())) throw Effort::TooMuch{effort.left()};
  effort.expect(first_work());
  int order = 1;
  Solution coarse = solver.solve(0, true), fine = solver.solve(1, false);
  while (map_change(coarse, fine) > options.tolerance) {
    const double next = solver.work(order + 1, false);
    if (next > effort.left()) {
      if (options.settled) throw Effort::TooMuch{next};
      break;
    }
    effort.expect(next);
    coarse = std::move(fine);
    fine = solver.solve(++order, false);
  }
  solver.find_peak(coarse, fine);
  return Assembly(scene, setting, coarse, fine, solver.blur_error(), effort).figures(options.map);
}

PreparedQuadrature::PreparedQuadrature(std::unique_ptr<Parts> parts) : parts_(std::move(parts)) {}
PreparedQuadrature::PreparedQuadrature(PreparedQuadrature&&) noexcept = default;
PreparedQuadrature& PreparedQuadrature::operator=(PreparedQuadrature&&) noexcept = default;
PreparedQuadrature::~PreparedQuadrature() = default;

double PreparedQuadrature::work() { return parts_->first_work(); }

std::variant<TraceFigures, Refusal> PreparedQuadrature::solve(Watch* watch, std::uint64_t span) {
  Effort effort(parts_->options.most_work, watch, span);
  try {
    effort.spend(parts_->effort.spent());  // images that work() has made
    parts_->effort = effort;
    return parts_->figures();
  } catch (const Effort::TooMuch& much) {
    return too_much_work(parts_->scene, much.looks);
  }
}

std::variant<PreparedQuadrature, Refusal> prepare_quadrature(const Scene& scene, const QuadratureOptions& options) {
  auto made = make_setting(scene);
  if (const Refusal* no = std::get_if<Refusal>(&made)) return *no;
  if (options.settled) {
    if (auto no = sharp_edged(scene, std::get<Setting>(made))) return *no;
  }
  return PreparedQuadrature(std::make_unique<PreparedQuadrature::Parts>(scene, options, std::get<Setting>(std::move(made))));
}

void refuse_quadrature(const Refusal& no) { throw InputError(quadrature_refused, no.why, no.fix); }

TraceFigures quadrature_figures(const Scene& scene, const QuadratureOptions& options) {
  auto ready = prepare_quadrature(scene, options);
  if (const Refusal* no = std::get_if<Refusal>(&ready)) refuse_quadrature(*no);
  auto figures = std::get<PreparedQuadrature>(ready).solve();
  if (const Refusal* no = std::get_if<Refusal>(&figures)) refuse_quadrature(*no);
  return std::get<TraceFigures>(std::move(figures));
}

std::optional<Refusal> quadrature_refusal(const Scene& scene, const QuadratureOptions& options) {
  auto ready = prepare_quadrature(scene, options);
  if (const Refusal* no = std::get_if<Refusal>(&ready)) return *no;
  const double looks = std::get<PreparedQuadrature>(ready).work();
  if (looks > options.most_work) return too_much_work(scene, looks);
  return std::nullopt;
}

}  // namespace dishwright
