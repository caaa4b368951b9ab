// SPDX-License-Identifier: MIT
#include "survey/slope_map.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <numeric>

#include "survey/median.h"
#include "survey/solvers.h"

namespace dishwright {

namespace {

constexpr int sectors = 16;  // blocks of the jackknife

SurveySample sample_at(const ShapeFit& fit, const Vector3& point, double skin, std::size_t number) {
  const FootPoint foot = nearest_foot(fit.shape, fit.shape.to_own(point));
  return {foot.point.head<2>(), foot.point, foot.normal, foot.distance + skin, 0, number};
}

/// Means of all kept points within each cell of a square grid.
std::vector<SurveySample> cell_means(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  Eigen::Vector2d low(1e300, 1e300), high(-1e300, -1e300);
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    const Eigen::Vector2d at = fit.shape.to_own(survey.points[i]).head<2>();
    low = low.cwiseMin(at), high = high.cwiseMax(at);
  }
  const double cell = std::sqrt((high - low).prod() / static_cast<double>(most_samples));
  const auto columns = static_cast<std::size_t>((high - low).x() / cell) + 1,
             rows = static_cast<std::size_t>((high - low).y() / cell) + 1;
  std::vector<Vector3> sums(columns * rows, Vector3::Zero());
  std::vector<std::size_t> counts(columns * rows, 0), first(columns * rows, 0);
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    const Vector3 own = fit.shape.to_own(survey.points[i]);
    const std::size_t c = static_cast<std::size_t>((own.x() - low.x()) / cell),
                      r = static_cast<std::size_t>((own.y() - low.y()) / cell);
    const std::size_t at = r * columns + c;
    if (counts[at]++ == 0) first[at] = i;
    sums[at] += Vector3(own.x(), own.y(), fit.residuals[i]);
  }
  // Cells that the rim cuts down to a few points would be rough beside the others.
  const double enough =
      static_cast<double>(std::accumulate(counts.begin(), counts.end(), std::size_t{0})) / static_cast<double>(counts.size()) / 4;
  std::vector<SurveySample> out;
  for (std::size_t at = 0; at < counts.size(); ++at) {
    if (counts[at] == 0 || static_cast<double>(counts[at]) < enough) continue;
    const Vector3 mean = sums[at] / static_cast<double>(counts[at]);
    const double height = own_height(fit.shape, mean.x(), mean.y());
    const FootPoint foot = nearest_foot(fit.shape, Vector3(mean.x(), mean.y(), height));
    out.push_back({mean.head<2>(), foot.point, foot.normal, mean.z(), 0, first[at]});
  }
  return out;
}

std::vector<SurveySample> samples_of(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  const auto kept = static_cast<std::size_t>(std::count_if(keep.begin(), keep.end(), [](char k) { return k != 0; }));
  if (kept > most_samples) return cell_means(survey, keep, fit);
  std::vector<SurveySample> out;
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] != 0) out.push_back(sample_at(fit, survey.points[i], survey.skin, i));
  }
  return out;
}

/// Shares of the aperture by counting the places of a fine grid that lie nearest to each sample. The aperture is the box of the
/// samples, or the ellipse in it for a bowl. Returns its area.
double share_out(std::vector<SurveySample>& samples, const Neighbours& near, bool round, double& gap) {
  constexpr int fine = 160;
  const Eigen::Vector2d middle = (near.lowest() + near.highest()) / 2;
  const Eigen::Vector2d half = ((near.highest() - near.lowest()) / 2).cwiseMax(1e-9);
  double inside = 0;
  std::vector<double> away;
  for (int i = 0; i < fine; ++i) {
    for (int j = 0; j < fine; ++j) {
      const Eigen::Vector2d unit((2 * i + 1.0) / fine - 1, (2 * j + 1.0) / fine - 1);
      if (round && unit.squaredNorm() > 1) continue;
      const Neighbour nearest = near.nearest(middle + unit.cwiseProduct(half), 1)[0];
      samples[nearest.index].share += 1;
      away.push_back(nearest.distance);
      ++inside;
    }
  }
  for (SurveySample& sample : samples) sample.share /= inside;
  // All but the largest twentieth of the gaps, which lie along the rim.
  const auto large = away.begin() + static_cast<std::ptrdiff_t>(away.size() * 19 / 20);
  std::nth_element(away.begin(), large, away.end());
  gap = 2 * *large;
  return 4 * half.prod() * (round ? std::numbers::pi / 4 : 1);
}

