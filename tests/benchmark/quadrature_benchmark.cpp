// SPDX-License-Identifier: MIT
// Mirror quadrature of the kettle dish: its time, its error, and what the tracer needs for the same error.
#include <benchmark/benchmark.h>

#include <chrono>
#include <cmath>

#include "benchmark_scenes.h"
#include "quadrature/quadrature.h"
#include "study/ray_figures.h"

namespace dishwright {

namespace {

constexpr int side = 128;

/// scenes/kettle-dish, aimed off by so much [rad].
Scene with_pot(double aim_error) {
  Scene scene = kettle_dish(PotTarget{0.1524, 0.127});
  scene.sun.aim_error = aim_error;
  return scene;
}

QuadratureOptions options(bool map) {
  QuadratureOptions out;
  out.map = map;
  out.columns = out.rows = map ? side : 0;
  return out;
}

/// Over all faces, which have the same layouts.
double map_difference(const TraceFigures& one, const TraceFigures& other) {
  double difference = 0, all = 0;
  for (std::size_t f = 0; f < other.targets[0].map.size(); ++f) {
    const MapFace &a = one.targets[0].map[f], &b = other.targets[0].map[f];
    const double area = (b.x_to - b.x_from) * (b.y_to - b.y_from) / static_cast<double>(b.irradiance.size());
    for (std::size_t i = 0; i < b.irradiance.size(); ++i)
      difference += area * std::pow(a.irradiance[i] - b.irradiance[i], 2), all += area * b.irradiance[i] * b.irradiance[i];
  }
  return std::sqrt(difference / all);
}

/// All figures and the 128 × 128 map, the second order for the error included. map_error: against orders so high that they no
/// longer matter.
void BM_quadrature_map(benchmark::State& state) {
  const Scene scene = with_pot(0);
  const QuadratureOptions usual = options(true);
  TraceFigures figures;
  for (auto _ : state) benchmark::DoNotOptimize(figures = quadrature_figures(scene, usual));
  QuadratureOptions fine = usual;
  fine.tolerance = 1e-7;
  const TraceFigures exact = quadrature_figures(scene, fine);
  state.counters["map_error"] = map_difference(figures, exact);
  state.counters["places"] = static_cast<double>(figures.paths);
}
BENCHMARK(BM_quadrature_map)->Unit(benchmark::kMillisecond);

/// The same with a slope error of so many hundredths of a milliradian: narrow ones take a table.
void BM_quadrature_map_narrow(benchmark::State& state) {
  Scene scene = with_pot(0);
  scene.reflectors[0].slope_error = static_cast<double>(state.range(0)) * 1e-5;
  TraceFigures figures;
  for (auto _ : state) benchmark::DoNotOptimize(figures = quadrature_figures(scene, options(true)));
  state.counters["places"] = static_cast<double>(figures.paths);
}
BENCHMARK(BM_quadrature_map_narrow)->Arg(30)->Arg(50)->Arg(100)->Arg(200)->Unit(benchmark::kMillisecond);

/// Figures only, as a sweep wants them.
void BM_quadrature_figures(benchmark::State& state) {
  const Scene scene = with_pot(0);
  const QuadratureOptions usual = options(false);
  for (auto _ : state) benchmark::DoNotOptimize(quadrature_figures(scene, usual));
}
BENCHMARK(BM_quadrature_figures)->Unit(benchmark::kMillisecond);

/// 21 aim errors, 0 to 4 degrees.
void BM_quadrature_sweep(benchmark::State& state) {
  const QuadratureOptions usual = options(false);
  for (auto _ : state) {
    for (int k = 0; k <= 20; ++k) benchmark::DoNotOptimize(quadrature_figures(with_pot(k * 0.2 * 3.14159265 / 180), usual));
  }
}
BENCHMARK(BM_quadrature_sweep)->Unit(benchmark::kMillisecond);

/// One trace of a million paths on one thread, its base's map error against the quadrature (same layout), and the time at which
/// the error would be 0.1 % if it falls as 1/√paths.
void BM_tracer_map(benchmark::State& state) {
  Scene scene = with_pot(0);
  scene.trace.paths = 1'000'000;
  TraceFigures figures;
  double seconds = 0;
  for (auto _ : state) {
    Watch watch;
    const auto start = std::chrono::steady_clock::now();
    figures = ray_figures(scene, 1, watch);
    seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  }
  // Nearly all light is on the base, the second face.
  std::vector<MapFace>& faces = figures.targets[0].map;
  QuadratureOptions same;
  same.columns = faces[1].columns, same.rows = faces[1].rows;
  same.tolerance = 1e-6;
  TraceFigures exact = quadrature_figures(scene, same);
  faces.erase(faces.begin());
  exact.targets[0].map.erase(exact.targets[0].map.begin());
  // Coarser bins hold more paths: scaled to 128 × 128.
  const double scaled = map_difference(figures, exact) * side / std::sqrt(static_cast<double>(same.columns) * same.rows);
  state.counters["map_error_128"] = scaled;
  state.counters["ms_for_0.1_percent"] = 1e3 * seconds * std::pow(scaled / 1e-3, 2);
}
BENCHMARK(BM_tracer_map)->Unit(benchmark::kMillisecond)->UseRealTime();

/// 21 aim errors by rays, as a sweep traces them: a million paths each, one thread.
void BM_tracer_sweep(benchmark::State& state) {
  for (auto _ : state) {
    for (int k = 0; k <= 20; ++k) {
      Watch watch;
      benchmark::DoNotOptimize(ray_figures(with_pot(k * 0.2 * 3.14159265 / 180), 1, watch));
    }
  }
}
BENCHMARK(BM_tracer_sweep)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

}  // namespace

}  // namespace dishwright
