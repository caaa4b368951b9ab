// SPDX-License-Identifier: MIT
// How many paths bring the brightest place to 1 % and to 0.1 %: scrambled Sobol' points against plain pseudo-random ones.
#include <benchmark/benchmark.h>

#include <cmath>
#include <memory>

#include "base/simd_math.h"
#include "sky/disc.h"
#include "trace/rays.h"

namespace dishwright {

namespace {

/// Light of the kettle dish (48 in wide, focal length 24 in, slope error 4 mrad) in the disc over which peak_irradiance is a
/// mean: 1/10 of the spot's half-light width (15 mm) across, around the focus.
class FocalBin {
 public:
  double share(const DrawBlock& draws) {
    sincos_of_turns(draws[5].data(), s_.data(), c_.data(), block_size);
    disc_.sin_angles(draws[2].data(), angle_.data(), block_size);
    sincos_of_turns(draws[3].data(), sb_.data(), cb_.data(), block_size);
    normal_radius(draws[0].data(), tilt_.data(), block_size);
    sincos_of_turns(draws[1].data(), st_.data(), ct_.data(), block_size);
    constexpr float f = 0.6096F, rim = 0.6096F, reach = 0.00075F;
    int hits = 0;
    for (int i = 0; i < block_size; ++i) {
      const float r = rim * std::sqrt(draws[4][i]), x = r * c_[i], y = r * s_[i], z = r * r / (4 * f);
      const float dx = -angle_[i] * cb_[i], dy = -angle_[i] * sb_[i], dz = -std::sqrt(1 - angle_[i] * angle_[i]);
      const float nx = -x / (2 * f) + 4e-3F * tilt_[i] * ct_[i], ny = -y / (2 * f) + 4e-3F * tilt_[i] * st_[i];
      const float scale = 2 * (dx * nx + dy * ny + dz) / (nx * nx + ny * ny + 1);
      const float ux = dx - scale * nx, uy = dy - scale * ny, uz = dz - scale, t = (f - z) / uz;
      const float px = x + t * ux, py = y + t * uy;
      hits += px * px + py * py < reach * reach ? 1 : 0;
    }
    return static_cast<double>(hits) / block_size;
  }

 private:
  DiscSampler disc_{DiscProfile::limb_darkened, 4.65e-3, 0};
  BlockArray<float> s_, c_, sb_, cb_, st_, ct_, angle_, tilt_;
};

template <class Fill>
double share_of(FocalBin& bin, std::uint32_t paths, const Fill& fill) {
  static DrawBlock draws;
  double sum = 0;
  for (std::uint32_t first = 0; first < paths; first += block_size) {
    fill(first, draws);
    sum += bin.share(draws);
  }
  return sum * block_size / paths;
}

/// Relative standard error of one run of so many paths, from independent runs; itself known to 1/√(2 runs).
template <class MakeFill>
double relative_error(FocalBin& bin, std::uint32_t paths, std::uint32_t runs, const MakeFill& make_fill) {
  double sum = 0, squares = 0;
  for (std::uint32_t run = 0; run < runs; ++run) {
    const double share = share_of(bin, paths, make_fill(run));
    sum += share;
    squares += share * share;
  }
  const double mean = sum / runs;
  return std::sqrt(std::max(0.0, squares / runs - mean * mean)) / mean;
}

/// Paths at which the error, measured at powers of two, passes a level (straight line in the logarithms).
template <class MakeFill>
std::pair<double, double> paths_for_levels(const MakeFill& make_fill) {
  const auto bin = std::make_unique<FocalBin>();
  std::pair<double, double> paths{0, 0};
  double before = 0;
  for (std::uint32_t n = 1U << 13U; n <= 1U << 25U; n *= 2) {
    const double error = relative_error(*bin, n, 256, make_fill);
    const auto crossing = [&](double level) { return n * std::exp2(-std::log(level / error) / std::log(before / error)); };
    if (paths.first == 0 && error < 0.01) paths.first = before > 0 ? crossing(0.01) : n;
    if (error < 0.001) return {paths.first, crossing(0.001)};
    before = error;
  }
  return paths;
}

void report(benchmark::State& state, const std::pair<double, double>& paths) {
  state.counters["paths_for_1_percent"] = paths.first;
  state.counters["paths_for_0.1_percent"] = paths.second;
}

void BM_sobol_error(benchmark::State& state) {
  std::pair<double, double> paths;
  for (auto _ : state) {
    paths = paths_for_levels([](std::uint32_t run) {
      return [sobol = SobolReplicate(1, run)](std::uint32_t first, DrawBlock& draws) { sobol.fill(first, 0, 6, draws); };
    });
  }
  report(state, paths);
}
BENCHMARK(BM_sobol_error)->Unit(benchmark::kMillisecond)->Iterations(1)->Repetitions(1);  // its seeds are fixed

void BM_pseudo_error(benchmark::State& state) {
  std::pair<double, double> paths;
  constexpr std::uint32_t measured_at = 1U << 13U;
  for (auto _ : state) {
    const auto bin = std::make_unique<FocalBin>();
    const double error = relative_error(*bin, measured_at, 4096, [](std::uint32_t run) {
      return [draw = HashedDraws(2, run)](std::uint32_t first, DrawBlock& draws) {
        for (std::uint32_t i = 0; i < block_size; ++i) {
          for (int d = 0; d < 6; ++d) draws[static_cast<std::size_t>(d)][i] = draw.at(first + i, 0, static_cast<Draw>(d));
        }
      };
    });
    // Independent points: the error falls exactly as 1/√paths.
    paths = {measured_at * std::pow(error / 0.01, 2), measured_at * std::pow(error / 0.001, 2)};
  }
  report(state, paths);
}
BENCHMARK(BM_pseudo_error)->Unit(benchmark::kMillisecond)->Iterations(1)->Repetitions(1);

}  // namespace

}  // namespace dishwright
