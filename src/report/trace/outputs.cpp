// SPDX-License-Identifier: MIT
#include "report/trace/outputs.h"

#include <fmt/format.h>

#include "picture/image_file.h"
#include "report/numbers/card_files.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/text_layout.h"
#include "report/trace/map_card.h"
#include "report/trace/map_csv.h"
#include "report/trace/safety_card.h"
#include "report/yard/keep_clear_report.h"

namespace dishwright {

namespace {

/// "map", or "map-NAME" where a scene has several targets. Names keep letters, digits, - and _; the number keeps them apart.
std::string map_stem(const TraceFigures& figures, std::size_t index) {
  if (figures.targets.size() == 1) return "map";
  std::string name;
  bool changed = false;
  for (const char c : figures.targets[index].name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
    name += plain ? c : '_';
    changed = changed || !plain;
  }
  return changed ? fmt::format("map-{}-{}", index + 1, name) : "map-" + name;
}

/// The numbers of a target's map with where they come from: one part a face, rows from the top.
std::vector<FloatPart> map_parts(const Result& result, const TargetFigures& target) {
  std::vector<FloatPart> parts;
  const LightUnits light = light_units(result.scene);
  for (const MapFace& face : target.map) {
    FloatPart part;
    part.name = face.name;
    part.channel = light.quantity;
    part.columns = face.columns, part.rows = face.rows;
    part.values.reserve(face.irradiance.size());
    for (int row = face.rows - 1; row >= 0; --row) {
      for (int column = 0; column < face.columns; ++column) {
        part.values.push_back(static_cast<float>(face.irradiance[static_cast<std::size_t>(row * face.columns + column)]));
      }
    }
    part.notes = {{"unit", light.si},
                  {"rows", "the first row is the largest y"},
                  {"across", face.across},
                  {"up", face.up},
                  {"x_from_m", face.x_from},
                  {"x_to_m", face.x_to},
                  {"y_from_m", face.y_from},
                  {"y_to_m", face.y_to},
                  {"target", target.name},
                  {"title", scene_title(result.scene, result.name)},
                  {"settings", settings_line(result.scene, result.figures, result.digest)},
                  {"power_" + light.power, target.power.value},
                  {"power_std_error_" + light.power, target.power.std_error.value_or(0)}};
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace

std::vector<WorkCard> map_cards(const Result& result) {
  std::vector<WorkCard> cards;
  for (std::size_t k = 0; k < result.figures.targets.size(); ++k) cards.push_back(map_card(result, k));
  return cards;
}

std::string add_outputs(const Result& result, const std::string& json, const std::vector<WorkCard>& cards, PageSize paper,
                        WholeFiles& files, MapFiles more) {
  files.add("figures.json", json);
  std::string pictures;
  for (std::size_t k = 0; k < result.figures.targets.size(); ++k) {
    const TargetFigures& target = result.figures.targets[k];
    const std::string stem = map_stem(result.figures, k);
    add_card(files, stem, cards.at(k));
    if (more.exr) files.add(stem + ".exr", exr_bytes(map_parts(result, target)));
    files.add(stem + ".csv", map_csv(target, result.units, light_units(result.scene)));
    pictures += wrapped("picture of the light on the " + target.name, fmt::format("  {}.png  ", stem), "    ");
    if (more.print) {
      add_printed_card(files, stem, cards.at(k), paper);
      pictures += wrapped("the same to print", fmt::format("  {}.pdf  ", stem), "    ");
    }
    pictures +=
        wrapped("its numbers", fmt::format(fmt::runtime(more.exr ? "  {0}.csv, {0}.exr  " : "  {0}.csv  "), stem), "    ");
  }
  add_printed_card(files, "safety", safety_card(result), paper, false);
  std::string told =
      fmt::format("\nWritten into {}:\n{}  figures.json  every figure\n  safety.pdf  what can hurt, and the list to work by\n",
                  files.folder().string(), pictures);
  if (result.figures.keep_clear) {
    add_printed_card(files, "keep-clear", keep_clear_card(result), paper, false);
    told += "  keep-clear.pdf  where nobody and nothing may be, drawn to scale\n";
  }
  return told;
}

}  // namespace dishwright
