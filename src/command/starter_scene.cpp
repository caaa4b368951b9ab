// SPDX-License-Identifier: MIT
#include "command/starter_scene.h"

#include "base/text.h"

namespace dishwright {

namespace {

/// A TOML string in double quotes, with nothing in it that a title may not hold: control characters become spaces.
std::string in_quotes(std::string text) {
  constexpr int longest = 150;  // characters
  for (char& c : text) c = static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? ' ' : c;
  std::string out = "\"";
  for (const char c : clipped(text, longest)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

constexpr const char* rest = R"(
# Lengths and angles are written in quotes, with their unit: "3 1/2 in", "2 ft 6 in", "45 cm",
# "0.25 deg", "4 mrad". Text after # is a note for people; the program passes over it.
# To try a line that starts with #, take the # away.

[sun]
beam = "850 W/m2"              # sunlight on a surface that faces the sun; 1000 is a very clear day
aim_error = "0.5 deg"          # how far the dish points past the sun
# aim_direction = "90 deg"     # the side the sun leans to: 0 deg = right (+x), 90 deg = up (+y)

[reflector.dish]               # the mirror; "dish" is a name you choose
shape = "paraboloid"           # or: sphere, trough, arc trough, flat
focal_length = "24 in"         # from the bottom of the dish (the vertex) to the focus
width = "48 in"                # rim to rim
# hole_width = "2 in"          # a hole in the middle
finish = "aluminised film"     # the skin; it sets how much light is reflected
slope_error = "4 mrad"         # how far the skin tilts here and there, as an rms angle

[target.kettle]                # what the light must hit; "kettle" is a name you choose
shape = "pot"                  # or: disk, rectangle, tube, ball
width = "6 in"
height = "5 in"
at = "focus of dish"           # the centre of the pot's base is at the focus
# offset = ["0 in", "0 in", "1 in"]   # moves it from there: right, up, toward the sun

[trace]
paths = 1_000_000              # how many paths of light are followed; more = surer figures
seed = 1                       # the same seed gives the same figures again
)";

}  // namespace

std::string starter_scene(const std::string& name) {
  return "# A dish, the sun and a pot. Change a number, save, and trace again:  dishwright trace FILE\n\ntitle = " +
         in_quotes(name) + "\n" + rest;
}

}  // namespace dishwright
