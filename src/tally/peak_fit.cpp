// SPDX-License-Identifier: MIT
#include "tally/peak_fit.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/estimate.h"
#include "tally/peak_surface.h"
#include "trace/rays.h"

namespace dishwright {

namespace {

constexpr int cells = PeakCounts::cells;
constexpr double inner = 0.5;          // the brightest place is sought in this part of a patch, and up to where the face ends
constexpr double near_middle = 0.25;   // there no move is needed
constexpr double least_reach = 0.9;    // half width of a patch, in discs
constexpr int most_moves = 4;          // of the patch after the brightest place
constexpr double agree = 1.5;          // standard errors within which the two surfaces must meet in the middle
constexpr double slopes_agree = 2;     // and their slopes there
constexpr double patches_agree = 3.2;  // standard errors within which a patch must tell the disc as each with less light does
constexpr double enough_to_compare = 4000;  // paths a patch, from which on it is held to that (decision 16)
constexpr double enough_for_discs = 400;    // paths a disc, from which on single discs may be counted
constexpr double shrink = 0.8;              // of the chosen patch, for reading the value off

/// Replicates by half: the even ones, the odd ones.
constexpr std::size_t halves = 2, both = 2;

/// What the jackknife with its places held does not see: where the places are, and what the polynomial leaves out. Measured
/// (decision 16).
constexpr double place_and_model = 1.04;

class PeakSearch {
 public:
  explicit PeakSearch(const PeakCounts& counts)
      : counts_(counts),
        replicates_(static_cast<int>(counts.paths.size())),
        cell_x_(2 * counts.half_x / cells),
        cell_y_(2 * counts.half_y / cells),
        light_(replicates_, cells * cells) {
    for (const double share : counts.on_face) whole_.push_back(share == 1 ? 1 : 0);
    take_light();
  }

  std::optional<FoundPeak> find() {
    if (light_.sum() * cell_x_ * cell_y_ < least_peak_paths || replicates_ < 2) return std::nullopt;
    // A disc about as wide as the face has no room to be sought in, nor a surface.
    if (std::min(counts_.half_x, counts_.half_y) < least_reach * counts_.disc) return by_single_discs();
    clear_edges();
    Place from{counts_.start_x, counts_.start_y};
    counts_.keep_on_face(from.x, from.y);
    std::optional<Chosen> chosen;
    for (int move = 0; move < most_moves; ++move) {
      chosen = choose(from);
      if (!chosen) return by_single_discs();
      from = brightest(*chosen, terms_of(chosen->surface.plain, -1, both));
      const Place& before = chosen->wish.at;
      if (std::max(std::abs(from.x - before.x) / chosen->half_x, std::abs(from.y - before.y) / chosen->half_y) < near_middle)
        break;
    }
    return by_surface(shrunk(std::move(*chosen)));
  }

 private:
  struct Place {
    double x = 0, y = 0;  // from the window's middle [m]
  };
  /// A patch as it would be if the window did not end.
  struct Wish {
    Place at;
    double half_x = 0, half_y = 0;  // [m]
  };
  struct Chosen {
    SurfaceFit::Surface surface;
    Wish wish;
    double x = 0, y = 0, half_x = 0, half_y = 0;  // of the patch [m]
  };

  void take_light() {
    const double per = 1 / (full_weight * cell_x_ * cell_y_);
    for (int r = 0; r < replicates_; ++r) {
      for (int c = 0; c < cells * cells; ++c) {
        const std::size_t cell = static_cast<std::size_t>(c);
        const double share = counts_.on_face[cell], weight = share > 0 ? counts_.facing[cell] / share * per : 0;
        light_(r, c) = weight * static_cast<double>((*counts_.weight)[static_cast<std::size_t>(r) * cells * cells + cell]);
      }
    }
  }
  /// Surfaces are laid through whole cells only.
  void clear_edges() {
    for (int c = 0; c < cells * cells; ++c) {
      if (whole_[static_cast<std::size_t>(c)] == 0) light_.col(c).setZero();
    }
  }

  /// The cells of a wish that the window has.
  SurfacePatch patch(const Wish& wish) const {
    SurfacePatch out;
    out.middle_x = (wish.at.x + counts_.half_x) / cell_x_, out.middle_y = (wish.at.y + counts_.half_y) / cell_y_;
    out.half_x = wish.half_x / cell_x_, out.half_y = wish.half_y / cell_y_;
    const auto first = [](double from) { return std::max(0, static_cast<int>(std::ceil(from - 1e-9))); };
    const auto end = [](double to) { return std::min(cells, static_cast<int>(std::floor(to + 1e-9))); };
    out.first_column = first(out.middle_x - out.half_x), out.end_column = end(out.middle_x + out.half_x);
    out.first_row = first(out.middle_y - out.half_y), out.end_row = end(out.middle_y + out.half_y);
    // Where the window ends sooner, the patch is smaller.
    out.middle_x = (out.first_column + out.end_column) / 2.0, out.middle_y = (out.first_row + out.end_row) / 2.0;
    out.half_x = (out.end_column - out.first_column) / 2.0, out.half_y = (out.end_row - out.first_row) / 2.0;
    return out;
  }