/// Finds the weights of every sample for one rule.
class LocalWork {
 public:
  LocalWork(const std::vector<SurveySample>& samples, const Neighbours& near) : samples_(samples), near_(near) {}

  /// How far `count` readings reach over most of the aperture: where they lie closer, as on the inner rings, more are taken, for
  /// a slope over a short way is mostly the noise of its ends [m].
  double reach_of(int count) const {
    const auto known = reaches_.find(count);
    if (known != reaches_.end()) return known->second;
    const std::size_t stride = std::max<std::size_t>(1, samples_.size() / 500);
    std::vector<std::pair<double, double>> reaches;  // with the share of the aperture
    double all = 0, sum = 0;
    for (std::size_t i = 0; i < samples_.size(); i += stride) {
      reaches.emplace_back(near_.nearest(samples_[i].place, static_cast<std::size_t>(count)).back().distance, samples_[i].share);
      all += samples_[i].share;
    }
    std::sort(reaches.begin(), reaches.end());
    auto middle = reaches.begin();
    while (middle + 1 != reaches.end() && (sum += middle->second) < all / 2) ++middle;
    return reaches_[count] = middle->first;
  }

  LocalWeights weights_at(std::size_t i, LocalRule rule) const {
    // Where the readings around lie on lines, more of them are taken, then a simpler polynomial.
    for (; rule.degree > 0; --rule.degree) {
      for (int more = 0; more < 3; ++more) {
        LocalWeights found = try_at(i, rule.degree, rule.count + more * rule.count / 2);
        if (found.good) return found;
      }
    }
    return try_at(i, 0, 3);
  }

 private:
  LocalWeights try_at(std::size_t i, int degree, int count) const {
    const auto [along_x, along_y] = tangents(samples_[i].normal);
    std::vector<std::size_t> index;
    std::vector<LocalPlace> around;
    for (const Neighbour& other : near_.nearest_and_within(samples_[i].place, static_cast<std::size_t>(count), reach_of(count))) {
      const Vector3 away = samples_[other.index].foot - samples_[i].foot;
      index.push_back(other.index);
      around.emplace_back(away.dot(along_x), away.dot(along_y));
    }
    return local_weights(index, around, degree);
  }

  const std::vector<SurveySample>& samples_;
  const Neighbours& near_;
  mutable std::map<int, double> reaches_;
};

double sum_of(const std::vector<double>& weights, const std::vector<std::size_t>& index,
              const std::vector<SurveySample>& samples) {
  double sum = 0;
  for (std::size_t k = 0; k < index.size(); ++k) sum += weights[k] * samples[index[k]].residual;
  return sum;
}

double squares(const std::vector<double>& weights) {
  double sum = 0;
  for (const double w : weights) sum += w * w;
  return sum;
}

/// Weight that a sample has in its own value.
double own_weight(const LocalWeights& weights, std::size_t i) {
  for (std::size_t k = 0; k < weights.index.size(); ++k) {
    if (weights.index[k] == i) return weights.value[k];
  }
  return 0;
}

/// Mean square miss when each reading is foretold from the others only.
double left_out_miss(const std::vector<SurveySample>& samples, const LocalWork& work, LocalRule rule) {
  const std::size_t stride = std::max<std::size_t>(1, samples.size() / 1500);
  double sum = 0, count = 0;
  for (std::size_t i = 0; i < samples.size(); i += stride) {
    const LocalWeights weights = work.weights_at(i, rule);
    const double left = std::max(0.02, 1 - own_weight(weights, i));
    const double miss = (samples[i].residual - sum_of(weights.value, weights.index, samples)) / left;
    sum += miss * miss, ++count;
  }
  return sum / count;
}

