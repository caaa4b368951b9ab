// SPDX-License-Identifier: MIT
#include "report/wave_outputs.h"

#include <fmt/format.h>

#include "picture/image_file.h"
#include "picture/polar_chart.h"
#include "report/wave_card.h"
#include "report/wave_json.h"
#include "report/wave_pictures.h"

namespace dishwright {

std::string add_wave_outputs(const WaveResult& result, WholeFiles& files) {
  const WaveFigures& figures = result.figures;
  files.add("figures.json", json_text(wave_json(result.scene, result.name, result.digest, figures)));
  const WaveCard card = wave_card(result);
  files.add("card.pdf", card.pdf);
  files.add("card.png", card.png);
  files.add("map.png", png_bytes(draw_map_page(wave_map_page(result))));
  files.add("map.csv", wave_map_csv(*figures.map, "y", result.units));
  files.add("map-axial.csv", wave_map_csv(*figures.axial_map, "z", result.units));
  const auto add_chart = [&](const std::string& stem, const LineChart& chart, const std::string& table, bool round) {
    files.add(stem + ".png", png_bytes(round ? draw_polar_chart(chart) : draw_line_chart(chart)));
    files.add(stem + ".svg", round ? polar_chart_svg(chart) : line_chart_svg(chart));
    files.add(stem + ".csv", table);
  };
  // A radio beam would be too narrow to see on a circle.
  add_chart("pattern", pattern_chart(result), pattern_csv(figures), !figures.radio);
  std::string said = fmt::format(
      "Written into {}:\n  card.pdf, card.png  one page to print\n  map.png  how loud it is around the {}\n  map.csv, "
      "map-axial.csv  its "
      "numbers, across the axis and along it\n",
      files.folder().string(), figures.targets.front().name);
  said += "  pattern.png, pattern.svg  level against direction;  pattern.csv  its numbers\n";
  if (!figures.radio) {
    add_chart("gain", gain_chart(result), gain_csv(figures), false);
    said += "  gain.png, gain.svg  gain against frequency;  gain.csv  its numbers\n";
  }
  return said + "  figures.json  every figure\n";
}

}  // namespace dishwright
