// SPDX-License-Identifier: MIT
// The wave sum: focal maps at 10 GHz, a bare loop to measure it by, and a chart of gain against frequency.
#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

#include "benchmark_scenes.h"
#include "wave/gain.h"

namespace dishwright {

namespace {

constexpr double inch = 0.0254;

Facets tiles_of(double width, double focal_length) {
  Facets tiles;
  tiles.focal_length = focal_length, tiles.width = width, tiles.tile = 0.1, tiles.gap = 0.002;
  return tiles;
}

/// 200 × 200 places over ± 5 λ of the focal plane, 10 GHz.
void focal_map(benchmark::State& state, const ReflectorShape& shape, double focal_length) {
  const Scene scene = one_mirror(shape);
  WaveSetup setup;
  setup.frequency = 10e9, setup.speed = light_speed, setup.threads = static_cast<int>(state.range(0));
  const MapPlane map{
      {0, 0, focal_length}, Vector3::UnitX(), Vector3::UnitY(), 5 * setup.wavelength(), 5 * setup.wavelength(), 200, 200};
  const std::vector<Vector3> places = map.places();
  WaveField field;
  for (auto _ : state) field = wave_field(scene, setup, WaveSource::from_far(Vector3::UnitZ()), places);
  const double points = static_cast<double>(field.convergence.points);
  state.counters["points"] = points;
  state.counters["change"] = field.convergence.change;
  state.counters["terms_per_second"] =
      benchmark::Counter(points * static_cast<double>(places.size() * state.iterations()), benchmark::Counter::kIsRate);
}
/// Terms of one map by processor time, one thread.
void BM_wave_rate(benchmark::State& state) { focal_map(state, Paraboloid{9.6 * inch, 24 * inch, 0}, 9.6 * inch); }
void BM_wave_map_small(benchmark::State& state) { focal_map(state, Paraboloid{9.6 * inch, 24 * inch, 0}, 9.6 * inch); }
void BM_wave_map_large(benchmark::State& state) { focal_map(state, Paraboloid{1.2, 3, 0}, 1.2); }
void BM_wave_map_tiles(benchmark::State& state) { focal_map(state, tiles_of(3, 1.2), 1.2); }
BENCHMARK(BM_wave_rate)->ArgName("threads")->Arg(1)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_wave_map_small)->ArgName("threads")->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_wave_map_large)->ArgName("threads")->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_wave_map_tiles)->ArgName("threads")->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

/// Nothing but Σ a e^(2πi t)/R over 2048 fixed points, t and R from one distance in float.
void BM_wave_bare_loop(benchmark::State& state) {
  constexpr int n = 2048;
  std::vector<float> x(n), y(n), z(n), a(n);
  for (int j = 0; j < n; ++j) {
    const auto k = static_cast<float>(j);
    x[j] = 0.3F * std::sin(k), y[j] = 0.3F * std::cos(k), z[j] = 0.3F + 0.1F * std::sin(3 * k), a[j] = 1;
  }
  float place = 0;
  for (auto _ : state) {
    place += 1e-6F;
    float re = 0, im = 0;
#pragma omp simd reduction(+ : re, im)
    for (int j = 0; j < n; ++j) {
      const float dx = x[j] - place, once = 1 / std::sqrt(dx * dx + y[j] * y[j] + z[j] * z[j]);
      const float way = 33.3F * (dx * dx + y[j] * y[j] + z[j] * z[j]) * once, weight = a[j] * once;
      const float part = way - ((way + 12582912.0F) - 12582912.0F), u = part * 3.14159265F, q = u * u;
      const float s = u * (1 + q * (-1.0F / 6 + q * (1.0F / 120 + q * (-1.0F / 5040 + q * (1.0F / 362880 - q / 39916800)))));
      const float c = 1 + q * (-0.5F + q * (1.0F / 24 + q * (-1.0F / 720 + q * (1.0F / 40320 - q / 3628800))));
      re += weight * (1 - 2 * s * s), im += weight * (2 * s * c);
    }
    benchmark::DoNotOptimize(re + im);
  }
  state.counters["terms_per_second"] =
      benchmark::Counter(n * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}
BENCHMARK(BM_wave_bare_loop);

/// Gain of a 24 in sound dish at 60 frequencies, 100 Hz to 20 kHz.
void BM_wave_chart(benchmark::State& state) {
  const Scene scene = one_mirror(Paraboloid{6 * inch, 24 * inch, 0});
  WaveSetup setup;
  setup.speed = 343;
  const std::vector<double> frequencies = frequency_steps(100, 20e3, 60);
  for (auto _ : state)
    benchmark::DoNotOptimize(gain_curve(scene, setup, WaveSource::from_far(Vector3::UnitZ()), {0, 0, 6 * inch}, frequencies));
}
BENCHMARK(BM_wave_chart)->Unit(benchmark::kMillisecond);

}  // namespace

}  // namespace dishwright
