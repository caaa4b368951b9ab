// SPDX-License-Identifier: MIT
#include "scene/validate.h"

#include <doctest/doctest.h>

#include "scene/materials.h"

using namespace dishwright;

namespace {

Reflector dish(const std::string& name, ReflectorShape shape) {
  Reflector reflector;
  reflector.name = name;
  reflector.shape = std::move(shape);
  return reflector;
}

Target pot(const std::string& name) {
  Target target;
  target.name = name;
  target.shape = PotTarget{0.15, 0.12};
  target.pose.at = {0, 0, 0.6};
  return target;
}

std::vector<std::string> faulty_keys(const Scene& scene) {
  std::vector<std::string> keys;
  for (const SceneProblem& problem : validate_scene(scene)) {
    CHECK_FALSE(problem.what.empty());
    CHECK_FALSE(problem.why.empty());
    CHECK_FALSE(problem.fix.empty());
    keys.push_back(problem.key);
  }
  return keys;
}

using Keys = std::vector<std::string>;

}  // namespace

TEST_CASE("a sound scene has no problems") {
  Scene scene;
  scene.reflectors = {dish("dish", Paraboloid{0.6, 1.2, 0.1}), dish("bowl", SphereBowl{0.6, 1.2, 0})};
  scene.targets = {pot("kettle")};
  CHECK(validate_scene(scene).empty());
}

TEST_CASE("problems of the whole scene") {
  CHECK(faulty_keys(Scene{}) == Keys{"reflector", "target"});

  Scene scene;
  scene.reflectors = {dish("dish", Paraboloid{0.6, 1.2, 1.2}), dish("bowl", SphereBowl{0.6, 1.21, 1.3}),
                      dish("arc", ArcTrough{0.6, 1.3, 1})};
  scene.targets = {pot("kettle"), pot("dish")};
  scene.targets[0].pose.at = {0, 9e3, 9e3};
  CHECK(faulty_keys(scene) == Keys{"reflector.dish.hole_width", "reflector.bowl.width", "reflector.bowl.hole_width",
                                   "reflector.arc.width", "target.kettle", "target.dish"});

  scene.reflectors.assign(65, dish("a", Paraboloid{0.6, 1.2, 0}));
  for (int i = 0; i < 65; ++i) scene.reflectors[static_cast<std::size_t>(i)].name = "mirror-" + std::to_string(i);
  scene.targets = {pot("kettle")};
  CHECK(faulty_keys(scene) == Keys{"reflector"});
}

TEST_CASE("finishes lie within their own range, and American spellings work") {
  for (const Finish& finish : all_finishes()) {
    CAPTURE(finish.name);
    CHECK(finish.low <= finish.reflectance);
    CHECK(finish.reflectance <= finish.high);
    CHECK(finish.high < 1);
    CHECK_FALSE(finish.source.empty());
  }
  REQUIRE(find_finish("aluminized film") != nullptr);
  CHECK(find_finish("aluminized film")->name == "aluminised film");
  CHECK(find_finish("polished aluminum") == find_finish("polished aluminium"));
  CHECK(find_finish("chrome") == nullptr);
  // Other names for the same skins, in capitals too; each leads to a row, and none is a row's own name.
  CHECK(find_finish("Mylar") == find_finish("aluminised film"));
  CHECK(find_finish("Aluminum foil") == find_finish("kitchen foil"));
  CHECK(find_finish("tin foil")->reflectance == 0.82);
  CHECK(find_finish("Silvered Glass") == find_finish("glass mirror"));
  for (const FinishSynonym& synonym : finish_synonyms()) {
    REQUIRE_MESSAGE(find_finish(synonym.name) != nullptr, std::string(synonym.name));
    CHECK(find_finish(synonym.name)->name == synonym.row);
    CHECK(synonym.name != synonym.row);
  }
}
