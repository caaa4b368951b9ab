// SPDX-License-Identifier: MIT
// Reasons in words: each sentence word for word from made-up data, and closed forms for the curves.
#include "report/trace/why_story.h"

#include <doctest/doctest.h>

#include <numbers>

using namespace dishwright;

namespace {

Target kettle() {
  Target made;
  made.name = "kettle", made.shape = PotTarget{0.15, 0.12};
  return made;
}

Causes costs(double share, std::vector<std::pair<Cause, double>> right) {
  Causes all;
  all.share = {share, 1e-4, "1"};
  for (const auto& [cause, better] : right) all.costs.push_back({cause, {better, 1e-4, "1"}, {better - share, 1e-4, "1"}});
  return all;
}

CutRay landing(double x, double y, double true_x = 0) {
  CutRay ray;
  ray.on_plane = CutPoint{x, y}, ray.aimed_true = CutPoint{true_x, 0};
  return ray;
}

/// The sun leans to own +x, or where it is said.
SideView view_of(const CutRay& middle, const CutRay& near, const CutRay& far, CutPoint sun_side = {1, 0}) {
  SideView view;
  view.sun = 0.03, view.sun_side = sun_side;
  view.named = NamedRays{middle, near, far};
  return view;
}

Sun sun_off(double degrees, double side = 0) {
  Sun sun;
  sun.aim_error = degrees * std::numbers::pi / 180, sun.aim_direction = side * std::numbers::pi / 180;
  return sun;
}

}  // namespace

TEST_CASE("what costs most, and the next where it brings a third as much") {
  using Lines = std::vector<std::string>;
  CHECK(cost_lines(costs(0.61, {{Cause::aim, 0.97}, {Cause::slope, 0.7}}), kettle(), "dish") ==
        Lines{"The aim costs most: aimed true, the kettle would catch 97 % of the mirror's light, not 61 %."});
  CHECK(
      cost_lines(costs(0.61, {{Cause::slope, 0.97}, {Cause::aim, 0.75}}), kettle(), "dish") ==
      Lines{"The slope error of the dish costs most: with no slope error, the kettle would catch 97 % of the mirror's light, not "
            "61 %. Aimed true alone: 75 %."});
  CHECK(cost_lines(costs(0.5, {{Cause::flaws, 0.9}}), kettle(), "dish") ==
        Lines{"What is wrong with the shape of the dish (its flaws) cost most: without them, the kettle would catch 90 % of the "
              "mirror's light, not 50 %."});
  CHECK(cost_lines(costs(0.5, {{Cause::shape, 0.9}}), kettle(), "bowl")
            .front()
            .starts_with("The curve costs most: with a parabola of the same focal length, the kettle"));
  // Nothing brings a per cent; nothing is missing; nothing was looked for.
  CHECK(cost_lines(costs(0.5, {{Cause::aim, 0.505}}), kettle(), "dish") ==
        Lines{"The kettle catches 50 % of the mirror's light, and no single thing put right would change that by a per cent."});
  CHECK(cost_lines(costs(0.995, {{Cause::aim, 1}}), kettle(), "dish").empty());
  CHECK(cost_lines({}, kettle(), "dish").empty());
}

