// SPDX-License-Identifier: MIT
// Files of measured points become a survey: readings that people typed, and point clouds.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "survey/fit.h"

namespace dishwright {

struct SurveyInput {
  bool outside = false;              ///< the outer face was measured
  std::optional<double> skin;        ///< thickness between the measured face and the mirror face [m]
  const Unit* cloud_unit = nullptr;  ///< of PLY, OBJ and STL files, which carry none
};

/// How the places of the readings were named, so that spots can be named the same way.
enum class PlaceWords { rings, grid, cloud };

struct SurveyFile {
  SurveyPoints survey;
  PlaceWords places = PlaceWords::rings;
  std::vector<double> rings;       ///< their radii, rising [m]; empty unless the readings were given by ring
  std::string row_word = "line";   ///< what survey.rows counts: "line" of a table, "point" of a cloud
  std::vector<std::string> notes;  ///< what was passed over
};

/// Reads .csv, .txt or .tsv (`x [in],y [in],depth [in]` · `ring [in],clock [h],depth [in]` · `x [in],y [in],z [in]`), .ply, .obj,
/// .stl. Checks readings for the usual slips of the pen (mistakes.h). Throws InputError with all that is wrong.
SurveyFile read_survey(const std::filesystem::path& path, const SurveyInput& input);

// ---- Parts ----
/// Points of a PLY (text or binary), OBJ or STL (text or binary) file in the file's own unit; repeated corners of an STL count
/// once. Points that are not numbers are left out and counted in `left_out`. Throws InputError.
std::vector<Vector3> cloud_points(const std::string& content, const std::string& ending, const std::string& file,
                                  std::size_t& left_out);

}  // namespace dishwright
