// SPDX-License-Identifier: MIT
// The whole tracer against a bare loop of the same work: what the book-keeping costs. tests/benchmark/ratios.sh prints the ratio.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>

#include "base/simd_math.h"
#include "benchmark_scenes.h"
#include "study/ray_figures.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

constexpr std::uint64_t paths = 8'000'000, many_paths = 24'000'000;

/// scenes/kettle-dish with a disk for the pot.
Scene with_disk() {
  Scene scene = kettle_dish(DiskTarget{0.1524});
  scene.trace.paths = paths;
  return scene;
}

/// The ceiling: the steps that no ray of a kettle dish can do without, and nothing else: Sobol'-Owen points, the sun's disc, a
/// place on the mirror, its slope, the reflection, the plane of the target, a bin of one map. In double from the place to the
/// plane, in staged arrays of 512 on the vector lanes, as fast as we can write it. No shadow, no search, no ledger, no spot
/// figures, no replicates.
class BarePipeline {
 public:
  explicit BarePipeline(const Scene& scene) : disc_(scene.sun.disc, scene.sun.half_angle, 0), map_(256 * 256, 0) {}

  void block(const SobolReplicate& sobol, std::uint32_t first) {
    sobol.fill(first, 0, 6, draws_);
    sincos_of_turns(draws_[5].data(), sine_.data(), cosine_.data(), block_size);
    disc_.sin_angles(draws_[2].data(), angle_.data(), block_size);
    sincos_of_turns(draws_[3].data(), sine_b_.data(), cosine_b_.data(), block_size);
    normal_radius(draws_[0].data(), radius_.data(), block_size);
    sincos_of_turns(draws_[1].data(), sine_c_.data(), cosine_c_.data(), block_size);
    reflect();
    for (std::size_t i = 0; i < block_size; ++i) ++map_[static_cast<std::size_t>(bin_[i])];
  }
  std::int64_t light() const { return map_[128 * 256 + 128]; }

 private:
  void reflect() {
    constexpr float hole2 = 0.0254F * 0.0254F, span = 0.6096F * 0.6096F - hole2, slope = 4e-3F;
    constexpr double focal = 0.6096, per = 256 / 0.1524;
#pragma omp simd
    for (int i = 0; i < block_size; ++i) {
      // The place on the mirror, and the light there.
      const float r = std::sqrt(hole2 + span * draws_[4][i]);
      const double x = static_cast<double>(r * cosine_[i]), y = static_cast<double>(r * sine_[i]),
                   z = (x * x + y * y) * (0.25 / focal);
      const float sa = angle_[i];
      const double dx = static_cast<double>(-sa * cosine_b_[i]), dy = static_cast<double>(-sa * sine_b_[i]),
                   dz = static_cast<double>(sa * sa / (1 + std::sqrt(1 - sa * sa))) - 1;
      // The normal after its slope error, and the reflection about it.
      const double nx = static_cast<double>(radius_[i] * cosine_c_[i] * slope) * (2 * focal) - x,
                   ny = static_cast<double>(radius_[i] * sine_c_[i] * slope) * (2 * focal) - y, nz = 2 * focal;
      const double scale = 2 * (dx * nx + dy * ny + dz * nz) / (nx * nx + ny * ny + nz * nz);
      const double ux = dx - scale * nx, uy = dy - scale * ny, uz = dz - scale * nz;
      // The plane of the target, and a bin there.
      const double t = (focal - z) / uz;
      const double u = std::min(std::max((x + t * ux) * per + 128, 0.0), 255.0),
                   v = std::min(std::max((y + t * uy) * per + 128, 0.0), 255.0);
      bin_[i] = static_cast<int>(v) * 256 + static_cast<int>(u);
    }
  }

  DiscSampler disc_;
  DrawBlock draws_;
  BlockArray<float> sine_, cosine_, sine_b_, cosine_b_, sine_c_, cosine_c_, angle_, radius_;
  BlockArray<int> bin_;
  std::vector<std::int64_t> map_;
};

