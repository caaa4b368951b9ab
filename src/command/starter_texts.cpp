// SPDX-License-Identifier: MIT
#include "command/starter_texts.h"

namespace dishwright {

namespace {

// Parts that several starters share.
const std::string dish_sun = R"([sun]
beam = "850 W/m2"              # sunlight on a surface that faces the sun; 1000 is a very clear day
aim_error = "0.5 deg"          # how far the dish points past the sun
# aim_direction = "90 deg"     # the side the sun leans to: 0 deg = right (+x), 90 deg = up (+y)

)";
const std::string film_skin = R"(finish = "aluminised film"     # the skin; it sets how much light is reflected
slope_error = "4 mrad"         # how far the skin tilts here and there, as an rms angle
)";
const std::string kettle_head = R"(
[target.kettle]                # what the light must hit; "kettle" is a name you choose
shape = "pot"                  # or: disk, rectangle, tube, ball
)";
const std::string kettle_place = R"(height = "5 in"
at = "focus of dish"           # the centre of the pot's base is at the focus
# offset = ["0 in", "0 in", "1 in"]   # moves it from there: right, up, toward the sun
)";
const std::string trace_keys = R"(
[trace]
paths = 1_000_000              # how many paths of light are followed; more = surer figures
seed = 1                       # the same seed gives the same figures again
)";

const std::string dish_text = dish_sun + R"([reflector.dish]               # the mirror; "dish" is a name you choose
shape = "paraboloid"           # or: sphere, trough, arc trough, flat
focal_length = "24 in"         # from the bottom of the dish (the vertex) to the focus
width = "48 in"                # rim to rim
# hole_width = "2 in"          # a hole in the middle
)" + film_skin + kettle_head + R"(width = "6 in"
)" + kettle_place + trace_keys;

const std::string petals_text = dish_sun + R"([reflector.dish]               # the mirror; "dish" is a name you choose
shape = "petals"               # pieces of sheet side by side round the axis, each bent one way only
focal_length = "24 in"         # from the bottom of the dish (the vertex) to the focus
width = "48 in"                # rim to rim
count = 16                     # how many petals; fewer are less work and make a wider spot
seams = "off curve"            # the middle line of each petal is the parabola; "on curve": its edges are
# hole_width = "3 in"          # the hub in the middle
)" + film_skin + kettle_head + R"(width = "7 in"
)" + kettle_place + trace_keys;

const std::string tiles_text = dish_sun + R"([reflector.dish]               # the mirror; "dish" is a name you choose
shape = "facets"               # flat tiles whose middles lie on a frame
frame = "paraboloid"           # the curve of the frame; or: sphere, flat
focal_length = "24 in"         # from the bottom of the frame (the vertex) to the focus
width = "40 in"                # rim to rim; a tile stays if its middle is within the rim
tile = "2 in"                  # side of a tile; the spot is about as wide as a tile and the sun's image together
tile_shape = "square"          # or: hexagon, round
gap = "1/8 in"                 # between tiles
tilt_error = "4 mrad"          # how far each tile leans from its place by chance, rms
finish = "silvered glass"      # the skin; it sets how much light is reflected
# slope_error = "1 mrad"       # how far a tile itself is wavy, as an rms angle
)" + kettle_head + R"(width = "6 in"
)" + kettle_place + trace_keys;

const std::string trough_text = R"([sun]
beam = "850 W/m2"              # sunlight on a surface that faces the sun; 1000 is a very clear day
aim_error = "0.3 deg"          # how far the trough points past the sun
aim_direction = "0 deg"        # 0 deg: the sun leans across the trough (+x); 90 deg: along it (+y)

[reflector.trough]             # the mirror; "trough" is a name you choose
shape = "trough"               # a parabola across (x), straight along (y)
focal_length = "12 in"         # from the bottom line to the line of the focus
width = "36 in"                # rim to rim, across
length = "60 in"               # along
finish = "polished aluminium"  # the skin; it sets how much light is reflected
slope_error = "5 mrad"         # how far the skin tilts here and there, as an rms angle

[target.pipe]                  # what the light must hit; "pipe" is a name you choose
shape = "tube"                 # it lies along the trough; all round it counts
width = "1 1/2 in"             # its outer diameter
length = "60 in"
at = "focus of trough"         # its middle is on the line of the focus
# offset = ["0 in", "0 in", "1/4 in"]   # moves it from there: across, along, toward the sun
)" + trace_keys;

const std::string sound_text = R"([sound]
frequency = ["500 Hz", "1 kHz", "2 kHz", "4 kHz"]   # pitches; speech is between 300 Hz and 4 kHz
from = "far"                   # the sound comes from far away: its waves arrive flat; or: target, a speaker at the focus
aim_error = "0 deg"            # how far the dish points past the sound
# voice = "raised"             # how far a voice carries; or: normal, loud, shout