/// The rule that foretells best, of the given degrees.
LocalRule best_rule(const std::vector<SurveySample>& samples, const LocalWork& work, int least_degree) {
  constexpr std::array<LocalRule, 18> rules = {{{1, 6},
                                                {1, 9},
                                                {1, 14},
                                                {2, 10},
                                                {2, 14},
                                                {2, 20},
                                                {2, 30},
                                                {2, 45},
                                                {2, 70},
                                                {2, 140},
                                                {2, 280},
                                                {3, 16},
                                                {3, 22},
                                                {3, 30},
                                                {3, 45},
                                                {3, 70},
                                                {3, 140},
                                                {3, 280}}};
  LocalRule best{std::min(least_degree, 2), 6};
  double least = -1;
  for (const LocalRule& rule : rules) {
    if (rule.degree < least_degree || rule.count > static_cast<int>(samples.size()) - 1) continue;
    const double miss = left_out_miss(samples, work, rule);
    if (least < 0 || miss < least) least = miss, best = rule;
  }
  return best;
}

/// The rule for the rms: cubics, on half the readings that foretell best. What smoothing takes from the true slopes cannot be put
/// back; what the scatter adds can be taken out.
LocalRule sharp_rule(const std::vector<SurveySample>& samples, const LocalWork& work) {
  LocalRule rule = best_rule(samples, work, 3);
  rule.count = std::max(18, rule.count / 2);
  return rule;
}

/// One sample's part of the rms figures.
struct SampleSquares {
  double slope_x = 0, slope_y = 0;        ///< slope² [rad²]
  double scatter_x = 0, scatter_y = 0;    ///< what scatter of unit size puts in: Σ weights² [1/m²]
  double rounding_x = 0, rounding_y = 0;  ///< slope² of the rounding alone [rad²]
  double half_path = 0;                   ///< (residual · normal's z)² [m²]
};

/// Means over the aperture, without one sector (−1: all).
SampleSquares means_without(const SlopeMap& map, const std::vector<SampleSquares>& all, const Eigen::Vector2d& middle,
                            int left_out) {
  SampleSquares sum;
  double shares = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Eigen::Vector2d away = map.samples[i].place - middle;
    const double turns = std::atan2(away.y(), away.x()) / (2 * std::numbers::pi) + 0.5;
    if (left_out >= 0 && static_cast<int>(turns * sectors) % sectors == left_out) continue;
    const double w = map.samples[i].share;
    shares += w;
    for (double SampleSquares::*part :
         {&SampleSquares::slope_x, &SampleSquares::slope_y, &SampleSquares::scatter_x, &SampleSquares::scatter_y,
          &SampleSquares::rounding_x, &SampleSquares::rounding_y, &SampleSquares::half_path}) {
      sum.*part += w * (all[i].*part);
    }
  }
  for (double SampleSquares::*part :
       {&SampleSquares::slope_x, &SampleSquares::slope_y, &SampleSquares::scatter_x, &SampleSquares::scatter_y,
        &SampleSquares::rounding_x, &SampleSquares::rounding_y, &SampleSquares::half_path}) {
    sum.*part /= std::max(shares, 1e-300);
  }
  return sum;
}

/// Root of a mean square with its error; a mean square that scatter has pushed below zero counts as zero.
Estimate root(double mean_square, double error, const std::string& unit) {
  const double value = std::sqrt(std::max(0.0, mean_square));
  return {value, std::sqrt(std::max(0.0, mean_square) + error) - value, unit};
}

using Figure = std::function<double(const SampleSquares&)>;

/// Mean over the aperture of slope² about one axis of the lone humps: ∫|∇(1 − t²)²|² dA = 4π/3 for each unit of height².
Estimate hump_square(const SlopeMap& map) {
  double square = 0, variance = 0;
  for (const LoneHump& hump : map.humps) {
    const double part = 2 * std::numbers::pi / 3 / map.area;
    square += part * hump.height * hump.height;
    variance += std::pow(2 * part * hump.height * map.points[hump.sample].value_error, 2);
  }
  return {square, std::sqrt(variance), "1"};
}