  /// Mean over replicates of numbers per path, in standard errors.
  double significance(const Eigen::VectorXd& sums) const {
    Eigen::VectorXd each = sums;
    for (int r = 0; r < replicates_; ++r) each(r) /= counts_.paths[static_cast<std::size_t>(r)];
    const double mean = each.mean();
    const double error = std::sqrt((each.array() - mean).square().sum() / (replicates_ - 1) / replicates_);
    return error > 0 ? mean / error : 0;
  }

  /// Do the surfaces of degree 2 and 4 agree where the patch was wished about, in height and slope?
  bool agrees(const Chosen& chosen) const {
    const Eigen::MatrixXd apart = chosen.surface.plain - chosen.surface.terms;
    const double u = (chosen.wish.at.x - chosen.x) / chosen.half_x, v = (chosen.wish.at.y - chosen.y) / chosen.half_y;
    const auto sure = [&](const SurfaceTerms& terms) { return std::abs(significance(apart * terms)); };
    return sure(ellipse_means(u, v, 0, 0)) <= agree &&
           std::max(sure(slope_terms(u, v, 0)), sure(slope_terms(u, v, 1))) <= slopes_agree;
  }

  /// All patches about a place that hold enough light, by rising light.
  std::vector<Chosen> patches_about(const Place& at) const {
    SurfaceFit fit(light_, whole_, cells);
    std::vector<Chosen> all;
    const double least = least_reach * counts_.disc;
    for (const double part_x : peak_parts) {
      if (part_x * counts_.half_x < least && part_x < 1) break;
      bool first = true;
      for (const double part_y : peak_parts) {
        if (part_y * counts_.half_y < least && part_y < 1) break;
        const Wish wish{at, part_x * counts_.half_x, part_y * counts_.half_y};
        const SurfacePatch here = patch(wish);
        if (first) fit.take_columns(here);
        first = false;
        std::optional<SurfaceFit::Surface> surface = fit.lay(here);
        if (!surface) continue;
        if (surface->light * cell_x_ * cell_y_ < least_peak_paths) break;
        all.push_back(laid(std::move(*surface), here, wish));
      }
    }
    std::stable_sort(all.begin(), all.end(), [](const Chosen& a, const Chosen& b) { return a.surface.light < b.surface.light; });
    return all;
  }

  /// The patch about a place with the most light of those in which the surfaces agree, and agree with those of all patches with
  /// less light.
  std::optional<Chosen> choose(const Place& at) const {
    std::vector<Chosen> all = patches_about(at);
    if (all.empty()) return std::nullopt;
    Eigen::MatrixXd values(replicates_, static_cast<Eigen::Index>(all.size()));
    Eigen::Index best = -1;
    for (Eigen::Index k = 0; k < values.cols(); ++k) {
      const Chosen& here = all[static_cast<std::size_t>(k)];
      Place place = at;
      values.col(k) = here.surface.terms * disc_terms(here, place);
      bool one = agrees(here);
      for (Eigen::Index less = 0; one && less < k; ++less)
        one = paths_in(all[static_cast<std::size_t>(less)]) < enough_to_compare ||
              std::abs(significance(values.col(k) - values.col(less))) <= patches_agree;
      if (one) best = k;
    }
    if (best >= 0) return std::move(all[static_cast<std::size_t>(best)]);
    // Few paths disagree by chance; many do where the light has an edge or a point that no smooth surface follows.
    if (disc_paths(all.front()) > enough_for_discs) return std::nullopt;
    return std::move(all.front());
  }
  double paths_in(const Chosen& chosen) const { return chosen.surface.light * cell_x_ * cell_y_; }
  /// Paths that a single disc in the patch holds.
  double disc_paths(const Chosen& chosen) const {
    const double share = std::numbers::pi * counts_.disc * counts_.disc / 4 / (4 * chosen.half_x * chosen.half_y);
    return chosen.surface.light * cell_x_ * cell_y_ * std::min(1.0, share);
  }