[air]
temperature = "68 degF"        # sets the speed of sound
humidity = "50 %"              # with temperature and pressure it sets what the air swallows on a long way

[reflector.dish]               # the mirror; "dish" is a name you choose
shape = "paraboloid"           # every way along the axis to the focus is equally long
focal_length = "8 in"          # from the bottom of the dish (the vertex) to the focus
width = "32 in"                # rim to rim; the depth follows: 32 x 32 / (16 x 8) = 8 in
wave_reflectance = 1           # a stiff shell sends back nearly all sound

[target.microphone]            # what must hear it; "microphone" is a name you choose
shape = "ball"                 # the gain is taken at its centre
width = "3/4 in"
at = "focus of dish"
# offset = ["0 in", "0 in", "1 in"]   # moves it from there: right, up, away from the dish
)";

const std::string radio_text = R"([radio]
frequency = "1420 MHz"         # the hydrogen of the Milky Way; the wave is 8 5/16 in long
feed = { kind = "edge", taper = "-10 dB" }   # the feed hears the rim 10 dB fainter than the middle
aim_error = "0 deg"            # how far the dish points past the sender

[reflector.dish]               # the mirror; "dish" is a name you choose
shape = "paraboloid"           # every way along the axis to the focus is equally long
focal_length = "36 in"         # from the bottom of the dish (the vertex) to the focus
width = "8 ft"                 # rim to rim; the depth follows: 96 x 96 / (16 x 36) = 16 in
wave_reflectance = 0.98        # wire mesh with small holes lets a little through
# wire_mesh = { pitch = "1/2 in", wire = "1/32 in" }   # what just the holes of such a mesh let through

[target.feed]                  # what must receive it; "feed" is a name you choose
shape = "disk"                 # the can with the antenna in it; its shadow blocks a little
width = "7 in"
at = "focus of dish"
# offset = ["0 in", "0 in", "1 in"]   # moves it from there: right, up, away from the dish
)";

const std::string lamp_text = R"([lamp]                         # a bare bulb: no glass, shade or socket is counted
shape = "ball"                 # a frosted bulb shines to all sides alike; or: disk, line
width = "2 3/8 in"
at = "focus of dish"
light = "800 lm"               # as on the bulb's box; all results then come in lumens and lux
# offset = ["0 in", "0 in", "1 in"]   # moves it from there: right, up, away from the dish

[reflector.dish]               # the mirror; "dish" is a name you choose
shape = "paraboloid"           # light from the focus leaves along the axis
focal_length = "12 in"         # from the bottom of the dish (the vertex) to the focus
width = "36 in"                # rim to rim
)" + film_skin + R"(
[target.wall]                  # what the beam must light; "wall" is a name you choose
shape = "disk"                 # a round piece of the wall, wide enough for the beam
width = "10 ft"
at = ["0 ft", "0 ft", "20 ft"] # right, up, away from the dish
)" + trace_keys;

const std::string profile_text = dish_sun + R"([reflector.dish]               # the mirror; "dish" is a name you choose
shape = "profile"              # the curve of a table, beside this file
file = "TABLE"   # its columns: how far from the axis, how high above the middle
kind = "dish"                  # the curve is turned about its axis; or: trough (then add length = "60 in")
curve = "fair"                 # a smooth curve through the points; or: straight, from point to point
)" + film_skin + kettle_head + R"(width = "6 in"
height = "5 in"
at = ["0 in", "0 in", "24 in"] # right, up, toward the sun: a curve of your own has no focus that is known
# offset = ["0 in", "0 in", "1 in"]   # moves it from there: right, up, toward the sun
)" + trace_keys;

}  // namespace

const std::vector<StarterText>& starter_texts() {
  static const std::vector<StarterText> texts = {
      {"dish", "A dish, the sun and a pot.", dish_text},
      {"petals", "A dish of petals cut from sheet, the sun and a pot.", petals_text},
      {"tiles", "A dish of flat mirror tiles on a curved frame, the sun and a pot.", tiles_text},
      {"trough", "A trough, the sun and a pipe.", trough_text},
      {"sound", "A dish that gathers sound for a microphone.", sound_text},
      {"radio", "A dish that receives a radio wave. For listening only.", radio_text},
      {"lamp", "A lamp at the focus of a dish lights a wall.", lamp_text},
      {"profile", "A dish of your own curve, the sun and a pot.", profile_text},
  };
  return texts;
}

std::string starter_profile() {
  return "radius [in],height [in]\n"
         "0,0\n3,3/32\n6,3/8\n9,27/32\n12,1 1/2\n15,2 11/32\n18,3 3/8\n21,4 19/32\n24,6\n";
}

}  // namespace dishwright
