// SPDX-License-Identifier: MIT
#include "report/compare_outputs.h"

#include <fmt/format.h>

#include "picture/image_file.h"
#include "report/compare_data.h"
#include "report/compare_pictures.h"
#include "report/text_layout.h"

namespace dishwright {

std::string add_compare_outputs(const Comparison& all, const std::string& name, Units units, WholeFiles& files) {
  files.add("compare.json", compare_json(all, name));
  files.add("compare.csv", compare_csv(all, units));
  files.add("maps.png", png_bytes(draw_map_grid(compare_maps(all, name, units, true))));
  files.add("maps-each.png", png_bytes(draw_map_grid(compare_maps(all, name, units, false))));
  std::string said = fmt::format(
      "Written into {}:\n"
      "  maps.png  the maps side by side on one scale;  maps-each.png  each its own\n",
      files.folder().string());
  if (const auto chart = share_chart(all, name, units)) {
    files.add("share.png", png_bytes(draw_line_chart(*chart)));
    files.add("share.svg", line_chart_svg(*chart));
    said += "  share.png, share.svg  how much light falls within which width\n";
  } else {
    said += wrapped(
        "No chart of light by width: it needs targets that are all disks or all rectangles, for only these lie in a plane.", "  ",
        "  ");
  }
  return said + "  compare.json, compare.csv  every figure\n";
}

}  // namespace dishwright