  /// A patch in which the fourth degree fits far better than it was asked to: what it still leaves out goes with the fourth to
  /// sixth power of the width.
  Chosen shrunk(Chosen chosen) const {
    const double least = least_reach * counts_.disc;
    const Wish wish{chosen.wish.at, std::max(shrink * chosen.wish.half_x, least), std::max(shrink * chosen.wish.half_y, least)};
    const SurfacePatch less = patch(wish);
    SurfaceFit fit(light_, whole_, cells);
    fit.take_columns(less);
    std::optional<SurfaceFit::Surface> surface = fit.lay(less);
    if (!surface || surface->light * cell_x_ * cell_y_ < least_peak_paths) return chosen;
    return laid(std::move(*surface), less, wish);
  }
  Chosen laid(SurfaceFit::Surface surface, const SurfacePatch& patch, const Wish& wish) const {
    return {std::move(surface),
            wish,
            patch.middle_x * cell_x_ - counts_.half_x,
            patch.middle_y * cell_y_ - counts_.half_y,
            patch.half_x * cell_x_,
            patch.half_y * cell_y_};
  }

  /// Coefficients from the replicates of one half (or of both) but one.
  SurfaceTerms terms_of(const Eigen::MatrixXd& terms, int left_out, std::size_t half) const {
    SurfaceTerms sum = SurfaceTerms::Zero();
    double paths = 0;
    for (int r = 0; r < replicates_; ++r) {
      if (r == left_out || (half != both && static_cast<std::size_t>(r) % halves != half)) continue;
      sum += terms.row(r).transpose();
      paths += counts_.paths[static_cast<std::size_t>(r)];
    }
    return paths > 0 ? SurfaceTerms(sum / paths) : sum;
  }

  /// Mean over the disc about a place, which is moved onto the face: what the terms' coefficients are to be multiplied by.
  SurfaceTerms disc_terms(const Chosen& chosen, Place& at) const {
    counts_.keep_on_face(at.x, at.y);
    const double radius = counts_.disc / 2;
    return ellipse_means((at.x - chosen.x) / chosen.half_x, (at.y - chosen.y) / chosen.half_y, radius / chosen.half_x,
                         radius / chosen.half_y);
  }

  /// Where the brightest place is sought, in the patch's coordinates.
  struct SearchArea {
    double from_u = 0, to_u = 0, from_v = 0, to_v = 0;
  };
  /// The inner part of a patch, and up to its edge where the face ends there.
  SearchArea search_area(const Chosen& chosen) const {
    constexpr double slack = 1e-9, beyond = 1e-3;
    const auto reach = [&](double du, double dv) {
      Place edge{chosen.x + du * chosen.half_x, chosen.y + dv * chosen.half_y};
      const Place past{edge.x + beyond * du * cell_x_, edge.y + beyond * dv * cell_y_};
      edge = past;
      counts_.keep_on_face(edge.x, edge.y);
      const bool ends = std::hypot(edge.x - past.x, edge.y - past.y) > counts_.disc / 4;
      return (ends ? 1 : inner) * (1 + slack);
    };
    return {-reach(-1, 0), reach(1, 0), -reach(0, -1), reach(0, 1)};
  }

  Place brightest(const Chosen& chosen, const SurfaceTerms& terms) const {
    constexpr int side = 8;
    Place best;
    double most = -1e300, step = 1.0 / side;
    const SearchArea area = search_area(chosen);
    const auto look = [&](double u, double v) {
      if (u < area.from_u || u > area.to_u || v < area.from_v || v > area.to_v) return;
      Place at{chosen.x + u * chosen.half_x, chosen.y + v * chosen.half_y};
      const double value = disc_terms(chosen, at).dot(terms);
      if (value > most) most = value, best = at;
    };
    for (int i = -side; i <= side; ++i) {
      for (int j = -side; j <= side; ++j) look(i * step, j * step);
    }
    for (int round = 0; round < 5; ++round) {
      step /= 2;
      const double u = (best.x - chosen.x) / chosen.half_x, v = (best.y - chosen.y) / chosen.half_y;
      for (int i = -1; i <= 1; ++i) {
        for (int j = -1; j <= 1; ++j) look(u + i * step, v + j * step);
      }
    }
    return best;
  }

  /// Second derivative along (du, dv) of a surface of degree 2.
  static double bend(const SurfaceTerms& plain, double du, double dv) {
    return 2 * (plain(3) * du * du + plain(4) * du * dv + plain(5) * dv * dv);
  }

  FoundPeak by_surface(const Chosen& chosen) const {
    FoundPeak out;
    out.reach_x = chosen.half_x, out.reach_y = chosen.half_y;
    const SurfaceFit::Surface& surface = chosen.surface;
    std::array<Place, halves> found;
    for (std::size_t half = 0; half < halves; ++half) found[half] = brightest(chosen, terms_of(surface.plain, -1, half));
    const double apart = bend(terms_of(surface.plain, -1, both), (found[0].x - found[1].x) / chosen.half_x,
                              (found[0].y - found[1].y) / chosen.half_y) /
                         4;
    // Where the places are is left alone when a replicate is left out: at the top of the surface that matters to second order
    // only.
    const auto value = [&](int left_out) {
      double sum = 0;
      for (std::size_t half = 0; half < halves; ++half)
        sum += disc_terms(chosen, found[half]).dot(terms_of(surface.terms, left_out, 1 - half)) / halves;
      return sum - apart;
    };
    out.value = value(-1);
    for (int r = 0; r < replicates_; ++r) out.without_one.push_back(out.value + place_and_model * (value(r) - out.value));
    out.x = (found[0].x + found[1].x) / 2, out.y = (found[0].y + found[1].y) / 2;
    return out;
  }

