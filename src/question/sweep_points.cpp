// SPDX-License-Identifier: MIT
#include "question/sweep_points.h"

#include <fmt/format.h>

#include <utility>

#include "base/error.h"
#include "question/method.h"
#include "study/light_figures.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

std::vector<SweepAxis> axes_of(const std::vector<Variation>& variations) {
  std::vector<SweepAxis> axes;
  axes.reserve(variations.size());
  for (const Variation& one : variations)
    axes.push_back({one.key, one.dimension, si_unit(one.dimension), one.unit, one.values, one.own, one.whole, one.midnight});
  return axes;
}

}  // namespace

SweepPoints::SweepPoints(const ProjectFile& file, ReadOptions read, std::vector<Variation> variations, std::string method)
    : file_(file),
      read_(std::move(read)),
      variations_(std::move(variations)),
      axes_(axes_of(variations_)),
      asked_method_(std::move(method)),
      method_(method_of(asked_method_).value_or(Method::automatic)) {}

ReadOptions SweepPoints::read_at(std::size_t k) const {
  ReadOptions read = read_;
  read.set.push_back(variations_[0].set[k / fast()]);
  if (variations_.size() == 2) read.set.push_back(variations_[1].set[k % fast()]);
  return read;
}

Scene SweepPoints::checked(std::size_t k) const {
  try {
    Scene scene = file_.scene(read_at(k));
    refuse_method(scene, asked_method_);
    scene.trace.method = method_;
    if (scene.is_wave()) check_wave_limits(scene);
    if (method_ == Method::quadrature) PreparedLight(scene, LightMap::none);  // throws where it does not apply
    return scene;
  } catch (const InputError& error) {
    std::string where = variations_[0].set[k / fast()];
    if (variations_.size() == 2) where += ", " + variations_[1].set[k % fast()];
    std::vector<Problem> problems = error.problems();
    for (Problem& problem : problems) problem.what = fmt::format("at point {} of the sweep, {}: {}", k + 1, where, problem.what);
    throw InputError(problems);
  }
}

Scene SweepPoints::operator()(std::size_t k) const {
  Scene scene = file_.scene_again(read_at(k));
  scene.trace.method = method_;
  return scene;
}

}  // namespace dishwright
