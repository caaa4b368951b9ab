// SPDX-License-Identifier: MIT
#include "blur/quadrature.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/error.h"
#include "blur/outline.h"
#include "blur/spot.h"
#include "blur/straight.h"
#include "tally/chart.h"

namespace dishwright {

namespace {

constexpr double coarser = 0.7, finer = 1.4;                       // between one order and the next
constexpr double most_work = 3e8;                                  // cells of the map under all images together; about a second
constexpr double most_refined = 12000, most_band_refined = 80000;  // images on a disk, on a band
constexpr double cut_error = 1e-5;
constexpr double soft_edge = 1e-4;  // of the shaded power: the half-shade is second order in half angle × distance / width

/// Light on the face and the layout of its map.
struct MapLight {
  MapFace layout;
  FaceLight light;
};

/// Everything at one order.
struct Solution {
  std::vector<double> lit;  ///< sunlight that meets each mirror [W]
  std::uint64_t samples = 0;
  double work = 0;     ///< cells under all images
  double leaving = 0;  ///< [W]
  SpotWidths widths;
  MapLight face;
  double back = 0;  ///< on the target's back [W]
  std::vector<Image> images;
  std::optional<Peak> peak;
  double sum(const std::vector<double>& values) const {
    double total = 0;
    for (const double value : values) total += value;
    return total;
  }
};

class Solver {
 public:
  Solver(const Scene& scene, const Setting& setting, const QuadratureOptions& options)
      : scene_(scene), setting_(setting), options_(options), target_(scene.targets[0]) {
    for (const MirrorPatch& patch : setting.patches) {
      counts_.push_back(counts_for(patch, blur_of(patch), setting.plane, setting.sun));
      changes_.push_back(setting.shadow.changes(patch));
    }
  }

  /// Order 1 is what counts_for() asks for. `quick`: the map in cells of twice the width.
  Solution solve(double order, bool quick) {
    Solution out;
    out.lit.assign(scene_.reflectors.size(), 0);
    std::vector<Image> images = make_images(order, out);
    out.widths = spot_widths(images, std::holds_alternative<RectangleTarget>(target_.shape));
    if (face_.columns == 0) face_ = lay_out(out.widths);
    out.face = MapLight{face_, {}};
    if (quick && options_.map && face_.columns % 2 == 0 && face_.rows % 2 == 0)
      out.face.layout.columns /= 2, out.face.layout.rows /= 2;
    const MapFace& layout = out.face.layout;
    const double sigma = out.widths.sigma < 1e300 ? out.widths.sigma : 1;
    out.work = work(images, layout);
    out.face.light = face_light(images, true, layout, sigma);
    if (std::any_of(images.begin(), images.end(), [](const Image& image) { return !image.front; }))
      out.back = face_light(images, false, layout, sigma).power;
    FaceLight& light = out.face.light;
    light.power = std::min(light.power, out.leaving);  // sums in single precision may end a hair above
    out.back = std::min(out.back, out.leaving - light.power);
    out.images = std::move(images);
    return out;
  }

  /// The brightest disc of the finer order, and what the coarser one finds in the same place.
  static void find_peak(Solution& coarse, Solution& fine) {
    const double disc = fine.widths.half.value_or(0) / 10;
    if (disc < 1e-7) return;
    MapFace face = fine.face.layout;
    face.irradiance = fine.face.light.irradiance;
    fine.peak = brightest_disc(fine.images, face, disc);
    if (!fine.peak) return;
    coarse.peak = fine.peak;
    coarse.peak->irradiance = disc_mean(coarse.images, face, disc, fine.peak->x, fine.peak->y);
  }

  double blur_error() const {
    double most = cut_error;
    for (const Blur& blur : setting_.blurs) most = std::hypot(most, blur.sun.error, blur.round.error);
    return most;
  }
  const MapFace& face() const { return face_; }

 private:
  const Blur& blur_of(const MirrorPatch& patch) const { return setting_.blurs[static_cast<std::size_t>(patch.reflector)]; }

