// SPDX-License-Identifier: MIT
// [lamp].
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

LampShape read_lamp_shape(TableReader& table) {
  const std::string& shape = table.shape();
  const auto needed = [&](std::string_view key) {
    if (!table.has(key)) table.report_missing(key, "a " + shape + " is given by its " + std::string(key));
    return table.measure(key).value_or(0);
  };
  if (shape == "line") return LineLamp{needed("length")};
  const double width = needed("width");
  if (shape == "disk") return DiskLamp{width};
  return BallLamp{width};
}

void read_power(TableReader& table, Lamp& lamp) {
  const std::optional<double> watts = table.measure("power"), lumens = table.measure("light");
  if (table.has("power") && table.has("light")) {
    table.report("light", "the lamp has both power and light",
                 "power is in watts and light in lumens, and results come in one of them", "take one of the two out");
  } else if (!table.has("power") && !table.has("light")) {
    const bool slip = table.was_misspelt("power") || table.was_misspelt("light");
    if (!slip)
      table.report_table("lamp has no light", "how much light a lamp gives is told in lumens or in watts",
                         "add light = \"800 lm\", or power = \"60 W\"");
  }
  lamp.in_lumens = lumens.has_value();
  lamp.power = lumens.value_or(watts.value_or(0));
}

}  // namespace

void read_lamp(const Node& root, const FocusStandIns& stand_ins, Scene& scene, Problems& problems) {
  const Node* node = root.find("lamp");
  if (node == nullptr || !node->is_table() || scene.is_wave()) return;  // reported by read_sources
  TableReader table(*node, "lamp", "lamp", problems);
  const bool has_shape = read_shape(table, *node);
  const std::optional<Pose> place =
      read_place(table, "a lamp has to stand somewhere: at a focus, or at coordinates", root, stand_ins, scene);
  const Vector3 offset = table.triple("offset").value_or(Vector3::Zero());
  const Vector3 angles = table.triple("turn").value_or(Vector3::Zero());
  Lamp lamp;
  if (has_shape) lamp.shape = read_lamp_shape(table);
  read_power(table, lamp);
  if (!has_shape || !place || !table.sound()) return;
  lamp.pose.at = place->at + place->turn * offset;
  lamp.pose.turn = place->turn * rotation(angles[0], angles[1], angles[2]);
  scene.lamp = lamp;
}

}  // namespace dishwright
