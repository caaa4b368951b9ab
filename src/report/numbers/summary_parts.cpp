// SPDX-License-Identifier: MIT
#include "report/numbers/summary_parts.h"

#include <algorithm>

#include "report/numbers/scene_words.h"
#include "report/numbers/sky_words.h"
#include "report/numbers/text_layout.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr int label_width = 32;

std::string source_line(const Scene& scene, Units units) {
  if (scene.sound) return wrapped(wave_source_words(scene, units), "Sound: ", "  ");
  if (scene.radio) return wrapped(wave_source_words(scene, units), "Radio: ", "  ");
  return scene.lamp ? wrapped(lamp_words(*scene.lamp, units), "Lamp: ", "  ") : wrapped(sun_words(scene.sun), "Sun: ", "  ");
}

}  // namespace

std::string summary_line(const std::string& label, const std::string& text) { return labelled(label, text, label_width); }

std::string summary_heading(const std::string& text) { return "\n" + wrapped(text); }

std::string title_lines(const std::string& title) {
  return wrapped(title) + std::string(static_cast<std::size_t>(std::min(text_width, characters(title))), '=') + "\n";
}

std::string answer_heading(const std::string& heading, const std::vector<std::string>& oddities) {
  std::string out = summary_heading(heading);
  for (const std::string& oddity : oddities) out += wrapped(oddity, "  Look at this first: ", "    ");
  return out;
}

std::string mind_caution_line() { return wrapped("Read the CAUTION above before you use it.", "  ", "  "); }

std::string oddity_lines(const std::vector<std::string>& oddities) {
  std::string out;
  for (const std::string& oddity : oddities) out += wrapped(oddity, "Look at this first: ", "  ");
  return out.empty() ? out : out + "\n";
}

std::string title_block(const Scene& scene, const std::string& scene_name, Units units) {
  std::string out = oddity_lines(scene.oddities) + title_lines(scene_title(scene, scene_name));
  out += source_line(scene, units);
  if (scene.outdoors) out += wrapped(outdoors_words(*scene.outdoors), "Sky: ", "  ");
  for (const Reflector& mirror : scene.reflectors)
    out += wrapped("Mirror " + mirror.name + ": " + mirror_words(scene, mirror, units), "", "  ");
  for (const Target& target : scene.targets)
    out += wrapped("Target " + target.name + ": " + target_words(target, units), "", "  ");
  for (const std::string& note : scene.notes) out += wrapped(note, "Note: ", "  ");
  return out;
}

}  // namespace dishwright
