// SPDX-License-Identifier: MIT
// What is wrong with a mirror's shape, and with its skin.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

/// The key's value, if this shape has the key; other keys are refused already.
const Node* value_of(const TableReader& table, const char* key) {
  return find_key("reflector", key, table.shape()) == nullptr ? nullptr : table.find(key);
}

/// Reports a key that should hold { … }.
bool is_inner_table(TableReader& table, const char* key, const Node& node, const char* holds) {
  if (node.is_table()) return true;
  table.report(key, fmt::format("{} is {}, not a table", table.full_key(key), node.kind_word()), holds,
               fmt::format("write {} = {}", key, find_key("reflector", key, "")->example));
  return false;
}

/// A length that has to be there.
double must(TableReader& table, const char* key, const char* why) {
  if (!table.has(key) && !table.was_misspelt(key)) table.report_missing(key, why);
  return table.measure(key).value_or(0);
}

void read_waviness(TableReader& table, Problems& problems, Flaws& flaws) {
  const Node* node = value_of(table, "waviness");
  if (node == nullptr || !is_inner_table(table, "waviness", *node, "waviness has an amplitude, a period and a direction")) return;
  TableReader inner(*node, "waviness", table.full_key("waviness"), problems);
  inner.refuse_unknown_keys();
  Waviness wave;
  wave.amplitude = must(inner, "amplitude", "waves have a height");
  wave.period = must(inner, "period", "waves have a distance from crest to crest");
  wave.direction = inner.measure_or_standard("direction");
  if (wave.amplitude != 0 && wave.period > 0) flaws.waviness = wave;
}

void read_scallop(TableReader& table, Problems& problems, Flaws& flaws) {
  const Node* node = value_of(table, "scallop");
  if (node == nullptr || !is_inner_table(table, "scallop", *node, "scallop has ribs and a depth")) return;
  TableReader inner(*node, "scallop", table.full_key("scallop"), problems);
  inner.refuse_unknown_keys();
  Scallop scallop;
  if (!inner.has("ribs") && !inner.was_misspelt("ribs")) inner.report_missing("ribs", "the skin hangs between ribs");
  scallop.ribs = static_cast<int>(inner.whole("ribs").value_or(0));
  scallop.depth = must(inner, "depth", "the skin hangs through by a depth");
  if (scallop.ribs > 0 && scallop.depth != 0) flaws.scallop = scallop;
}

void read_dent(const Node& node, const std::string& path, Problems& problems, Flaws& flaws) {
  TableReader inner(node, "dents", path, problems);
  inner.refuse_unknown_keys();
  Dent dent;
  if (!inner.has("at") && !inner.was_misspelt("at")) inner.report_missing("at", "a dent has a place");
  if (const auto at = inner.pair("at")) dent.x = (*at)[0], dent.y = (*at)[1];
  dent.width = must(inner, "width", "a dent has a width");
  dent.depth = must(inner, "depth", "a dent has a depth");
  if (dent.width > 0 && dent.depth != 0) flaws.dents.push_back(dent);
}

void read_dents(TableReader& table, Problems& problems, Flaws& flaws) {
  constexpr std::size_t most_dents = 200;
  const Node* node = value_of(table, "dents");
  if (node == nullptr) return;
  const std::string key = table.full_key("dents"), example(find_key("reflector", "dents", "")->example);
  const bool tables = node->kind == Node::Kind::list && std::all_of(node->children.begin(), node->children.end(),
                                                                    [](const Node& child) { return child.is_table(); });
  if (!tables || node->children.size() > most_dents) {
    table.report(
        "dents",
        tables ? fmt::format("{} has {} entries", key, node->children.size()) : fmt::format("{} is not a list of dents", key),
        fmt::format("it takes up to {} dents, each with at, width and depth", most_dents), "write dents = " + example);
    return;
  }
  for (std::size_t k = 0; k < node->children.size(); ++k)
    read_dent(node->children[k], fmt::format("{}[{}]", key, k + 1), problems, flaws);
}

void read_roughness(TableReader& table, Flaws& flaws) {
  const bool rms_there = value_of(table, "surface_rms") != nullptr,
             correlation_there = value_of(table, "surface_correlation") != nullptr;
  if (rms_there && !correlation_there && !table.was_misspelt("surface_correlation"))
    table.report_missing("surface_correlation", "bumps have a size");
  if (correlation_there && !rms_there && !table.was_misspelt("surface_rms"))
    table.report_missing("surface_rms", "bumps have a height");
  if (!rms_there || !correlation_there) return;
  const double rms = table.measure("surface_rms").value_or(0), correlation = table.measure("surface_correlation").value_or(0);
  if (rms > 0 && correlation > 0) flaws.roughness = Roughness{rms, correlation, 0};
}

}  // namespace

void read_wire_mesh(TableReader& table, Problems& problems, Scene& scene, Reflector& reflector) {
  const Node* node = table.find("wire_mesh");
  if (node == nullptr || !is_inner_table(table, "wire_mesh", *node, "wire_mesh has a pitch and a wire")) return;
  TableReader inner(*node, "wire_mesh", table.full_key("wire_mesh"), problems);
  inner.refuse_unknown_keys();
  WireMesh mesh;
  mesh.pitch = must(inner, "pitch", "a mesh has a distance from wire to wire");
  mesh.wire = must(inner, "wire", "a mesh has wires of some thickness");
  if (!(mesh.pitch > 0 && mesh.wire > 0)) return;
  if (scene.radio) {
    reflector.wire_mesh = mesh;
  } else {
    scene.notes.push_back(fmt::format("{} is left out: it counts for radio only", table.full_key("wire_mesh")));
  }
}

void read_flaws(TableReader& table, Problems& problems, Reflector& reflector) {
  Flaws& flaws = reflector.flaws;
  for (const auto& [key, value] : {std::pair{"sag_x", &flaws.sag_x},
                                   {"sag_y", &flaws.sag_y},
                                   {"rim_sag_x", &flaws.rim_sag_x},
                                   {"rim_sag_y", &flaws.rim_sag_y},
                                   {"twist", &flaws.twist}}) {
    if (value_of(table, key) != nullptr) *value = table.measure(key).value_or(0);
  }
  read_waviness(table, problems, flaws);
  read_scallop(table, problems, flaws);
  read_dents(table, problems, flaws);
  read_roughness(table, flaws);
  reflector.dirt = table.measure("dirt").value_or(0);
  reflector.reflectance *= 1 - reflector.dirt;
}

}  // namespace dishwright