/// `more`: a mean square that is added, with its error.
Estimate rms_of(const SlopeMap& map, const std::vector<SampleSquares>& squares_of, const Figure& signal, const Figure& noise,
                double noise_spread, const Estimate& more, const std::string& unit) {
  Eigen::Vector2d middle(0, 0);
  for (const SurveySample& sample : map.samples) middle += sample.share * sample.place;
  const auto figure = [&](int left_out) {
    const SampleSquares means = means_without(map, squares_of, middle, left_out);
    return signal(means) - noise(means);
  };
  const double noise_error = noise(means_without(map, squares_of, middle, -1)) * noise_spread;
  // Scatter cannot make less than nothing of the smooth part.
  const double error = std::hypot(jackknife_error(sectors, figure), noise_error, more.std_error.value_or(0));
  return root(std::max(0.0, figure(-1)) + more.value, error, unit);
}

/// What the noise of the readings puts into a mean square, from what scatter of unit size and what rounding alone put in.
using NoiseSquare = std::function<double(double, double)>;

NoiseSquare noise_square(const SlopeMap& map, const SurveyPoints& survey) {
  const double step = survey.step * survey.step / 12;
  if (survey.noise.freedom > 0) {
    const double own = survey.independent_noise(), common = step > 0 ? survey.rounding_noise() / step : 0;
    return [own, common](double scatter, double rounding) { return own * scatter + common * rounding; };
  }
  // The scatter about the smooth surface holds the rounding already, but for where it is alike over many readings.
  const double own = map.reading_scatter * map.reading_scatter;
  return [own](double scatter, double rounding) { return std::max(own * scatter, rounding); };
}

/// `freedom` of the scatter: how sure its size is.
void add_rms(SlopeMap& map, const std::vector<SampleSquares>& squares_of, double freedom, const SurveyPoints& survey) {
  const double spread = std::sqrt(2 / std::max(1.0, freedom));
  const NoiseSquare square = noise_square(map, survey);
  const Figure noise_x = [square](const SampleSquares& m) { return square(m.scatter_x, m.rounding_x); };
  const Figure noise_y = [square](const SampleSquares& m) { return square(m.scatter_y, m.rounding_y); };
  const Figure noise = [&](const SampleSquares& m) { return (noise_x(m) + noise_y(m)) / 2; };
  const Figure both = [](const SampleSquares& m) { return (m.slope_x + m.slope_y) / 2; };
  const Figure none = [](const SampleSquares&) { return 0.0; };
  const Estimate humps = hump_square(map), nothing{0, 0, "1"};
  map.rms_x = rms_of(
      map, squares_of, [](const SampleSquares& m) { return m.slope_x; }, noise_x, spread, humps, "rad");
  map.rms_y = rms_of(
      map, squares_of, [](const SampleSquares& m) { return m.slope_y; }, noise_y, spread, humps, "rad");
  map.rms = rms_of(map, squares_of, both, noise, spread, humps, "rad");
  map.raw_rms = rms_of(map, squares_of, both, none, 0, humps, "rad");
  map.scatter_rms = rms_of(map, squares_of, noise, none, 0, nothing, "rad").value;
  const double least = survey.least_noise() * survey.least_noise();
  const Figure rounded = [least](const SampleSquares&) { return least; };
  map.half_path_rms = rms_of(
      map, squares_of, [](const SampleSquares& m) { return m.half_path; }, rounded, survey.noise.freedom > 0 ? spread : 0,
      nothing, "m");
}

double sum_of(const std::vector<double>& weights, const std::vector<std::size_t>& index, const std::vector<double>& readings) {
  double sum = 0;
  for (std::size_t k = 0; k < index.size(); ++k) sum += weights[k] * readings[index[k]];
  return sum;
}

