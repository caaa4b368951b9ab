// SPDX-License-Identifier: MIT
#include "scenefile/reference.h"

#include <fmt/format.h>

#include "scene/materials.h"
#include "scenefile/keys.h"
#include "scenefile/shapes.h"

namespace dishwright {

namespace {

constexpr const char* opening = R"(# The project file

A project file says what the mirror is, what shines on it, and what it must heat or light. It is plain text in
[TOML](https://toml.io/en/v1.0.0): lines `key = value`, tables with a header in `[ ]`, and notes after `#`.
`dishwright new` writes a first one with a word on every key.

```toml
title = "Kettle dish"

[sun]
beam = "850 W/m2"
aim_error = "0.5 deg"

[reflector.dish]
shape = "paraboloid"
focal_length = "24 in"
width = "48 in"
finish = "aluminised film"
slope_error = "4 mrad"

[target.kettle]
shape = "pot"
width = "6 in"
height = "5 in"
at = "focus of dish"

[trace]
paths = 1_000_000
seed = 7
```

`dish` and `kettle` are names you choose: 1 to 40 letters, digits, spaces, `-` or `_`, each used once. A file may hold several
reflectors and several targets, up to 64 of each. Every key that the program does not know is an error, so a slip cannot go unseen.
All errors of a file are told at once, each with its line, the reason, and what to write.

## Lengths, angles and other quantities

A quantity is a number with its unit, in quotes, as people write it in a shop:
`"3 1/2 in"`, `"2 ft 6 in"`, `"2' 6-1/2\""`, `"45 cm"`, `"0.25 deg"`, `"4 mrad"`, `"850 W/m2"`.

- Fractions: `1/2`, `3 1/2` or `3-1/2`, also `½`. Decimals take a point: `3.5`. Commas are not read.
- Powers of ten take an e: `1e3` is 1000. Powers and products (`10^3`, `2×10³`), marks between thousands (`1'000`, `1 000`) and other digits
  than 0 to 9 are refused, and the message says what to write.
- Feet and inches, degrees and minutes, metres and centimetres may follow each other, from large to small:
  `"2 ft 6 in"`, `"12° 30'"`, `"1 m 20 cm"`. All but the last are whole numbers.
- `'` and `"` are feet and inches in a length, minutes and seconds of arc in an angle. In TOML an inch mark inside quotes is `\"`.
- A number without its unit is an error, even `0`: write `"0 in"`.
- Capitals count: `mW` is a milliwatt, `MW` would be a megawatt.
- A pure number stands without quotes (`0.86`), or in per cent with them (`"86 %"`).
- A text stands on one line, in one pair of straight quotes. Outside of quotes and notes there are only plain letters, digits and signs.

)";

constexpr const char* frame = R"(
## Where things stand

The frame is right-handed. The origin is the vertex of an unplaced reflector; z runs along its axis toward the focus. Seen from the sun,
x points right and y up. `aim_error` is the angle from the frame's z axis to the sun, whatever is turned.

`turn` turns a thing about the frame's x axis, then y, then z, around its own origin: the vertex of a reflector, the centre of a target or lamp, the
centre of a pot's base. Then `at` moves it.

A target or lamp `at = "focus of NAME"` starts at the focus of that reflector; its `offset` and `turn` are in that reflector's axes. For a sphere or an
arc trough the focus is where rays near the axis meet, at half the radius. A target with coordinates
`at = ["x", "y", "z"]` has its `offset` and `turn` in the axes of the frame.

A disk or rectangle has a front, which faces the mirrors (down, toward -z) unless it is turned; the front counts. A tube or ball counts all
round, a pot on its base and side.

## Change a value without changing the file

`--set KEY=VALUE` changes or adds one value. KEY has dots between its parts; VALUE is written as in the file, but without quotes:
`--set 'reflector.dish.width=36 in'`, `--set 'target.kettle.offset=[0 in, 0 in, 1 in]'`, `--set trace.seed=3`.

`trace` of light then sets the file as it is beside the changed one, on the sheet `before-after.pdf`.
)";

constexpr const char* shape_notes = R"(
**Offset paraboloid.** Its origin is the vertex of the whole parabola, which may lie outside of the mirror. `clearance` runs from the axis to the near
edge, `width` is the round outline as seen along the axis. A dish that stands in front of you is easier to measure by its rim, which is an ellipse: `width`
is the short axis, `height` the long axis, `depth` the deepest place under a straightedge, square to the rim. Then focal_length = width³ / (16 depth height).
`hole_width` is about the middle of the outline.

**Facets.** One tile sits on the axis; the others follow in rows along x, `tile + gap` apart as seen from the front. A tile stays if its middle is within the rim and
not within the hole. Hexagons have flat sides toward +x and -x; round tiles lie on the same grid. `tilt = "frame"`: each tile touches the frame in its middle.
`tilt = "target"`: each is turned to send light from +z to the centre of the first target (of a pot: the centre of its base). At most 200 000 tiles.

**Petals.** The middle line of the first petal runs along +x. Across, a petal is straight; so between the middle line and the seams it leaves the bowl, and
fewer petals leave it more. The sheet is cut on a circle.

**Profile.** The table is a CSV file, with the unit of each column in its header:

```
radius [in],height [in]
0,0
6,3/8
12,1 1/2
18,3 3/8
24,6
```

`x` may stand for `radius`. Each row lies farther out than the one before; 3 rows at least. The curve of a dish starts at the axis, or farther out: then the dish has a
hole. The curve of a trough (`kind = "trough"`) that starts at 0 is taken with its mirror image; any other stands as it is. `curve = "fair"` is the
smooth curve through the points (a cubic spline, level at the axis), `"straight"` goes straight from point to point. A spreadsheet's formulas are not computed: save the values.

**Mesh.** STL, OBJ or PLY, up to 400 MB and 5 million triangles. The bright side of a triangle is the one from which its corners run counter-clockwise. `normals =
"smooth"` is for a rounded surface that the triangles stand for; `"flat"` for real flat pieces. Such files do not say their unit: give it with `unit`.
Faces with more than three corners, up to 1000, are cut into triangles. A file that holds more or fewer triangles than it says, a face with fewer than three corners, and a
face that crosses itself are errors, with the line where the file is a text.

**Files.** `file` is looked up beside the project file. It may lie elsewhere, too; but of what stands in a file outside of the project file's folder (links followed) messages
show nothing, for a project file that came from somebody else can name any file of your machine.

**Measured.** The file is the same table of depths, or the same cloud, that `dishwright survey` reads: `ring [in],clock [h],depth [in]`, or `x [in],y [in],depth [in]`, or
points (`x [mm],y [mm],z [mm]`, .ply, .obj, .stl, with `unit` for those that carry none). The smooth surface through the readings is traced, not the best fit. Depths: the
origin is on the mirror under the middle of the rim, z square to the rim. Points: the origin is the vertex of the fitted shape, z along its axis.
The mirror is cut to a circle `width` wide, or with `length` to a rectangle (a trough comes out as one by itself); without them it goes as far as the
readings do. Waves shorter than about two spacings of the readings are not in it. The notes of a trace say what `slope_error` puts back what smoothing took away.
`skin` is for depths that were read on the outer face.

**Foci.** `at = "focus of NAME"` works for paraboloid, offset paraboloid, sphere, trough, arc trough, petals, catenary, pressed, measured, and for facets on a curved frame. Of a measured
mirror it is where light along its z meets, by the best fit. For sphere, arc trough and
catenary or a pressed sheet it is where rays near the axis meet. A hyperboloid or ellipsoid has two: write `"near focus of NAME"` or `"far focus of NAME"`. Flat, cone, profile and mesh have
none that is known: give coordinates.
)";

