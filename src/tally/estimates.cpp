// SPDX-License-Identifier: MIT
#include "tally/estimates.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "tally/share_curve.h"
#include "tally/spot_width.h"
#include "trace/rays.h"

namespace dishwright {

namespace {

constexpr double least_paths = 10;  // a part of the half-light circle, in the half of the replicates that looks

/// Sums over a set of replicates, as plain numbers: the whole run, or all but one replicate for the jackknife.
struct Sums {
  double paths = 0, started = 0, reached = 0, left = 0;
  std::vector<double> slots;
};

class Estimates {
 public:
  Estimates(const TallyPlan& plan, const TallyCounts& counts, const RunTotals& totals)
      : plan_(plan), counts_(counts), totals_(totals), replicates_(static_cast<int>(plan.replicates)) {
    whole_ = sums(-1);
    for (int r = 0; r < replicates_; ++r) without_.push_back(sums(r));
    flux_ = totals.source_power;
    power_unit_ = power_unit(*plan.scene);
    irradiance_unit_ = irradiance_unit(*plan.scene);
  }

  TraceFigures figures() const {
    TraceFigures out;
    const Scene& scene = *plan_.scene;
    out.seed = totals_.plan.seed;
    out.paths = totals_.plan.paths;
    out.replicates = replicates_;
    out.beam = scene.lamp ? 0 : scene.sun.beam;
    out.aperture_power = totals_.every_point_counts
                             ? Estimate{flux_, std::nullopt, power_unit_}
                             : estimate(power_unit_, [&](const Sums& s) { return flux_ * s.started / s.paths; });
    if (scene.lamp) out.caught_share = estimate("1", [](const Sums& s) { return s.reached / s.paths; });
    for (std::size_t k = 0; k < scene.targets.size(); ++k) out.targets.push_back(target(k));
    for (std::size_t slot = 0; slot < plan_.list->slot_names.size(); ++slot) {
      const int number = static_cast<int>(slot);
      const bool always =
          slot < scene.targets.size() || number == plan_.list->missed_slot || (scene.lamp && number == plan_.list->unmet_slot);
      if (!always && whole_.slots[slot] == 0) continue;
      out.ledger.push_back({plan_.list->slot_names[slot], power(slot)});
    }
    return out;
  }

 private:
  Sums sums(int left_out) const {
    Sums s;
    s.slots.assign(plan_.list->slot_names.size(), 0);
    for (int r = 0; r < replicates_; ++r) {
      if (r == left_out) continue;
      const TallyCounts::Row& row = counts_.rows()[static_cast<std::size_t>(r)];
      const double paths = totals_.plan.count(static_cast<std::uint32_t>(r));
      s.paths += paths;
      s.started += static_cast<double>(row.started);
      s.reached += static_cast<double>(row.reached) / full_weight;
      s.left += static_cast<double>(row.left) / full_weight;
      for (std::size_t i = 0; i < s.slots.size(); ++i) s.slots[i] += static_cast<double>(row.slots[i]) / full_weight;
    }
    return s;
  }

  Estimate estimate(const std::string& unit, const std::function<double(const Sums&)>& figure) const {
    return jackknifed(unit, replicates_, [&](int r) { return figure(r < 0 ? whole_ : without_[static_cast<std::size_t>(r)]); });
  }

  Estimate power(std::size_t slot) const {
    return estimate(power_unit_, [&](const Sums& s) { return flux_ * s.slots[slot] / s.paths; });
  }

  TargetFigures target(std::size_t k) const {
    const Target& in = plan_.scene->targets[k];
    TargetFigures out;
    out.name = in.name;
    out.shape = shape_word(in.shape);
    out.area = counted_area(in.shape);
    out.power = power(k);
    if (plan_.scene->lamp) {
      add_straight(k, out);
    } else {
      out.direct_power = totals_.direct[k];
    }
    if (whole_.left > 0) out.intercept = estimate("1", [&](const Sums& s) { return s.left > 0 ? s.slots[k] / s.left : 0.0; });
    out.mean_irradiance = estimate(irradiance_unit_, [&](const Sums& s) { return flux_ * s.slots[k] / s.paths / out.area; });
    if (plan_.radial[k].count > 0) {
      add_widths(k, out);
      if (plan_.plate[k] && whole_.slots[k] > 0) add_moments(k, out);
      if (plan_.even[k].any) add_evenness(k, out);
    }
    add_peak(k, out);
    add_maps(k, out);
    return out;
  }

  /// A lamp's light that came straight; with what the mirrors bring it is all that a wall gets.
  void add_straight(std::size_t k, TargetFigures& out) const {
    const std::size_t slot = static_cast<std::size_t>(plan_.list->direct_slot[k]);
    out.direct_power = power(slot);
    out.total_power = estimate(power_unit_, [&](const Sums& s) { return flux_ * (s.slots[k] + s.slots[slot]) / s.paths; });
  }