TEST_CASE("the comet: rim rays farther out than middle rays, in the numbers of the map") {
  CHECK(
      comet_line(view_of(landing(-0.0216, 0), landing(-0.0457, 0), landing(-0.0406, 0)), sun_off(2), Units::us) ==
      "The sun stands 2 deg off. So the middle ray (M) meets the target's plane 0.85 in from its middle on the side away from "
      "the sun, the "
      "ray of the near rim (N) 1.8 in, of the far rim (F) 1.6 in: rim rays land farther out than middle rays, and the spot grows "
      "a "
      "tail to that side, like a comet.");
  // The sun leans toward +y: the light goes to -y.
  CHECK(comet_line(view_of(landing(0, -0.02), landing(0, -0.04), landing(0, -0.04), {0, 1}), sun_off(2, 90), Units::si)
            .find("(M) meets the target's plane 20 mm from") != std::string::npos);
  // A sphere: a true aim leaves the rays apart, so only what the aim moves is told.
  CHECK(comet_line(view_of(landing(-0.005, 0, 0), landing(-0.16, 0, -0.15), landing(0.14, 0, 0.15)), sun_off(0.5), Units::si) ==
        "The sun stands 0.5 deg off. That moves the middle ray (M) by 5 mm away from the sun's side, the ray of the near rim (N) "
        "by 10 "
        "mm, of the far rim (F) by 10 mm: rim rays move farther than middle rays, and the spot grows a tail to that side, like a "
        "comet.");
  // A flat dish: no tail, and none is claimed.
  CHECK(comet_line(view_of(landing(-0.02, 0), landing(-0.0201, 0), landing(-0.0201, 0)), sun_off(2), Units::si)
            .ends_with(": all move alike, so the spot moves but keeps its shape."));
  CHECK(comet_line(view_of(landing(-0.02, 0), landing(-0.03, 0), landing(-0.01, 0)), sun_off(2), Units::si)
            .ends_with("(F) 10 mm."));
  CHECK(comet_line(view_of(landing(0, 0), landing(0, 0), landing(0, 0)), sun_off(0), Units::si).empty());
  CHECK(comet_line(SideView{}, sun_off(2), Units::si).empty());
  // A trough whose sun leans along it: neither rim is the near one.
  SideView along = view_of(landing(-0.02, 0), landing(-0.03, 0), landing(-0.01, 0));
  along.sun = 0;
  CHECK(comet_line(along, sun_off(2), Units::si).empty());
  // Without a side view beside it the rays have no letters.
  CHECK(comet_line(view_of(landing(-0.02, 0), landing(-0.03, 0), landing(-0.01, 0)), sun_off(2), Units::si, false) ==
        "The sun stands 2 deg off. So the middle ray meets the target's plane 20 mm from its middle on the side away from the "
        "sun, the "
        "ray of the near rim 30 mm, of the far rim 10 mm.");
}

TEST_CASE("curves: where a sphere's rim rays cross, how wide a petal and a tile are") {
  Reflector mirror;
  mirror.shape = SphereBowl{1.2192, 1.2192, 0};  // R 48 in, 48 in wide: sin 1/2, R − R/(2 cos 30°) = 20.3 in; R/2 = 24 in
  CHECK(curve_lines(mirror, Units::us).front() ==
        "Rim rays of a sphere cross lower: 20 in above its lowest place, 24 in those near the middle, so there is no one focus.");
  // So shallow that two digits do not tell: nothing is claimed. So deep (sin 0.9) that 1 - 1/(2 cos) < 0: they meet it again.
  mirror.shape = SphereBowl{1.2192, 0.1, 0};
  CHECK(curve_lines(mirror, Units::us).empty());
  mirror.shape = SphereBowl{1, 1.8, 0};
  CHECK(curve_lines(mirror, Units::si).front() ==
        "Rim rays of a sphere so deep meet it again before they cross its axis; those near the middle cross 500 mm up.");
  Petals petals;
  petals.focal_length = 0.6096, petals.width = 1.2192, petals.count = 12;  // 48 in sin 15° = 12.4 in
  mirror.shape = petals;
  CHECK(curve_lines(mirror, Units::us).front() ==
        "Each of the 12 petals is flat across, 12 in at the rim: it throws a line about as long, not a point.");
  Facets tiles;
  tiles.tile = 0.0508;
  mirror.shape = tiles;
  CHECK(curve_lines(mirror, Units::us).front() ==
        "Each tile is flat: it throws its own size, 2 in, and the sun's width on top; smaller tiles, smaller spot.");
  mirror.shape = Paraboloid{0.6, 1.2, 0};
  CHECK(curve_lines(mirror, Units::us).empty());
}
