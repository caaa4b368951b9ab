// SPDX-License-Identifier: MIT
// The files of a trace.
#pragma once

#include <string>

#include "base/files.h"
#include "report/number_text.h"
#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// Everything a report needs to know of one trace.
struct Result {
  const Scene& scene;
  const std::string& name;    ///< of the project file, without its ending
  const std::string& digest;  ///< of the scene
  const TraceFigures& figures;
  Units units = Units::us;  ///< of what people read; figures.json and map.exr are SI always
};

/// Adds figures.json, map.png, map.exr and map.csv (map-TARGET.* where there are several targets). Returns the sentence that says what
/// was written where. Throws WriteError.
std::string add_outputs(const Result& result, WholeFiles& files);

}  // namespace dishwright
