// SPDX-License-Identifier: MIT
#include "question/method.h"

#include "base/error.h"

namespace dishwright {

void refuse_method(const Scene& scene, const std::string& method) {
  if (scene.is_wave()) refuse_method_of_waves(method);
}

void refuse_method_of_waves(const std::string& method) {
  if (method.empty()) return;
  throw InputError("--method " + method + " is for light", "sound and radio are always summed as waves",
                   "leave --method out, or add --as light");
}

}  // namespace dishwright
