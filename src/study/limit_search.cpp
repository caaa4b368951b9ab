// SPDX-License-Identifier: MIT
#include "study/limit_search.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr int narrowings = 14;

class Outward {
 public:
  Outward(double wanted, int steps, const FigureAt& figure_at) : wanted_(wanted), steps_(steps), figure_at_(figure_at) {}

  void search(ToleranceLimit& out) const {
    std::vector<LimitPoint>& curve = out.curve;
    for (int k = 0; k <= steps_; ++k) {
      const auto point = figure_at_(step(out.searched, k));
      if (!point) {  // the target would stick in the mirror, or the shape would not exist
        out.searched = curve.empty() ? 0 : curve.back().at;
        break;
      }
      curve.push_back(*point);
      if (point->figure < wanted_ && k > 0) break;
    }
    if (!curve.empty()) finish(out);
  }

 private:
  double step(double end, int k) const { return end * std::pow(static_cast<double>(k) / steps_, 2); }

  void finish(ToleranceLimit& out) const {
    std::vector<LimitPoint>& curve = out.curve;
    const bool starts_well = curve.front().figure >= wanted_;
    if (starts_well && curve.back().figure >= wanted_) {
      out.open = true;
    } else if (starts_well) {
      narrow(out);
    } else {
      look_farther(out);
    }
    put_in_order(out);
  }

  /// Not enough at 0: the rest of the way is looked at too, for the best place.
  void look_farther(ToleranceLimit& out) const {
    const int from = static_cast<int>(out.curve.size());
    for (int k = from; k <= steps_; ++k) {
      const auto point = figure_at_(step(out.searched, k));
      if (!point) return;
      out.curve.push_back(*point);
    }
  }

  /// Straight lines between the last good and the first bad point, with a halving whenever one end stays (the Illinois rule).
  void narrow(ToleranceLimit& out) const {
    LimitPoint good = out.curve[out.curve.size() - 2], bad = out.curve.back();
    double weight_good = good.figure - wanted_, weight_bad = bad.figure - wanted_;
    int kept = 0;
    std::optional<LimitPoint> before;  // the last point that is known well
    for (int k = 0; k < narrowings; ++k) {
      const double noise = std::max({good.std_error, bad.std_error, 1e-6});
      if (good.figure - bad.figure < noise || bad.at - good.at < 1e-4 * bad.at) break;
      // Halves now and then: a share that falls in one step has no slope to follow.
      double at = k % 3 == 2 ? (good.at + bad.at) / 2 : good.at + (bad.at - good.at) * weight_good / (weight_good - weight_bad);
      at = std::clamp(at, good.at + 0.02 * (bad.at - good.at), bad.at - 0.02 * (bad.at - good.at));
      const auto middle = figure_at_(at);
      if (!middle) break;
      out.curve.push_back(*middle);
      if (std::abs(middle->figure - wanted_) < 0.1 * std::max(middle->std_error, 1e-6)) {
        (middle->figure >= wanted_ ? good : bad) = *middle;
        break;
      }
      if (before && straight(*before, *middle)) {
        (before->at < middle->at ? good : bad) = *before, (before->at < middle->at ? bad : good) = *middle;
        break;
      }
      before = middle;
      if (middle->figure >= wanted_) {
        good = *middle, weight_good = middle->figure - wanted_;
        if (kept > 0) weight_bad /= 2;
        kept = 1;
      } else {
        bad = *middle, weight_bad = middle->figure - wanted_;
        if (kept < 0) weight_good /= 2;
        kept = -1;
      }
    }
    set_limit(out, good, bad);
  }

  /// Does a line through two points tell the place, although it may lie a little beyond them? What the curve's bend adds is about
  /// the product of their distances from the wanted figure, for a figure that falls by some of itself over some of the way; it
  /// shall be far below the noise. Points farther off than the second is from the wanted figure settle the slope.
  bool straight(const LimitPoint& one, const LimitPoint& two) const {
    const double noise = std::max(one.std_error, two.std_error), far = std::abs(one.figure - wanted_),
                 near = std::abs(two.figure - wanted_);
    const bool falls = (one.at < two.at) == (one.figure > two.figure);
    return falls && far * near <= 0.1 * noise && std::abs(one.figure - two.figure) >= 5 * near;
  }

  /// Where the line between the two points meets the wanted figure; its error from theirs and from the slope of the curve about
  /// there.
  void set_limit(ToleranceLimit& out, const LimitPoint& good, const LimitPoint& bad) const {
    const double drop = good.figure - bad.figure;
    const double at = drop > 0 ? good.at + (bad.at - good.at) * (good.figure - wanted_) / drop : good.at;
    // The nearer point tells more of where the line crosses.
    const double part = drop > 0 ? (good.figure - wanted_) / drop : 0, of_good = (1 - part) * good.std_error,
                 of_bad = part * bad.std_error;
    // Beyond the two their errors lever it.
    const double error = part < 0 || part > 1 ? std::hypot(of_good, of_bad) : of_good + of_bad,
                 slope = slope_about(out.curve, at, std::max(10 * error, 0.01));
    Estimate limit{at, std::nullopt, ""};
    if (slope > 0) limit.std_error = error / slope;
    out.limit = limit;
  }

  /// Fall of the figure a unit, between the nearest points that differ by at least `apart`.
  static double slope_about(const std::vector<LimitPoint>& curve, double at, double apart) {
    double best = 0, nearest = 1e300;
    for (const LimitPoint& a : curve) {
      for (const LimitPoint& b : curve) {
        if (!(a.at <= at && b.at >= at && a.figure - b.figure >= apart) || b.at - a.at >= nearest) continue;
        nearest = b.at - a.at;
        best = (a.figure - b.figure) / (b.at - a.at);
      }
    }
    return best;
  }

  double wanted_;
  int steps_;
  const FigureAt& figure_at_;
};

}  // namespace

ToleranceLimit limit_outward(const std::string& key, const std::string& side, double end, int steps, double wanted,
                             const FigureAt& figure_at) {
  ToleranceLimit out;
  out.key = key, out.side = side, out.searched = end;
  Outward(wanted, steps, figure_at).search(out);
  return out;
}

void put_in_order(ToleranceLimit& limit) {
  std::sort(limit.curve.begin(), limit.curve.end(), [](const LimitPoint& a, const LimitPoint& b) { return a.at < b.at; });
  limit.best = *std::max_element(limit.curve.begin(), limit.curve.end(),
                                 [](const LimitPoint& a, const LimitPoint& b) { return a.figure < b.figure; });
}

}  // namespace dishwright
