// SPDX-License-Identifier: MIT
// The files of a trace.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/numbers/number_text.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "study/light_story.h"

namespace dishwright {

/// Everything a report needs to know of one trace.
struct Result {
  const Scene& scene;
  const std::string& name;    ///< of the project file, without its ending
  const std::string& digest;  ///< of the scene
  const TraceFigures& figures;
  Units units = Units::us;            ///< of what people read; figures.json and map.exr are SI always
  const LightStory* story = nullptr;  ///< of a scene with a sun: side view and reasons
};

/// What is written of a map beside its picture and its table.
struct MapFiles {
  bool print = false;  ///< map.pdf: the card on paper
  bool exr = false;    ///< map.exr: the numbers, for image programs
};

/// Adds figures.json with that text, map.png with the card of each target and map.csv (map-TARGET.* where there are several
/// targets), what `more` asks for, and safety.pdf, a sheet on that paper. Returns the sentence that says what was written where.
/// Throws WriteError.
std::string add_outputs(const Result& result, const std::string& json, const std::vector<WorkCard>& cards, PageSize paper,
                        WholeFiles& files, MapFiles more = {});
/// A map_card() of each target.
std::vector<WorkCard> map_cards(const Result& result);

}  // namespace dishwright