void say_rate(benchmark::State& state, std::uint64_t each) {
  state.counters["paths_per_second"] =
      benchmark::Counter(static_cast<double>(each) * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

void BM_bare_pipeline(benchmark::State& state) {
  const auto loop = std::make_unique<BarePipeline>(with_disk());
  const SobolReplicate sobol(1, 0);
  for (auto _ : state) {
    for (std::uint32_t first = 0; first < many_paths; first += block_size) loop->block(sobol, first);
    benchmark::DoNotOptimize(loop->light());
  }
  say_rate(state, many_paths);
}
BENCHMARK(BM_bare_pipeline)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

/// The scenes whose rate is compared with it: a mirror of few surfaces each.
Scene plain_scene(int which) {
  constexpr double focal = 0.6096, width = 1.2192;
  Scene scene;
  switch (which) {
    case 0: scene = kettle_dish(PotTarget{0.1524, 0.127}); break;
    case 1: scene = kettle_dish(DiskTarget{0.1524}); break;
    case 2: scene = mirror_and_target(Trough{0.3048, 0.9144, 1.524}, 4e-3, RectangleTarget{0.0762, 1.524}, 0.3048); break;
    case 3: scene = mirror_and_target(SphereBowl{2 * focal, width, 0}, 4e-3, DiskTarget{0.1524}, focal); break;
    default:
      scene = mirror_and_target(Paraboloid{focal, width, 0}, 4e-3, DiskTarget{3.6576}, 7.62);
      scene.lamp = Lamp{BallLamp{0.0603}, {Vector3(0, 0, focal), Matrix3::Identity()}, 800, false};
  }
  scene.trace.paths = many_paths;  // what every run pays once is small against it
  return scene;
}

void BM_plain_scene(benchmark::State& state) {
  const Scene scene = plain_scene(static_cast<int>(state.range(0)));
  for (auto _ : state) {
    Watch watch;
    benchmark::DoNotOptimize(ray_figures(scene, 1, watch));
  }
  say_rate(state, many_paths);
}
BENCHMARK(BM_plain_scene)->ArgName("scene")->DenseRange(0, 4)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

/// The direct search against the tree: `others` flat mirrors round the dish, which all rays must be asked about.
void BM_search(benchmark::State& state) {
  Scene scene = kettle_dish(DiskTarget{0.1524});
  for (int k = 0; k < state.range(1); ++k) {
    Reflector plate = scene.reflectors[0];
    plate.name = "plate" + std::to_string(k);
    plate.shape = Paraboloid{0.6096, 0.3, 0};
    const double turn = 2 * 3.14159265 * k / static_cast<double>(state.range(1));
    plate.pose.at = Vector3(1.5 * std::cos(turn), 1.5 * std::sin(turn), 0.1);
    scene.reflectors.push_back(plate);
  }
  scene.trace.paths = paths / 4;
  const SearchBy search = state.range(0) == 0 ? SearchBy::tree : SearchBy::direct;
  const TraceContext context(scene, std::make_shared<const SceneGeometry>(scene, search));
  NoRayEnds ends;
  const auto walk = std::make_unique<Walk>(context);
  for (auto _ : state) {
    for (std::uint32_t first = 0; first < paths / 4; first += block_size) walk->block(1, {0, first, block_size, paths / 4}, ends);
  }
  state.counters["ns_per_path"] = benchmark::Counter(static_cast<double>(paths) / 4e9 * static_cast<double>(state.iterations()),
                                                     benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}
BENCHMARK(BM_search)
    ->ArgNames({"direct", "others"})
    ->ArgsProduct({{0, 1}, {0, 2, 6, 14, 30, 62}})
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime();

void trace_on(benchmark::State& state, int threads) {
  const Scene scene = with_disk();
  for (auto _ : state) {
    Watch watch;
    benchmark::DoNotOptimize(ray_figures(scene, threads, watch));
  }
  say_rate(state, paths);
}
void BM_tracer(benchmark::State& state) { trace_on(state, static_cast<int>(state.range(0))); }
BENCHMARK(BM_tracer)->ArgName("threads")->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

}  // namespace dishwright
