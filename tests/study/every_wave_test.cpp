// SPDX-License-Identifier: MIT
// Every shape of mirror as a reflector of sound and of radio: answered with numbers, or refused in words.
#include <cmath>

#include "base/error.h"
#include "effort.h"
#include "every_shape.h"
#include "study/wave_figures.h"

using namespace dishwright;
using namespace dishwright::test;

TEST_CASE("sound and radio: every shape of mirror") {
  int answered = 0, pair = 0;
  for (const SampleShape& one : every_shape()) {
    for (const bool radio : {false, true}) {
      // Under the sanitizers in turn.
      if (testing::sanitized && !testing::full_run() && pair++ % 4 % 3 != 0) continue;
      CAPTURE(one.name);
      CAPTURE(radio);
      Scene made = scene_of(one.shape, BallTarget{0.02});
      made.reflectors[0].slope_error = 0;
      made.sun = Sun{};
      if (radio) {
        made.radio = Radio{};
        made.radio->frequencies = {1e9};
      } else {
        made.sound = Sound{};
        made.sound->frequencies = {1000};
      }
      Watch watch;
      try {
        const WaveFigures figures = wave_figures(made, WaveMaps::none, 2, watch);
        for (const WaveAnswer& answer : figures.targets.at(0).answers) CHECK(!std::isnan(answer.gain.value_or(0)));
        ++answered;
      } catch (const InputError& refusal) {
        CHECK(refusal.problems().size() >= 1);  // a mesh, say: refused in words
      }
    }
  }
  CHECK(answered >= (testing::sanitized ? 10 : 20));
}