constexpr const char* outdoors_opening = R"(
## `[place]`

Where the dish stands. With `sun.time` the program works out where the sun is and how it stands against the dish; without a time it is not
read. A time is a date, a `T`, a clock time and the clock's offset from UTC: `"2026-06-21T10:30-05:00"`. More: [the sky](sky.md).

)";

constexpr const char* mount_opening = R"(
## `[mount]`

How the dish stands on the ground; may be left out: then it follows the sun. `aimed` leaves it standing as it was then, `elevation` and `azimuth`
park it. `sun.aim_error` and `aim_direction` are the error with which it was set.

)";

constexpr const char* lamp_opening = R"(
## `[lamp]`

One table, instead of `[sun]`: a lamp whose light the mirror sends on, and a target (a disk or rectangle) as the screen or wall that it
lights. With `light` all powers come in lumens (lm) and all brightness in lux (lumens per square metre); with `power` in watts.

)";

constexpr const char* lamp_list = R"(| shape | needs | sends light |
|---|---|---|
| `ball` | `width` | to all sides alike: a frosted bulb or globe |
| `disk` | `width` | from its front only, most of it straight ahead (the cosine law): a flat lamp. The front faces the mirrors (down, toward -z) unless it is turned |
| `line` | `length` | to all sides across its y axis, least toward its ends: a thin glowing wire or tube |

