// SPDX-License-Identifier: MIT
#include "question/target_number.h"

#include <fmt/format.h>

#include <vector>

#include "base/error.h"
#include "base/text.h"
#include "scenefile/keys.h"

namespace dishwright {

std::size_t target_number(const Scene& scene, const std::string& name) {
  if (name.empty()) return 0;
  std::vector<std::string> names;
  for (std::size_t k = 0; k < scene.targets.size(); ++k) {
    if (scene.targets[k].name == name) return k;
    names.push_back(scene.targets[k].name);
  }
  throw InputError(fmt::format("--target {}: there is no such target", clipped(printable(name), 60)),
                   fmt::format("the file has {}", join_words(names, "and")),
                   fmt::format("name one of them, such as --target {}", names.front()));
}

}  // namespace dishwright
