// SPDX-License-Identifier: MIT
#include "command/replay_text.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <sstream>

#include "report/figures_sample.h"
#include "report/numbers/text_layout.h"

using namespace dishwright;

namespace {

using sample::inch;

Step from_sun(const Vector3& point) {
  Step step;
  step.kind = StepKind::from_sun;
  step.surface = "dish";
  step.point = step.own_point = point;
  step.direction = {0, 0, -1};
  return step;
}

/// An axial ray that meets the dish (f = 24 in) 24 in right of its axis: height 24²/(4·24) = 6 in, slope 24/48, tilt atan(1/2) =
/// 26.565 deg, turned by 180 - 2·26.565 = 126.870 deg; it runs 24 + 6 = 30 in to the focus (closed form of the parabola).
PathHistory to_the_focus() {
  PathHistory story;
  story.path = 5;
  story.seed = 7;
  story.power = 1e-3;
  const Vector3 point(24 * inch, 0, 6 * inch), focus(0, 0, 24 * inch);
  story.steps.push_back(from_sun(point));
  Step mirror;
  mirror.kind = StepKind::reflected;
  mirror.surface = "dish";
  mirror.point = mirror.own_point = point;
  mirror.normal = mirror.tilted_normal = Vector3(-0.5, 0, 1).normalized();
  mirror.direction = (focus - point).normalized();
  mirror.power_share = 0.86;
  story.steps.push_back(mirror);
  Step end;
  end.kind = StepKind::target;
  end.surface = "kettle";
  end.face = "front";
  end.point = focus;
  end.normal = {0, 0, -1};
  end.power_share = 0.86;
  story.steps.push_back(end);
  return story;
}

void check_has(const std::string& text, const std::string& part) {
  CAPTURE(text);
  CAPTURE(part);
  CHECK(text.find(part) != std::string::npos);
}

std::string ending(StepKind kind, const std::string& surface) {
  PathHistory story = to_the_focus();
  story.steps.pop_back();
  Step last;
  last.kind = kind;
  last.surface = surface;
  story.steps.push_back(last);
  const std::string text = replay_text(sample::kettle_scene(), story, Units::us);
  return text.substr(text.rfind("\n\nEnd: ") + 2);
}

}  // namespace

TEST_CASE("an axial ray is told step by step with the angles of the parabola") {
  const std::string text = replay_text(sample::kettle_scene(), to_the_focus(), Units::us);
  check_has(text, "Path 5 of 1000000 (numbered from 0; seed 7)");
  check_has(text, "  1. It comes from the sun, on its way to mirror dish.\n     heads for:            x 24, y 0, z 6 in\n");
  check_has(text, "off the sun's centre: 0.000 deg");
  check_has(text,
            "  2. Mirror dish reflects it.\n     place:                x 24, y 0, z 6 in\n     surface tilt:         26.565 deg");
  check_has(text, "angle in:             26.565 deg from the normal");
  check_has(text, "angle out:            26.565 deg: the same");
  check_has(text, "turned by:            126.870 deg");
  check_has(text, "travels along:        x -0.8000, y 0.0000, z 0.6000");
  check_has(text,
            "  3. It lands on target kettle (front).\n     place:                x 0, y 0, z 24 in\n     in its own axes:      x "
            "0, y 0, z 0 in\n");
  check_has(text, "distance:             30 in from the last mirror point");
  check_has(text, "power left:           0.00086 W (86 % of the start)");
  check_has(text, "End: this path brings 0.00086 W to target kettle.");
  CHECK(text.find("slope error here") == std::string::npos);
}

TEST_CASE("millimetres on request") {
  check_has(replay_text(sample::kettle_scene(), to_the_focus(), Units::si), "place:                x 609.6, y 0, z 152.4 mm");
}

TEST_CASE("slope error and spread are named") {
  PathHistory story = to_the_focus();
  const double tilt = std::atan(0.5) + 4e-3;
  story.steps[1].tilted_normal = {-std::sin(tilt), 0, std::cos(tilt)};
  const std::string text = replay_text(sample::kettle_scene(), story, Units::us);
  check_has(text, "slope error here:     0.229 deg");  // 4 mrad
  check_has(text, "angle in:             26.794 deg");
  check_has(text, "angle out:            26.336 deg: not quite the same, because the skin");
}

TEST_CASE("every way to end is told with its reason and its ledger name") {
  check_has(ending(StepKind::shaded, "kettle"), "End: target kettle stopped it before it reached a mirror. The summary");
  check_has(ending(StepKind::shaded, "kettle"), "\"shaded by kettle\"");
  check_has(ending(StepKind::back, "dish"), "\"back of dish\"");
  check_has(ending(StepKind::lid, "kettle"), "\"lid of kettle\"");
  check_has(ending(StepKind::missed, ""), "miss every target");
  check_has(ending(StepKind::not_counted, ""), "Try the next path number.");
  check_has(ending(StepKind::reflected, "dish"), "\"still bouncing\"");
}

TEST_CASE("no line is wider than 80 characters") {
  std::istringstream in(replay_text(sample::kettle_scene(), to_the_focus(), Units::us));
  for (std::string line; std::getline(in, line);) CHECK(characters(line) <= text_width);
}

TEST_CASE("a lamp's path: from the lamp by a mirror, straight, or past everything") {
  Scene scene = sample::kettle_scene();
  scene.lamp = Lamp{BallLamp{0.05}, {Vector3(0, 0, 24 * inch), Matrix3::Identity()}, 800, true};
  PathHistory story = to_the_focus();
  story.unit = "lm";
  Step& start = story.steps.front();
  start.kind = StepKind::from_lamp;
  start.surface.clear();
  start.point = Vector3(0, 0, 24 * inch);
  start.direction = (story.steps[1].point - start.point).normalized();
  const std::string text = replay_text(scene, story, Units::us);
  check_has(text, "1. It leaves the lamp.");
  check_has(text, "seen from the side that the mirror faces");
  check_has(text, "0.00086 lm");
  CHECK(text.find("sun") == std::string::npos);

  story.steps.erase(story.steps.begin() + 1);
  const std::string straight = replay_text(scene, story, Units::us);
  check_has(straight, "without a mirror");
  check_has(straight, "\"straight to kettle\"");
  story.steps.back().kind = StepKind::missed;
  const std::string unmet = replay_text(scene, story, Units::us);
  check_has(unmet, "2. It meets no mirror and no target.");
  check_has(unmet, "never meet a mirror. The summary counts them as \"missed the");
}
