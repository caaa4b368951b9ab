// SPDX-License-Identifier: MIT
// Project files of sound and radio for tests of the commands.
#pragma once

#include <string>

namespace dishwright::testing {

/// A paraboloid 24 in wide of 6 in focal length with a microphone at its focus; `source` is the table of what comes, `more` are
/// lines of the dish.
inline std::string sound_file(const std::string& source, const std::string& more = "") {
  return source + R"(
[reflector.dish]
shape = "paraboloid"
focal_length = "6 in"
width = "24 in"
)" + more +
         R"(
[target.microphone]
shape = "ball"
width = "1 in"
at = "focus of dish"
)";
}
/// The same for sound; `sound` are the lines of [sound].
inline std::string sound_dish(const std::string& sound, const std::string& more = "") {
  return sound_file("[sound]\n" + sound, more);
}

/// A paraboloid with a feed at its focus that throws no shadow; `radio` are the lines of [radio].
inline std::string radio_dish(const std::string& radio, const std::string& focal_length, const std::string& width,
                              const std::string& flaws = "") {
  return "[radio]\n" + radio + "\n[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"" + focal_length + "\"\nwidth = \"" +
         width + "\"\n" + flaws + R"(
[target.feed]
shape = "ball"
width = "1 mm"
at = "focus of dish"
shades = false
)";
}

}  // namespace dishwright::testing
