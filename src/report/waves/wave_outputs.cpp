// SPDX-License-Identifier: MIT
#include "report/waves/wave_outputs.h"

#include <fmt/format.h>

#include "report/numbers/card_files.h"
#include "report/waves/facing_card.h"
#include "report/waves/wave_card.h"
#include "report/waves/wave_json.h"
#include "report/waves/wave_pictures.h"

namespace dishwright {

std::string add_wave_outputs(const WaveResult& result, const std::string& json, PageSize paper, WholeFiles& files) {
  const WaveFigures& figures = result.figures;
  files.add("figures.json", json);
  add_printed_card(files, "card", wave_card(result), paper, true);
  const bool pair = !figures.link_gains.empty();
  if (pair) add_printed_card(files, "two-dishes", facing_card(result), paper, true);
  add_card(files, "map", wave_map_card(result));
  files.add("map.csv", wave_map_csv(*figures.map, "y", result.units));
  files.add("map-axial.csv", wave_map_csv(*figures.axial_map, "z", result.units));
  add_chart_card(files, "pattern", pattern_card(result));
  files.add("pattern.csv", pattern_csv(figures));
  std::string said = fmt::format(
      "\nWritten into {}:\n  card.pdf, card.png  one page to print\n  map.png  {} the {}\n  map.csv, "
      "map-axial.csv  its "
      "numbers, across the axis and along it\n",
      files.folder().string(), figures.sends ? "how loud it is far away, by the place of" : "how loud it is around",
      figures.targets.front().name);
  if (pair) said += "  two-dishes.pdf, two-dishes.png  both dishes, and how to set them up\n";
  said += "  pattern.png, pattern.svg  level against direction;  pattern.csv  its numbers\n";
  if (!figures.radio) {
    add_chart_card(files, "gain", gain_card(result));
    files.add("gain.csv", gain_csv(figures));
    said += "  gain.png, gain.svg  gain against frequency;  gain.csv  its numbers\n";
  }
  return said + "  figures.json  every figure\n";
}

}  // namespace dishwright
