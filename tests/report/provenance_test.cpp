// SPDX-License-Identifier: MIT
#include "report/numbers/provenance.h"

#include <doctest/doctest.h>

#include <functional>
#include <numbers>
#include <set>
#include <vector>

#include "figures_sample.h"

using namespace dishwright;

TEST_CASE("the digest is 12 hex digits and the same for the same scene") {
  const std::string digest = scene_digest(sample::kettle_scene());
  CHECK(digest.size() == 12);
  CHECK(digest.find_first_not_of("0123456789abcdef") == std::string::npos);
  CHECK(scene_digest(sample::kettle_scene()) == digest);
}

TEST_CASE("any value of the scene changes the digest") {
  const std::vector<std::function<void(Scene&)>> changes = {
      [](Scene&) {},
      [](Scene& s) { s.title = "Other"; },
      [](Scene& s) { s.sun.beam *= 1 + 1e-15; },
      [](Scene& s) { s.sun.disc = DiscProfile::uniform; },
      [](Scene& s) { s.sun.half_angle = 0; },
      [](Scene& s) { s.sun.aureole_share = 0.1; },
      [](Scene& s) { s.sun.aim_error = 0.01; },
      [](Scene& s) { s.sun.aim_direction = 1; },
      [](Scene& s) { s.reflectors[0].name = "bowl"; },
      [](Scene& s) {
        s.reflectors[0].shape = Paraboloid{24 * sample::inch, 48 * sample::inch, 0.01};
      },
      [](Scene& s) {
        s.reflectors[0].shape = SphereBowl{24 * sample::inch, 48 * sample::inch, 0};
      },
      [](Scene& s) { s.reflectors[0].pose.at.x() = 0.01; },
      [](Scene& s) { s.reflectors[0].pose.turn = rotation(0, 0.1, 0); },
      [](Scene& s) { s.reflectors[0].finish.clear(); },
      [](Scene& s) { s.reflectors[0].reflectance = 0.87; },
      [](Scene& s) { s.reflectors[0].slope_error = 0; },
      [](Scene& s) { s.reflectors[0].specular_spread = 1e-3; },
      [](Scene& s) { s.reflectors[0].flaws.rim_sag_x = 1e-3; },
      [](Scene& s) { s.reflectors[0].flaws.rim_sag_y = 1e-3; },
      [](Scene& s) { s.reflectors.push_back(s.reflectors[0]); },
      [](Scene& s) { s.targets[0].name = "pan"; },
      [](Scene& s) { s.targets[0].shape = BallTarget{6 * sample::inch}; },
      [](Scene& s) {
        s.targets[0].shape = PotTarget{6 * sample::inch, 0.1};
      },
      [](Scene& s) {
        s.targets[0].shape = PotTarget{6 * sample::inch, 0.2};
      },
      [](Scene& s) { s.targets[0].pose.at.z() += 0.01; },
      [](Scene& s) { s.targets[0].shades = false; },
      [](Scene& s) { s.trace.paths += 1; },
      [](Scene& s) { s.trace.accuracy = 1e-3; },
      [](Scene& s) { s.trace.seed = 8; },
  };
  std::set<std::string> digests;
  for (const auto& change : changes) {
    Scene scene = sample::kettle_scene();
    change(scene);
    digests.insert(scene_digest(scene));
  }
  CHECK(digests.size() == changes.size());
}

TEST_CASE("remarks and the sign of zero do not change the digest") {
  Scene scene = sample::kettle_scene();
  scene.notes.clear();
  scene.targets[0].pose.at.x() = -0.0;
  CHECK(scene_digest(scene) == scene_digest(sample::kettle_scene()));
}

TEST_CASE("the settings line names program, seed, paths, sun and scene") {
  Scene scene = sample::kettle_scene();
  const TraceFigures figures = sample::kettle_figures();
  CHECK(settings_line(scene, figures, "0123456789ab") ==
        "dishwright " DISHWRIGHT_VERSION
        " · seed 7 · 1 000 000 paths in 32 replicates · rays · "
        "sun 850 W/m², disc limb-darkened, half angle 4.65 mrad, aimed true · scene 0123456789ab");
  CHECK(settings_line(scene, figures, "0123456789ab", Detail::answer) ==
        "dishwright " DISHWRIGHT_VERSION
        " · seed 7 · 1 000 000 paths · sun 850 W/m², disc limb-darkened, half angle 4.65 mrad, aimed true · scene 0123456789ab");
  scene.sun.aim_error = std::numbers::pi / 360;
  scene.sun.aim_direction = std::numbers::pi / 2;
  scene.sun.disc = DiscProfile::aureole;
  const std::string line = settings_line(scene, figures, "0");
  CHECK(line.find("disc aureole, half angle 4.65 mrad, aureole 5 %, aim off by 0.5 deg toward 90 deg") != std::string::npos);
  scene.sun.half_angle = 0;
  CHECK(settings_line(scene, figures, "0").find("sun 850 W/m², a point, aim off") != std::string::npos);
}

TEST_CASE("the digest knows every value of sound and radio") {
  Scene sound;
  sound.reflectors.emplace_back();
  sound.sound.emplace();
  sound.sound->frequencies = {2000};
  std::vector<Scene> scenes(11, sound);
  scenes[1].sound->frequencies = {2000, 4000};
  scenes[2].sound->listed = true;
  scenes[3].sound->speed = 340;
  scenes[4].sound->air.temperature = 273.15;
  scenes[5].sound->air.humidity = 0.9;
  scenes[6].sound->air.pressure = 90e3;
  scenes[7].sound->from = Sound::From::target;
  scenes[8].sound->place.x() = 1;
  scenes[9].sound->aim_error = 0.1;
  scenes[10].reflectors[0].wave_reflectance = 0.9;
  scenes.insert(scenes.end(), 3, sound);
  scenes[11].sound->voice = Voice::normal;
  scenes[12].sound->voice = Voice::shout;
  scenes[13].sound->facing = 20;
  Scene radio = sound;
  radio.sound.reset();
  radio.radio.emplace();
  radio.radio->frequencies = {2000};
  scenes.insert(scenes.end(), 7, radio);
  scenes[15].radio->frequencies = {3000};
  scenes[16].radio->feed_power = 2;
  scenes[17].radio->edge_taper = -12;
  scenes[18].radio->aim_direction = 1;
  scenes[19].radio->link = Link{10, 0, 1000, 0, -110};
  scenes[20].radio->link = Link{10, 0, 1000, 0, -100};
  std::set<std::string> digests;
  for (const Scene& scene : scenes) digests.insert(scene_digest(scene));
  CHECK(digests.size() == scenes.size());
}
