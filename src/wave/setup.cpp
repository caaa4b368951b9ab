// SPDX-License-Identifier: MIT
#include "wave/setup.h"

#include <fmt/format.h>

#include <cmath>

#include "base/error.h"

namespace dishwright {

double Feed::gain(const Vector3& toward) const {
  const double cosine = toward.normalized().dot(axis);
  return cosine > 0 ? 2 * (power + 1) * std::pow(cosine, power) : 0;
}

void check_waves(const Scene& scene, const WaveSetup& setup) {
  if (!(setup.frequency > 0) || !std::isfinite(setup.frequency)) {
    throw InputError(fmt::format("the frequency {:g} Hz is not above zero", setup.frequency), "a wave needs a pitch",
                     "write a frequency such as \"2 kHz\" or \"10 GHz\"");
  }
  if (!(setup.speed > 0) || !std::isfinite(setup.speed)) {
    throw InputError(fmt::format("the wave's speed {:g} m/s is not above zero", setup.speed),
                     "sound in air runs at about 343 m/s", "give the speed of sound or the air's temperature");
  }
  if (scene.reflectors.empty()) throw InputError("no mirror for the wave to meet", "", "add a table [reflector.NAME]");
  for (const Reflector& reflector : scene.reflectors) {
    if (reflector.slope_error > 0) {
      throw InputError(fmt::format("slope_error of {} says nothing about waves", reflector.name),
                       "a slope error is for rays: it has no height, so no phase can be worked out from it",
                       "use a flaw with a height, such as waviness, or leave slope_error out");
    }
  }
  for (const double share : setup.reflectance) {
    if (!(share >= 0 && share <= 1))
      throw InputError(fmt::format("wave_reflectance {:g} is not a share", share), "0 … 1", "write a number from 0 to 1");
  }
}

std::vector<std::string> wave_notes(const Scene& scene, const WaveSetup& setup) {
  std::vector<std::string> notes;
  for (const Reflector& reflector : scene.reflectors) {
    const double share = rim_width(reflector.shape) / setup.wavelength();
    if (share < 0.25) {
      notes.push_back(
          fmt::format("{} is {:.2g} wavelengths across, less than a quarter: a wave this long passes it by. "
                      "The figures only say that it hardly helps.",
                      reflector.name, share));
    } else if (share < 1) {
      notes.push_back(
          fmt::format("{} is {:.2g} wavelengths across. Below one wavelength the edge counts as much as the face, and "
                      "the edge's own waves are left out: expect errors of some dB.",
                      reflector.name, share));
    }
  }
  if (scene.reflectors.size() > 1)
    notes.emplace_back("Each mirror reflects the wave once; waves that go from mirror to mirror are left out.");
  return notes;
}

}  // namespace dishwright