The lamp is bare, and it stands in nobody's way: no glass, no shade, no socket is counted. Light that goes straight from the lamp to a target, without
a mirror, is `direct_power`; it is on the ledger as "straight to NAME". `power`, the map, the spot widths and `evenness` count the light
that came by a mirror. "missed the mirrors" is light that met nothing; "missed" is light that a mirror sent past every target.
)";

constexpr const char* sound_opening = R"(
## `[sound]`

One table, instead of light. Each target's centre is where a microphone stands; its figures say how much louder the sound is there
than without the mirror. More: [waves](waves.md).

)";

constexpr const char* load_opening = R"(
## `[load]`

One table, for sunlight: what a target heats, for [`heat`](heat.md). `[air]` then also says how the air about it is; its pressure, or the
altitude of `[place]`, sets where water boils.

)";

constexpr const char* radio_opening = R"(
## `[radio]`

One table, instead of light. A feed stands at the first target's centre and looks at the mirror: at its vertex, or in an offset paraboloid at the middle
of its rim cone. What holds for sending holds for hearing.

)";

constexpr const char* several_sources = R"(
A file may hold several of `[sun]` or `[lamp]`, `[sound]` and `[radio]`: `--as light`, `--as sound` or `--as radio` then says which is traced. Waves know
`wave_reflectance`, not `finish`, `reflectance`, `dirt` and `specular_spread`. `slope_error` has no height: beside a `[sun]` or `[lamp]` it is left out with a note,
else it is an error.
)";

std::string code(std::string_view text) { return text.empty() ? "" : fmt::format("`{}`", text); }

std::string words_in_quotes(std::string_view list) {
  std::vector<std::string> words;
  for (const std::string& word : split_words(list)) words.push_back(fmt::format("`\"{}\"`", word));
  return join_words(words, "or");
}

/// What may be written for a key.
std::string allowed(const KeyRow& row) {
  const std::string interval = interval_text(row, unit_of_example(row));
  switch (row.kind) {
    case ValueKind::text: return "words in quotes";
    case ValueKind::word: return row.words.empty() ? "a row of the table of finishes" : words_in_quotes(row.words);
    case ValueKind::quantity: return fmt::format("{}, {}", dimension_word(row.dimension), interval);
    case ValueKind::quantities: return fmt::format("{}, {}; or a list of up to 1000", dimension_word(row.dimension), interval);
    case ValueKind::number: return fmt::format("a number, {}", interval_text(row, nullptr));
    case ValueKind::whole: return fmt::format("a whole number, {}", interval_text(row, nullptr));
    case ValueKind::truth: return "true or false";
    case ValueKind::triple: return fmt::format("a list of three: {}, each {}", dimension_word(row.dimension), interval);
    case ValueKind::pair: return fmt::format("a list of two: {}, each {}", dimension_word(row.dimension), interval);
    case ValueKind::moment: return "a time, from 1950 to 2100";
    case ValueKind::table: return "a table in { }, below";
    case ValueKind::tables: return "a list of tables in { }, below";
    case ValueKind::place:
      if (!row.words.empty()) return fmt::format("{}, or a list of three lengths, each {}", words_in_quotes(row.words), interval);
      return fmt::format("\"focus of NAME\" (also near or far focus), or a list of three lengths, each {}", interval);
  }
  return "";
}