  /// By replicate: paths per area of the disc about a place.
  Eigen::VectorXd disc_light(const Place& at) const {
    constexpr int fine = 4;  // points of a cell each way
    const double radius = counts_.disc / 2;
    const SurfacePatch box = patch({at, radius + cell_x_, radius + cell_y_});
    const auto squares = [](int cell, double width, double half, double middle) {
      std::array<double, fine> out{};
      for (int k = 0; k < fine; ++k)
        out[static_cast<std::size_t>(k)] = std::pow((cell + (k + 0.5) / fine) * width - half - middle, 2);
      return out;
    };
    std::array<std::array<double, fine>, cells> x2;
    for (int column = box.first_column; column < box.end_column; ++column)
      x2[static_cast<std::size_t>(column)] = squares(column, cell_x_, counts_.half_x, at.x);
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(replicates_);
    double all = 0;
    for (int row = box.first_row; row < box.end_row; ++row) {
      const std::array<double, fine> y2 = squares(row, cell_y_, counts_.half_y, at.y);
      for (int column = box.first_column; column < box.end_column; ++column) {
        int inside = 0;
        for (const double y : y2) {
          for (const double x : x2[static_cast<std::size_t>(column)]) inside += x + y < radius * radius ? 1 : 0;
        }
        if (inside == 0) continue;
        const double part = inside * counts_.on_face[static_cast<std::size_t>(row * cells + column)];
        sum += part * light_.col(row * cells + column);
        all += part;
      }
    }
    return all > 0 ? Eigen::VectorXd(sum / all) : sum;
  }

  /// Places of whole discs, about half a cell apart.
  std::vector<Place> disc_places() const {
    std::vector<Place> places;
    for (int row = 1; row < 2 * cells; ++row) {
      for (int column = 1; column < 2 * cells; ++column) {
        const Place wish{column / 2.0 * cell_x_ - counts_.half_x, row / 2.0 * cell_y_ - counts_.half_y};
        Place at = wish;
        counts_.keep_on_face(at.x, at.y);
        if (std::abs(at.x - wish.x) <= cell_x_ / 2 && std::abs(at.y - wish.y) <= cell_y_ / 2) places.push_back(at);
      }
    }
    return places;
  }

  FoundPeak by_single_discs() {
    take_light();
    const std::vector<Place> places = disc_places();
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> light(replicates_,
                                                                                 static_cast<Eigen::Index>(places.size()));
    for (std::size_t k = 0; k < places.size(); ++k) light.col(static_cast<Eigen::Index>(k)) = disc_light(places[k]);
    // By half: sums of the light at each place, and of the paths.
    std::array<Eigen::RowVectorXd, halves> sums;
    std::array<double, halves> paths{};
    for (Eigen::RowVectorXd& sum : sums) sum = Eigen::RowVectorXd::Zero(light.cols());
    for (int r = 0; r < replicates_; ++r) {
      const std::size_t half = static_cast<std::size_t>(r) % halves;
      sums[half] += light.row(r);
      paths[half] += counts_.paths[static_cast<std::size_t>(r)];
    }
    FoundPeak out;
    const auto value = [&](int left_out) {
      double mean = 0;
      for (std::size_t half = 0; half < halves; ++half) {
        Eigen::RowVectorXd found = sums[half], other = sums[1 - half];
        double other_paths = paths[1 - half];
        if (left_out >= 0) {
          const bool own = static_cast<std::size_t>(left_out) % halves == half;
          (own ? found : other) -= light.row(left_out);
          if (!own) other_paths -= counts_.paths[static_cast<std::size_t>(left_out)];
        }
        Eigen::Index best = 0;
        found.maxCoeff(&best);
        mean += other_paths > 0 ? other(best) / other_paths / halves : 0;
      }
      return mean;
    };
    out.value = places.empty() ? 0 : value(-1);
    for (int r = 0; r < replicates_; ++r) out.without_one.push_back(places.empty() ? 0 : value(r));
    return out;
  }

  const PeakCounts& counts_;
  int replicates_;
  double cell_x_, cell_y_;
  std::vector<char> whole_;  // by cell: is all of it face?
  Eigen::MatrixXd light_;    // replicates × cells: paths per area
};

}  // namespace

std::optional<FoundPeak> find_peak(const PeakCounts& counts) {
  std::optional<FoundPeak> found = PeakSearch(counts).find();
  return found && found->value > 0 ? found : std::nullopt;
}

}  // namespace dishwright