/// The squares of every sample under the rule for the rms.
std::vector<SampleSquares> all_squares(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map,
                                       const LocalWork& work) {
  const LocalRule rule = sharp_rule(map.samples, work);
  // Rounding errors of neighbours are alike where the surface is nearly level, so their slopes are found by doing it.
  std::vector<std::vector<double>> rounded;
  constexpr int lifts = 8;
  for (int k = 0; k < lifts && survey.step > 0; ++k) rounded.push_back(rounding_errors(survey, fit, map, k, lifts));
  std::vector<SampleSquares> out;
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    const LocalWeights weights = work.weights_at(i, rule);
    SampleSquares s;
    s.slope_x = std::pow(sum_of(weights.slope_u, weights.index, map.samples), 2);
    s.slope_y = std::pow(sum_of(weights.slope_v, weights.index, map.samples), 2);
    s.scatter_x = squares(weights.slope_u), s.scatter_y = squares(weights.slope_v);
    for (const std::vector<double>& errors : rounded) {
      s.rounding_x += std::pow(sum_of(weights.slope_u, weights.index, errors), 2) / lifts;
      s.rounding_y += std::pow(sum_of(weights.slope_v, weights.index, errors), 2) / lifts;
    }
    s.half_path = std::pow(map.samples[i].residual * map.samples[i].normal.z(), 2);
    out.push_back(s);
  }
  return out;
}

/// Finds the readings that stand out of the smooth surface by more than √(2 ln n) robust standard deviations: pure scatter
/// seldom does [donohojohnstone1994].
void add_humps(SlopeMap& map, const Neighbours& near, double least) {
  std::vector<double> sizes;
  for (std::size_t i = 0; i < map.points.size(); ++i) sizes.push_back(std::abs(map.samples[i].residual - map.points[i].value));
  const double sigma = std::max(median(std::move(sizes)) / normal_quartile, least);
  const double clear = std::sqrt(2 * std::log(static_cast<double>(map.points.size()))) * sigma;
  std::vector<LoneHump> humps;
  for (std::size_t i = 0; i < map.points.size(); ++i) {
    const double height = map.samples[i].residual - map.points[i].value;
    if (std::abs(height) <= clear || std::abs(height) < 1e-9) continue;
    double reach = 0;
    constexpr std::size_t company = 6;
    for (const Neighbour& other : near.nearest(map.samples[i].place, company + 1)) reach += other.distance / company;
    humps.push_back({i, height, reach});
  }
  // Many of them are not humps but a rough surface: it stays scatter.
  if (30 * humps.size() > map.points.size()) return;
  for (const LoneHump& hump : humps) {
    map.points[hump.sample].value += hump.height;
    map.points[hump.sample].value_error = sigma;
  }
  map.humps = std::move(humps);
}

}  // namespace

std::pair<Vector3, Vector3> tangents(const Vector3& normal) {
  const Vector3 along_y = normal.cross(Vector3(1, 0, 0)).normalized();
  return {along_y.cross(normal), along_y};
}

std::vector<double> rounding_errors(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map, int draw, int draws) {
  // Evenly spread numbers: multiples of powers of the root of x³ = x + 1.
  constexpr double first = 0.7548776662466927, second = 0.5698402909980532;
  const auto part = [draw](double per) { return std::fmod((draw + 0.5) * per, 1.0); };
  const double lift = (draw + 0.5) / draws, steeper = 2 * part(first) - 1, deeper = 2 * part(second) - 1;
  std::vector<Vector3> places;
  Vector3 middle = Vector3::Zero();
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    const SurveySample& sample = map.samples[i];
    places.push_back(fit.shape.from_own(sample.foot + map.points[i].value * sample.normal));
    middle += places.back() / static_cast<double>(map.samples.size());
  }
  double reach = 0;
  for (const Vector3& place : places) reach = std::max(reach, (place - middle).head<2>().norm());
  std::vector<double> out;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double from_middle = reach > 0 ? (places[i] - middle).head<2>().norm() / reach : 0;
    const double z = places[i].z() / survey.step + lift + from_middle * (steeper + deeper * from_middle);
    out.push_back((std::round(z) - z) * survey.step * (fit.shape.turn * map.samples[i].normal).z());
  }
  return out;
}