/// The same of [load].
std::string load_left_out(const KeyRow& row) {
  if (row.key == "target") return "the first one";
  if (row.key == "mass" || row.key == "volume") return "`mass` or `volume` must be given";
  if (row.key == "vessel") return "steel for a liquid, else none";
  if (row.key == "vessel_mass") return "sheet 0.7 mm thick";
  if (row.key == "start") return "as warm as the air";
  if (row.key == "wanted") return "water: until it boils; else must be given";
  return row.key == "minutes" ? "no goal" : "that of surface";
}

/// What is taken where the key is left out.
std::string left_out(const KeyRow& row) {
  if (!row.standard.empty()) return std::string(row.standard);
  if (row.section == "feed") return row.key == "kind" ? "must be given" : "must be given with its kind";
  if (row.section == "load" && row.standard.empty()) return load_left_out(row);
  if (row.key == "power" || row.key == "light") return "`power` or `light` must be given";
  if (row.section == "sound" && row.key == "speed") return "from [air]";
  if (row.kind == ValueKind::moment) return row.key == "aimed" ? "it follows the sun" : "the sun stands as aim_error says";
  if (row.key == "latitude" || row.key == "longitude") return "must be given";
  if (row.key == "declination") return "not known";
  if (row.section == "mount") return "not parked";
  if (row.section == "sound" && row.key == "facing") return "no second dish";
  if (row.kind == ValueKind::quantities) return "must be given";
  if (row.section == "link" || row.section == "wire_mesh" || row.section == "waviness" || row.section == "scallop" ||
      row.section == "dents")
    return "must be given";
  if (row.key == "shape" || row.key == "file" || row.key == "count" || row.kind == ValueKind::place) return "must be given";
  return row.kind == ValueKind::quantity ? "given as the shape needs" : "";
}

std::string key_line(const KeyRow& row) {
  const std::string shapes = row.shapes.empty() ? "" : fmt::format(" ({})", row.shapes);
  return fmt::format("| `{}`{} | {} | {} | {} | {} |\n", row.key, shapes, row.help, allowed(row), code(row.example),
                     left_out(row));
}

std::string section_table(std::string_view section) {
  std::string text = "| key | what it is | may be | example | if left out |\n|---|---|---|---|---|\n";
  for (const KeyRow& row : all_keys()) {
    if (row.section == section) text += key_line(row);
  }
  return text;
}

/// The keys that only some shapes have, and the rule that binds them.
std::string shape_list() {
  std::string text = "| shape | needs | is |\n|---|---|---|\n";
  for (const ShapeRow& row : all_shape_rows()) text += fmt::format("| `{}` | {} | {} |\n", row.words.word, row.needs, row.is);
  return text +
         "\nIf all three of `focal_length`, `width` and `depth` are given, they must agree within 0.1 %. The mirror side is the "
         "inside, toward +z; only a hyperboloid is bright on the other side, and a mesh where its triangles say so.\n" +
         shape_notes;
}

std::string finish_table() {
  std::string text = "| finish | reflects | range | source |\n|---|---|---|---|\n";
  for (const Finish& row : all_finishes()) {
    text += fmt::format("| `{}` | {} | {} to {} | {} |\n", row.name, row.reflectance, row.low, row.high, row.source);
  }
  std::string synonyms;
  for (const FinishSynonym& synonym : finish_synonyms())
    synonyms += fmt::format("{}`{}` ({})", synonyms.empty() ? "" : ", ", synonym.name, synonym.row);
  return text + "\nOther names for the same skins: " + synonyms +
         ".\n"
         "\nA finish sets the reflectance only. Scatter is set by `specular_spread`, the shape of the skin by `slope_error`.\n"
         "`aluminized`, `aluminum` and `anodized` name the same rows. Without finish and reflectance the mirror is taken as "
         "perfect, and the results say so.\n";
}