  /// The first half of the replicates finds the darkest part, the second half measures it.
  void add_evenness(std::size_t k, TargetFigures& out) const {
    const int first = replicates_ / 2, count = replicates_ - first;
    const auto parts = [&](int from, int to, int left_out) {
      std::array<double, UniformityCircle::parts> sum{};
      for (int r = from; r < to; ++r) {
        const UniformityParts& one = counts_.rows()[static_cast<std::size_t>(r)].even[k];
        for (std::size_t j = 0; j < sum.size() && r != left_out; ++j) sum[j] += static_cast<double>(one[j]);
      }
      return sum;
    };
    const auto looked = parts(0, first, -1);
    // Too few paths a part tell nothing of the darkest one.
    double light = 0;
    for (const double part : looked) light += part;
    if (light < least_paths * UniformityCircle::parts * full_weight) return;
    const std::size_t darkest = static_cast<std::size_t>(std::min_element(looked.begin(), looked.end()) - looked.begin());
    const auto figure = [&](int left_out) { return uniformity(parts(first, replicates_, left_out), darkest); };
    out.evenness = jackknifed("1", count, [&](int r) { return figure(r < 0 ? r : first + r); });
  }

  void add_peak(std::size_t k, TargetFigures& out) const {
    const PeakWindow& window = plan_.scales[k].window;
    if (whole_.slots[k] <= 0) return;
    out.no_peak = window.point ? NoPeak::point : NoPeak::few_paths;
    if (!window.any || counts_.window(k).empty()) return;
    const TargetShape& shape = plan_.scene->targets[k].shape;
    const double disc =
        plan_.plate[k] && out.spot_width_50 ? std::min(out.spot_width_50->value / 10, widest_disc(shape, window)) : window.disc;
    std::vector<double> paths;
    paths.reserve(static_cast<std::size_t>(replicates_));
    for (int r = 0; r < replicates_; ++r) paths.push_back(totals_.plan.count(static_cast<std::uint32_t>(r)));
    const std::optional<FoundPeak> found = find_peak(peak_counts(shape, window, disc, counts_.window(k), std::move(paths)));
    if (!found) return;
    out.no_peak = NoPeak::none;
    const auto per = [&](double unit) {
      return [&, unit](int r) { return flux_ * (r < 0 ? found->value : found->without_one[static_cast<std::size_t>(r)]) / unit; };
    };
    out.peak_irradiance = jackknifed(irradiance_unit_, replicates_, per(1));
    if (plan_.scene->lamp) return;  // no sun to compare with
    out.peak_concentration = jackknifed("1", replicates_, per(plan_.scene->sun.beam));
  }

  void add_widths(std::size_t k, TargetFigures& out) const {
    const bool any = std::any_of(counts_.rows().begin(), counts_.rows().end(), [k](const TallyCounts::Row& row) {
      return std::any_of(row.radial[k].begin(), row.radial[k].end(), [](std::int64_t weight) { return weight > 0; });
    });
    if (!any) return;
    out.plane_centroid = {plan_.scales[k].centre_x, plan_.scales[k].centre_y};
    const bool band = is_band(plan_.scene->targets[k].shape);
    out.spot_width_50 = spot_width(plan_.radial[k], counts_.rows(), k, 0.5, band);
    out.spot_width_90 = spot_width(plan_.radial[k], counts_.rows(), k, 0.9, band);
    out.share_curve = share_curve(plan_.radial[k], counts_.rows(), k);
  }

  void add_moments(std::size_t k, TargetFigures& out) const {
    const TargetScale& aim = plan_.scales[k];
    const auto moment = [&](int left_out, std::size_t j) {
      double sum = 0;
      for (int r = 0; r < replicates_; ++r) {
        if (r != left_out) sum += counts_.rows()[static_cast<std::size_t>(r)].moments[k][j].value();
      }
      const double weight = (left_out < 0 ? whole_ : without_[static_cast<std::size_t>(left_out)]).slots[k];
      return weight > 0 ? sum / weight * (j == 2 ? aim.scale * aim.scale : aim.scale) : 0.0;
    };
    const auto with_error = [&](const std::function<double(int)>& figure) { return jackknifed("m", replicates_, figure); };
    out.centroid = {with_error([&](int r) { return aim.centre_x + moment(r, 0); }),
                    with_error([&](int r) { return aim.centre_y + moment(r, 1); })};
    out.spot_rms_radius = with_error([&](int r) {
      const double x = moment(r, 0), y = moment(r, 1);
      return std::sqrt(std::max(0.0, moment(r, 2) - x * x - y * y));
    });
  }

  void add_maps(std::size_t k, TargetFigures& out) const {
    for (std::size_t c = 0; c < plan_.charts.size(); ++c) {
      if (plan_.charts[c].target != static_cast<int>(k)) continue;
      MapFace face = plan_.charts[c].face;
      const double bin_area = (face.x_to - face.x_from) * (face.y_to - face.y_from) / (face.columns * face.rows);
      const double per_weight = flux_ / whole_.paths / full_weight / bin_area;
      for (const std::int64_t weight : counts_.map(c)) face.irradiance.push_back(static_cast<double>(weight) * per_weight);
      out.map.push_back(std::move(face));
    }
  }

  const TallyPlan& plan_;
  const TallyCounts& counts_;
  const RunTotals& totals_;
  int replicates_;
  Sums whole_;
  std::vector<Sums> without_;
  double flux_ = 0;  // that all paths stand for
  std::string power_unit_, irradiance_unit_;
};

}  // namespace

TraceFigures estimate_figures(const TallyPlan& plan, const TallyCounts& counts, const RunTotals& totals) {
  return Estimates(plan, counts, totals).figures();
}

}  // namespace dishwright