double smoothed_away(const SlopeMap& map) {
  double smooth = 0;
  for (std::size_t i = 0; i < map.points.size(); ++i) {
    const SlopePoint& p = map.points[i];
    smooth += map.samples[i].share *
              (p.slope_x * p.slope_x + p.slope_y * p.slope_y - p.error_x * p.error_x - p.error_y * p.error_y) / 2;
  }
  // The lone humps stand on the smooth surface whole.
  return std::sqrt(std::max(0.0, map.rms.value * map.rms.value - hump_square(map).value - std::max(0.0, smooth)));
}

double rounding_slope_noise(double step, double spacing) { return std::sqrt(2.0) * step / std::sqrt(12.0) / spacing; }

FitVector taken_up(const PlacedShape& shape, const std::vector<SurveySample>& samples, std::vector<double>& errors) {
  const auto count = static_cast<Eigen::Index>(samples.size());
  Eigen::MatrixXd slopes(count, fit_numbers);
  for (Eigen::Index i = 0; i < count; ++i) {
    const SurveySample& sample = samples[static_cast<std::size_t>(i)];
    slopes.row(i) = distance_slopes(shape, {sample.foot, sample.normal, sample.residual});
  }
  // In units of their own, so that none is lost beside another; numbers that are not free have columns of noughts.
  FitVector units = slopes.colwise().norm();
  units = (units.array() > 0).select(units, 1);
  const Eigen::Map<Eigen::VectorXd> all(errors.data(), count);
  const Eigen::MatrixXd scaled = slopes * units.cwiseInverse().asDiagonal();
  FitVector change = -shortest_least_squares(scaled, all).cwiseQuotient(units);
  if (!change.allFinite()) return FitVector::Zero();
  Eigen::Map<Eigen::VectorXd>(errors.data(), count) += slopes * change;
  return change;
}

SlopeMap slope_map(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  SlopeMap map;
  map.samples = samples_of(survey, keep, fit);
  std::vector<Eigen::Vector2d> places;
  for (const SurveySample& sample : map.samples) places.push_back(sample.place);
  const Neighbours near(std::move(places));
  map.area = share_out(map.samples, near, fit.shape.round(), map.gap);
  const LocalWork work(map.samples, near);
  map.rule = best_rule(map.samples, work, 1);
  map.rule.reach = work.reach_of(map.rule.count);
  std::vector<double> spacings;
  double squared = 0, freedom = 0;
  for (std::size_t i = 0; i < map.samples.size(); ++i) {
    const LocalWeights weights = work.weights_at(i, map.rule);
    SlopePoint point;
    point.value = sum_of(weights.value, weights.index, map.samples);
    point.slope_x = sum_of(weights.slope_u, weights.index, map.samples);
    point.slope_y = sum_of(weights.slope_v, weights.index, map.samples);
    point.value_error = std::sqrt(squares(weights.value));
    point.error_x = std::sqrt(squares(weights.slope_u));
    point.error_y = std::sqrt(squares(weights.slope_v));
    map.points.push_back(point);
    squared += std::pow(map.samples[i].residual - point.value, 2);
    freedom += 1 - 2 * own_weight(weights, i) + squares(weights.value);
    spacings.push_back(near.nearest(map.samples[i].place, 2).back().distance);
  }
  map.reading_scatter = std::sqrt(squared / std::max(1.0, freedom));
  if (survey.noise.freedom > 0) map.reading_scatter = survey.least_noise(), freedom = survey.noise.freedom;
  for (SlopePoint& point : map.points) {
    for (double* error : {&point.value_error, &point.error_x, &point.error_y})
      *error *= std::max(map.reading_scatter, survey.least_noise());
  }
  map.spacing = median(std::move(spacings));
  // The mean of a cell is no single reading.
  if (map.samples.size() == static_cast<std::size_t>(std::count(keep.begin(), keep.end(), 1)))
    add_humps(map, near, survey.least_noise());
  add_rms(map, all_squares(survey, fit, map, work), freedom, survey);
  return map;
}

}  // namespace dishwright
