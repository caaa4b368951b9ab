// SPDX-License-Identifier: MIT
#include "report/compare_outputs.h"

#include <fmt/format.h>

#include "report/compare_data.h"

namespace dishwright {

std::string add_compare_outputs(const Comparison& all, const std::string& name, Units units, WholeFiles& files) {
  files.add("compare.json", compare_json(all, name));
  files.add("compare.csv", compare_csv(all, units));
  return fmt::format("Written into {}:\n", files.folder().string());
}

}  // namespace dishwright
