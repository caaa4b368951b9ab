// SPDX-License-Identifier: MIT
#include "report/compare/compare_outputs.h"

#include <fmt/format.h>

#include "report/compare/compare_data.h"
#include "report/compare/compare_pictures.h"
#include "report/numbers/card_files.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

std::string add_compare_outputs(const Comparison& all, const std::string& name, Units units, WholeFiles& files) {
  files.add("compare.json", compare_json(all, name));
  files.add("compare.csv", compare_csv(all, units));
  const CompareMaps maps = compare_maps(all, name, units);
  add_card(files, "maps", maps.common);
  add_card(files, "maps-each", maps.each);
  std::string said = fmt::format("\nWritten into {}:\n", files.folder().string());
  said += maps.each_first() ? fmt::format(
                                  "  maps-each.png  the maps, each on its own scale: their peaks are {} times apart\n"
                                  "  maps.png  the maps on one scale, where the palest look blank\n",
                                  rough_text(maps.apart, 2))
                            : "  maps.png  the maps side by side on one scale;  maps-each.png  each its own\n";
  if (const auto card = share_card(all, name, units)) {
    add_chart_card(files, "share", *card);
    said += "  share.png, share.svg  how wide a target must be\n";
  } else {
    said += wrapped(
        "No chart of light by width: it needs targets that are all disks, all rectangles or all pots, for only these have a "
        "plane.",
        "  ", "  ");
  }
  return said + "  compare.json, compare.csv  every figure\n";
}

}  // namespace dishwright
