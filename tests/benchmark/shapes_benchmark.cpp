// SPDX-License-Identifier: MIT
// What many small surfaces cost: dishes of tiles and meshes of triangles, coarse against fine.
#include <benchmark/benchmark.h>

#include <cmath>
#include <memory>

#include "benchmark_scenes.h"
#include "study/ray_figures.h"

namespace dishwright {

namespace {

constexpr double focal_length = 0.6096, width = 1.2192;  // [m]
constexpr std::uint64_t paths = 1'000'000;

Scene scene_with(ReflectorShape shape) {
  Scene scene = mirror_and_target(std::move(shape), 2e-3, DiskTarget{0.1524}, focal_length);
  scene.trace.paths = paths;
  return scene;
}

/// A square paraboloid of 2 · side² triangles with its true normals at the corners.
std::shared_ptr<const TriangleMesh> paraboloid_mesh(int side) {
  auto mesh = std::make_shared<TriangleMesh>();
  const double half = width / 2, rise = half * half / (2 * focal_length);
  for (int row = 0; row <= side; ++row) {
    for (int column = 0; column <= side; ++column) {
      const double x = half * (2.0 * column / side - 1), y = half * (2.0 * row / side - 1);
      mesh->vertices.emplace_back(x, y, (x * x + y * y) / (4 * focal_length));
      mesh->normals.push_back(Vector3(-x, -y, 2 * focal_length).normalized());
    }
  }
  const auto at = [side](int row, int column) { return static_cast<std::uint32_t>(row * (side + 1) + column); };
  for (int row = 0; row < side; ++row) {
    for (int column = 0; column < side; ++column) {
      mesh->triangles.push_back({at(row, column), at(row, column + 1), at(row + 1, column + 1)});
      mesh->triangles.push_back({at(row, column), at(row + 1, column + 1), at(row + 1, column)});
    }
  }
  mesh->low = Vector3(-half, -half, 0), mesh->high = Vector3(half, half, rise);
  return mesh;
}

void trace_all(benchmark::State& state, const Scene& scene) {
  for (auto _ : state) {
    Watch watch;
    benchmark::DoNotOptimize(ray_figures(scene, 1, watch));
  }
  state.counters["paths_per_second"] =
      benchmark::Counter(static_cast<double>(paths) * static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

/// Square tiles with gaps of 1/20; `across` tiles stand side by side in the width, π/4 of their square within the rim.
void BM_facets(benchmark::State& state) {
  Facets facets;
  facets.focal_length = focal_length, facets.width = width;
  const double pitch = width / static_cast<double>(state.range(0));
  facets.gap = pitch / 21, facets.tile = pitch - facets.gap;
  state.counters["tiles"] = static_cast<double>(facet_layout(facets).size());
  trace_all(state, scene_with(facets));
}
BENCHMARK(BM_facets)->ArgName("across")->Arg(11)->Arg(113)->Unit(benchmark::kMillisecond)->UseRealTime();

void BM_mesh(benchmark::State& state) {
  const auto mesh = paraboloid_mesh(static_cast<int>(state.range(0)));
  state.counters["triangles"] = static_cast<double>(mesh->triangles.size());
  trace_all(state, scene_with(Mesh{mesh, true}));
}
BENCHMARK(BM_mesh)->ArgName("side")->Arg(100)->Arg(316)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

}  // namespace dishwright
