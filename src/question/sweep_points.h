// SPDX-License-Identifier: MIT
// The points of a sweep: scenes that are made of one reading of a project file.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "scenefile/read_scene.h"
#include "scenefile/vary.h"
#include "study/sweep.h"

namespace dishwright {

/// Scenes by the number of their point; the first of the variations runs slowest.
class SweepPoints {
 public:
  /// `file` must outlive this. `method`: "rays", "quadrature", "auto", or empty for "auto".
  SweepPoints(const ProjectFile& file, ReadOptions read, std::vector<Variation> variations, std::string method);

  /// Throws InputError that says which point it is, for one that makes no sense.
  Scene checked(std::size_t k) const;
  /// Of a point that was checked. It is made again when its turn comes, so that none waits in the memory.
  Scene operator()(std::size_t k) const;
  const std::vector<SweepAxis>& axes() const { return axes_; }
  std::size_t count() const { return variations_[0].set.size() * fast(); }

 private:
  /// Points of the axis that runs fast.
  std::size_t fast() const { return variations_.size() == 2 ? variations_[1].set.size() : 1; }
  ReadOptions read_at(std::size_t k) const;

  const ProjectFile& file_;
  ReadOptions read_;
  std::vector<Variation> variations_;
  std::vector<SweepAxis> axes_;
  std::string asked_method_;
  Method method_;
};

}  // namespace dishwright
