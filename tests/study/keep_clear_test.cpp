// SPDX-License-Identifier: MIT
// The keep-clear field against closed forms.
#include "study/keep_clear.h"

#include <chrono>
#include <cstdio>

#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

TEST_CASE("keepclear explore") {
  const auto show = [](const char* name, const Reflector& m, double half = 4.65e-3) {
    Scene one = scene(sun(DiscProfile::limb_darkened, half), m, target(DiskTarget{0.1}, {0, 0, 0.6}));
    one.sun.beam = 850;
    const Watch watch;
    const auto t0 = std::chrono::steady_clock::now();
    const auto found = keep_clear(one, KeepClearDetail::figures, watch);
    const auto t1 = std::chrono::steady_clock::now();
    const auto fine = keep_clear(one, KeepClearDetail::drawing, watch);
    const auto t2 = std::chrono::steady_clock::now();
    std::printf("%s: %.1f ms, %.1f ms\n", name, std::chrono::duration<double>(t1 - t0).count() * 1e3, std::chrono::duration<double>(t2 - t1).count() * 1e3);
    for (const auto& l : found->levels) std::printf("  %.0f: %.4f .. %.4f  wx %.4f wy %.4f open %d n %zu\n", l.level, l.from, l.to, l.half_width_x, l.half_width_y, l.open, l.slices.size());
    for (const auto& l : fine->levels) std::printf("  fine %.0f: %.4f .. %.4f  wx %.4f wy %.4f open %d n %zu\n", l.level, l.from, l.to, l.half_width_x, l.half_width_y, l.open, l.slices.size());
  };
  Reflector dish = mirror(Paraboloid{0.6, 1.2, 0.0}, 0);
  dish.reflectance = 0.81;
  show("dish", dish, 0);
  dish.slope_error = 4e-3;
  show("dish real", dish);
  show("trough", mirror(Trough{0.3, 0.9, 1.5}, 5e-3));
  show("flat", mirror(Flat{1, 1}));
  show("sphere", mirror(SphereBowl{1.2, 1.2, 0}, 4e-3));
}
