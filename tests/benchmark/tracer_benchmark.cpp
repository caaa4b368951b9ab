// SPDX-License-Identifier: MIT
// The whole tracer against a bare loop of the same work: what the book-keeping costs. tests/benchmark/ratios.sh prints the ratio.
#include <benchmark/benchmark.h>

#include <cmath>
#include <memory>

#include "base/simd_math.h"
#include "benchmark_scenes.h"
#include "study/ray_figures.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

constexpr std::uint64_t paths = 8'000'000;

/// scenes/kettle-dish with a disk for the pot.
Scene with_disk() {
  Scene scene = kettle_dish(DiskTarget{0.1524});
  scene.trace.paths = paths;
  return scene;
}

/// The same rays without anything that a trustworthy answer needs: single precision throughout, no exact hit points, no ledger,
/// no spot figures, no replicates. Staged arrays of 512, as fast as we can write them.
class BareLoop {
 public:
  explicit BareLoop(const Scene& scene) : stage_(scene), disc_(scene.sun.disc, scene.sun.half_angle, 0), map_(144 * 144, 0) {}

  void block(const SobolReplicate& sobol, std::uint32_t first) {
    sobol.fill(first, 0, 6, draws_);
    start();
    stage_.world.nearest(RayMask::shades, rays_, 10.0F);
    reflect();
    stage_.world.nearest(RayMask::everything, rays_, 1e30F);
    bin();
  }
  std::int64_t light() const { return map_[72 * 144 + 72]; }

 private:
  void start() {
    constexpr float hole2 = 0.0254F * 0.0254F, span = 0.6096F * 0.6096F - hole2;
    sincos_of_turns(draws_[5].data(), sine_.data(), cosine_.data(), block_size);
    disc_.sin_angles(draws_[2].data(), angle_.data(), block_size);
    sincos_of_turns(draws_[3].data(), sine_b_.data(), cosine_b_.data(), block_size);
    rays_.n = block_size;
#pragma omp simd
    for (int i = 0; i < block_size; ++i) {
      const float r2 = hole2 + span * draws_[4][i], r = std::sqrt(r2);
      x_[i] = r * cosine_[i], y_[i] = r * sine_[i], z_[i] = r2 / (4 * 0.6096F);
      dx_[i] = -angle_[i] * cosine_b_[i], dy_[i] = -angle_[i] * sine_b_[i];
      dz_[i] = -std::sqrt(1 - angle_[i] * angle_[i]);
      rays_.ox[i] = x_[i] - 3 * dx_[i], rays_.oy[i] = y_[i] - 3 * dy_[i], rays_.oz[i] = z_[i] - 3 * dz_[i];
      rays_.dx[i] = dx_[i], rays_.dy[i] = dy_[i], rays_.dz[i] = dz_[i];
      rays_.start_gap[i] = 0;
      rays_.own_surface[i] = -1, rays_.own_again[i] = 0;
    }
  }

  void reflect() {
    normal_radius(draws_[0].data(), angle_.data(), block_size);
    sincos_of_turns(draws_[1].data(), sine_.data(), cosine_.data(), block_size);
#pragma omp simd
    for (int i = 0; i < block_size; ++i) {
      lit_[i] = rays_.distance[i] >= 2.99F ? 1 : 0;
      const float nx = -x_[i] + angle_[i] * cosine_[i] * 4e-3F * 1.2F, ny = -y_[i] + angle_[i] * sine_[i] * 4e-3F * 1.2F,
                  nz = 1.2192F;
      const float scale = 2 * (dx_[i] * nx + dy_[i] * ny + dz_[i] * nz) / (nx * nx + ny * ny + nz * nz);
      rays_.ox[i] = x_[i], rays_.oy[i] = y_[i], rays_.oz[i] = z_[i];
      rays_.dx[i] = dx_[i] - scale * nx, rays_.dy[i] = dy_[i] - scale * ny, rays_.dz[i] = dz_[i] - scale * nz;
      rays_.start_gap[i] = 1e-5F;
      rays_.own_surface[i] = -1, rays_.own_again[i] = 0;
    }
  }

  void bin() {
#pragma omp simd
    for (int i = 0; i < block_size; ++i) {
      const float u = static_cast<float>(rays_.ox[i] + rays_.distance[i] * rays_.dx[i]) * (144 / 0.1524F) + 72;
      const float v = static_cast<float>(rays_.oy[i] + rays_.distance[i] * rays_.dy[i]) * (144 / 0.1524F) + 72;
      const bool in = (rays_.surface[i] == 1) & (lit_[i] != 0) & (u >= 0) & (u < 144) & (v >= 0) & (v < 144);
      bin_[i] = in ? static_cast<int>(v) * 144 + static_cast<int>(u) : 0;
    }
    for (int i = 0; i < block_size; ++i) ++map_[static_cast<std::size_t>(bin_[static_cast<std::size_t>(i)])];
  }

  TraceContext stage_;
  DiscSampler disc_;
  DrawBlock draws_;
  RayBlock rays_;
  BlockArray<float> sine_, cosine_, sine_b_, cosine_b_, angle_, x_, y_, z_, dx_, dy_, dz_;
  BlockArray<int> lit_, bin_;
  std::vector<std::int64_t> map_;
};

void BM_bare_loop(benchmark::State& state) {
  const auto loop = std::make_unique<BareLoop>(with_disk());
  const SobolReplicate sobol(1, 0);
  for (auto _ : state) {
    for (std::uint32_t first = 0; first < paths; first += block_size) loop->block(sobol, first);
    benchmark::DoNotOptimize(loop->light());
  }
  state.counters["paths_per_second"] =
      benchmark::Counter(static_cast<double>(paths) * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}
BENCHMARK(BM_bare_loop)->Unit(benchmark::kMillisecond)->UseRealTime();

void trace_on(benchmark::State& state, int threads) {
  const Scene scene = with_disk();
  for (auto _ : state) {
    Watch watch;
    benchmark::DoNotOptimize(ray_figures(scene, threads, watch));
  }
  state.counters["paths_per_second"] =
      benchmark::Counter(static_cast<double>(paths) * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}
void BM_tracer(benchmark::State& state) { trace_on(state, static_cast<int>(state.range(0))); }
BENCHMARK(BM_tracer)->ArgName("threads")->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

}  // namespace dishwright