std::string load_tables() {
  std::string text = "\n| stuff | heats 1 kg by 1 K [J] | density [kg/m3] | source |\n|---|---|---|---|\n";
  for (const Stuff& row : all_stuffs())
    text += fmt::format("| `{}` | {} | {} | {} |\n", row.name, row.specific_heat, row.density, row.source);
  text += "\n| surface | takes in | range | radiates | source |\n|---|---|---|---|---|\n";
  for (const Skin& row : all_skins())
    text += fmt::format("| `{}` | {} | {} to {} | {} | {} |\n", row.name, row.absorptance, row.low, row.high, row.emittance,
                        row.source);
  return text;
}

std::string unit_table() {
  std::string text = "| of | units |\n|---|---|\n";
  for (const Dimension dimension : {Dimension::length, Dimension::angle, Dimension::irradiance, Dimension::frequency,
                                    Dimension::speed, Dimension::temperature, Dimension::mass, Dimension::volume, Dimension::time,
                                    Dimension::pressure, Dimension::level, Dimension::power_level}) {
    std::string list;
    for (const Unit& unit : all_units()) {
      if (unit.dimension == dimension) list += fmt::format("{}`{}`", list.empty() ? "" : ", ", unit.symbol);
    }
    text += fmt::format("| {} | {} |\n", dimension_word(dimension), list);
  }
  return text + "\n`°`, `′`, `″`, `µ`, `²` and curly marks are read as the plain signs.\n";
}

}  // namespace

std::string scene_file_reference() {
  std::string text =
      "<!-- Written from the key table by scene_file_reference(); tests/scenefile/reference_test.cpp says how to write it again. "
      "-->\n";
  text += opening + unit_table();
  text += "\n## Top of the file\n\n" + section_table("");
  text += "\n## `[sun]`\n\nOne table. The file needs it, a `[lamp]`, `[sound]` or `[radio]`, though `[sun]` may be empty.\n\n" +
          section_table("sun");
  text += outdoors_opening + section_table("place") + mount_opening + section_table("mount");
  text += lamp_opening + section_table("lamp") + "\n" + lamp_list;
  text += sound_opening + section_table("sound");
  text += "\n`[air]`, may be left out:\n\n" + section_table("air");
  text += load_opening + section_table("load") + load_tables();
  text += radio_opening + section_table("radio") + "\n`feed`:\n\n" + section_table("feed") +
          "\n`[link]`, may be left out: another station that the dish hears.\n\n" + section_table("link") + several_sources;
  text += "\n## `[reflector.NAME]`\n\nA mirror; at least one.\n\n" + section_table("reflector") +
          "\n### Shapes of reflectors\n\n" + shape_list();
  text += "\n### Flaws\n\nAll heights are along z and bend the light because they change the slope. More: [flaws](flaws.md).\n";
  for (const char* section : {"waviness", "scallop", "dents"})
    text += fmt::format("\n`{}`:\n\n", section) + section_table(section);
  text +=
      "\n### Wire mesh\n\n`wire_mesh`: what it lets through is taken off `wave_reflectance`, by frequency. More: "
      "[waves](waves.md).\n\n" +
      section_table("wire_mesh");
  text += "\n### Finishes\n\n" + finish_table();
  text +=
      "\n## `[target.NAME]`\n\nWhat catches the light; at least one. The first one's intercept is what `accuracy` is about.\n\n" +
      section_table("target");
  text += "\n## `[trace]`\n\nMay be left out. With `accuracy`, `paths` is passed over.\n\n" + section_table("trace");
  return text + frame;
}

}  // namespace dishwright