  std::vector<Image> make_images(double order, Solution& out) const {
    std::vector<Image> images;
    for (std::size_t p = 0; p < setting_.patches.size(); ++p) {
      const MirrorPatch& patch = setting_.patches[p];
      const std::size_t k = static_cast<std::size_t>(patch.reflector);
      const SampleCounts counts{counts_[p].along_u * order, counts_[p].along_v * order};
      for (const MirrorSample& sample :
           mirror_samples(patch, setting_.shadow, changes_[p], setting_.sun, scene_.sun.beam, counts)) {
        const double power = sample.power * scene_.reflectors[k].reflectance;
        out.lit[k] += sample.power;
        out.leaving += power;
        ++out.samples;
        if (power <= 0) continue;
        if (auto image = make_image(setting_.blurs[k], setting_.plane, sample.place, setting_.sun, power))
          images.push_back(std::move(*image));
      }
    }
    return images;
  }

  static double work(const std::vector<Image>& images, const MapFace& face) {
    const double cells = static_cast<double>(face.columns) * face.rows;
    const double cell = (face.x_to - face.x_from) * (face.y_to - face.y_from) / cells;
    double total = 0;
    for (const Image& image : images)
      total += image.everywhere ? cells : std::min(cells, 3.14 * image.half_width * image.half_height / cell);
    return total;
  }

  MapFace lay_out(const SpotWidths& widths) const {
    const double half = widths.half.value_or(0);
    MapFace face = plane_face(target_.shape, 1.5 * half);
    if (options_.columns > 0) face.columns = options_.columns, face.rows = std::max(1, options_.rows);
    if (!options_.map) {  // just fine enough for sums
      const auto cells = [&](double width) {
        return static_cast<int>(std::clamp(std::ceil(width / (0.6 * widths.sigma)), 24.0, 1024.0));
      };
      face.columns = cells(face.x_to - face.x_from), face.rows = cells(face.y_to - face.y_from);
    }
    return face;
  }

  const Scene& scene_;
  const Setting& setting_;
  const QuadratureOptions& options_;
  const Target& target_;
  std::vector<SampleCounts> counts_;          // by patch
  std::vector<std::vector<double>> changes_;  // by patch
  MapFace face_;
};

/// Root mean square difference of two maps relative to the second's root mean square; the first may have cells of twice the width.
double map_change(const MapLight& coarse, const MapLight& fine) {
  const int ratio = fine.layout.columns / coarse.layout.columns;
  const std::vector<double>&a = coarse.light.irradiance, &b = fine.light.irradiance;
  double difference = 0, all = 0;
  for (int row = 0; row < coarse.layout.rows; ++row) {
    for (int column = 0; column < coarse.layout.columns; ++column) {
      double mean = 0;
      for (int k = 0; k < ratio * ratio; ++k)
        mean += b[static_cast<std::size_t>((row * ratio + k / ratio) * fine.layout.columns + column * ratio + k % ratio)] /
                (ratio * ratio);
      const double change = a[static_cast<std::size_t>(row * coarse.layout.columns + column)] - mean;
      difference += change * change, all += mean * mean;
    }
  }
  return all > 0 ? std::sqrt(difference / all) : 0;
}

/// Figures from the finer order, their errors from the step between the orders.
class Assembly {
 public:
  Assembly(const Scene& scene, const Solution& coarse, const Solution& fine, double blur_error)
      : scene_(scene), coarse_(coarse), fine_(fine), blur_error_(blur_error), target_(scene.targets[0]) {
    for (const Reflector& mirror : scene_.reflectors)
      aperture_ += scene_.sun.beam * Outline(mirror.shape).silhouette(mirror.pose.turn.transpose() * scene_.sun.direction());
    soft_error_ = half_shade_error();
  }

  TraceFigures figures(MapFace face, bool map) const {
    TraceFigures out;
    out.seed = scene_.trace.seed;
    out.paths = fine_.samples;
    out.replicates = 0;
    out.method = "quadrature";
    out.beam = scene_.sun.beam;
    out.aperture_power = {aperture_, std::nullopt, "W"};
    out.targets.push_back(target(std::move(face), map));
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
  bool shaded() const { return target_.shades && std::abs(aperture_ - fine_.sum(fine_.lit)) > 1e-6 * aperture_; }

  /// What the missing half-shade at the shadow's edge may do to sizes and peaks, relative: the half-shade's share of the light times the
  /// square of the sun's half width in spot widths. By trial: a trough with a wide target has 0.8 of that.
  double half_shade_error() const {
    if (!shaded() || !fine_.widths.half) return 0;
    double distance = 0, power = 0;
    for (const Image& image : fine_.images) distance += image.power * image.w_0, power += image.power;
    const double sun = scene_.sun.half_angle * distance / power;
    const auto* rectangle = std::get_if<RectangleTarget>(&target_.shape);
    const double width = std::visit([](const auto& s) { return s.width; }, target_.shape);
    const double round = rectangle != nullptr ? 2 * (width + rectangle->length) : std::numbers::pi * width;
    return std::min(1.0, round * 2 * sun * scene_.sun.beam / aperture_) * std::min(1.0, std::pow(sun / *fine_.widths.half, 2));
  }

  TargetFigures target(MapFace face, bool map) const {
    TargetFigures out;
    out.name = target_.name;
    out.shape = shape_word(target_.shape);
    out.area = counted_area(target_.shape);
    // Where all light is caught, its place does not matter.
    const double caught = fine_.leaving > 0 ? fine_.face.light.power / fine_.leaving : 0;
    const double soft = soft_error_ * (1 - caught);
    out.power = with_share(estimate("W", [](const Solution& s) { return s.face.light.power; }), soft);
    out.direct_power = straight_power(scene_, target_);
    if (fine_.leaving > 0 && coarse_.leaving > 0)
      out.intercept = with_share(estimate("1", [](const Solution& s) { return s.face.light.power / s.leaving; }), soft);
    out.mean_irradiance = with_share(estimate("W/m2", [&](const Solution& s) { return s.face.light.power / out.area; }), soft);
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
    if (fine_.face.light.power > 0 && coarse_.face.light.power > 0) {
      out.spot_rms_radius = length([](const Solution& s) { return s.face.light.rms_radius; });
      const auto centre = [&](std::size_t axis) {
        Estimate place = length([axis](const Solution& s) { return s.face.light.centroid[axis]; });
        place.std_error = std::hypot(place.value - coarse_.face.light.centroid[axis],
                                     std::hypot(blur_error_, soft_error_) * fine_.face.light.rms_radius);
        return place;
      };
      out.centroid = {centre(0), centre(1)};
    }
    if (map) {
      face.irradiance = fine_.face.light.irradiance;
      out.map.push_back(std::move(face));
    }
    return out;
  }

  void add_ledger(TraceFigures& out) const {
    const double aperture = aperture_;
    const auto lit = [](const Solution& s) { return s.sum(s.lit); };
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
    // The rest, so that all adds up.
    out.ledger.push_back({"missed", {std::max(0.0, rest), out.targets[0].power.std_error, "W"}});
  }

  /// The error of what is left of the aperture is the lit part's.
  Estimate error_of(Estimate value, const std::function<double(const Solution&)>& of) const {
    value.std_error = std::abs(of(fine_) - of(coarse_)) + soft_edge * value.value;
    return value;
  }

  const Scene& scene_;
  const Solution &coarse_, &fine_;
  double blur_error_;
  double aperture_ = 0;    ///< [W]
  double soft_error_ = 0;  ///< relative
  const Target& target_;
};

}  // namespace

std::optional<WhyNot> why_no_quadrature(const Scene& scene) {
  const auto setting = make_setting(scene);
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
  const double most_images = std::holds_alternative<RectangleTarget>(scene.targets[0].shape) ? most_band_refined : most_refined;
  const auto may_grow = [&] {
    return fine.work * finer * finer < most_work && static_cast<double>(fine.images.size()) * finer * finer < most_images;
  };
  while (map_change(coarse.face, fine.face) > options.tolerance && may_grow()) {
    order *= finer;
    coarse = std::move(fine);
    fine = solver.solve(order, false);
  }
  Solver::find_peak(coarse, fine);
  return Assembly(scene, coarse, fine, solver.blur_error()).figures(solver.face(), options.map);
}

}  // namespace dishwright
