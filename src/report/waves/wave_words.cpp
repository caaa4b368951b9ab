// SPDX-License-Identifier: MIT
#include "report/waves/wave_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/quantity.h"
#include "report/numbers/deferral.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

std::string aim_words(double error, double direction) {
  if (error == 0) return "straight ahead";
  return fmt::format("{} off the axis toward {}", degrees_text(error), side_words(direction));
}

std::string feed_words(const Radio& radio) {
  if (radio.feed_power) return fmt::format("feed of cosine power {}", exact_text(*radio.feed_power));
  return fmt::format("feed with {} dB at the rim", exact_text(radio.edge_taper));
}

}  // namespace

std::string frequency_text(double frequency) {
  if (frequency < 1e3) return short_number(frequency) + " Hz";
  if (frequency < 1e6) return short_number(frequency / 1e3) + " kHz";
  if (frequency < 1e10) return short_number(frequency / 1e6) + " MHz";
  return short_number(frequency / 1e9) + " GHz";
}

std::string level_text(const std::optional<double>& level, const std::string& unit) {
  if (!level) return "none";
  const std::string text = fmt::format("{:.1f}", *level);
  return (text == "-0.0" ? "0.0" : text) + " " + unit;
}

std::string angle_text(double angle) { return rough_text(angle * 180 / std::numbers::pi, 3) + " deg"; }

double up_to_five(double level) { return 5 * std::ceil(level / 5); }
double down_to_five(double level) { return 5 * std::floor(level / 5); }

std::string gain_unit(const WaveFigures& figures) { return figures.radio ? "dBi" : "dB"; }

std::string frequencies_words(const std::vector<double>& frequencies) {
  const auto [lowest, highest] = std::minmax_element(frequencies.begin(), frequencies.end());
  if (*lowest == *highest) return frequency_text(*lowest);
  return fmt::format("{} to {} ({} frequencies)", frequency_text(*lowest), frequency_text(*highest), frequencies.size());
}

std::string wave_source_words(const Scene& scene, Units units) {
  if (scene.radio) {
    const Radio& radio = *scene.radio;
    return fmt::format("{}; far side {}; {}", frequencies_words(radio.frequencies),
                       aim_words(radio.aim_error, radio.aim_direction), feed_words(radio));
  }
  const Sound& sound = *scene.sound;
  const std::string air = sound.speed ? fmt::format("speed {} m/s", exact_text(*sound.speed))
                                      : fmt::format("air of {:.3g} °C", sound.air.temperature - 273.15);
  const std::string side = aim_words(sound.aim_error, sound.aim_direction);
  const std::string from = sound.from == Sound::From::place ? "from a place at " + place_words(sound.place, units)
                           : sound.from == Sound::From::target
                               ? fmt::format("sent by a speaker at the {}, heard far away {}", scene.targets.front().name, side)
                               : "from far away, " + side;
  return fmt::format("{}; {}; {}", frequencies_words(sound.frequencies), from, air);
}

std::string wave_answer_words(const WaveFigures& figures, std::size_t target) {
  const WaveTarget& one = figures.targets.at(target);
  const WaveAnswer& answer = one.answers.at(figures.shown);
  const std::string at = frequency_text(figures.frequencies.at(figures.shown));
  const bool sent = figures.sends && target == 0;
  if (!answer.gain && sent) return fmt::format("Nothing of the {}'s sound arrives far away at {}.", one.name, at);
  if (!answer.gain) return fmt::format("Nothing arrives at the {} at {}.", one.name, at);
  if (figures.radio) {
    return fmt::format("Gain by way of the {}: {} at {}, {} of the most that its area allows.", one.name,
                       level_text(answer.gain, "dBi"), at, rough_text(100 * answer.radio->aperture_efficiency, 3) + " %");
  }
  if (sent) {
    if (level_text(*answer.gain) == "0.0 dB")
      return fmt::format("Sound sent from the {}: far away as loud as without the mirror, at {}.", one.name, at);
    return fmt::format("Sound sent from the {}: far away {} {} than without the mirror, at {}.", one.name,
                       level_text(std::abs(*answer.gain)), *answer.gain < 0 ? "less" : "more", at);
  }
  if (level_text(*answer.gain) == "0.0 dB")
    return fmt::format("Sound at the {}: as loud as without the mirror, at {}.", one.name, at);
  const std::string more = *answer.gain < 0 ? "less" : "more";
  return fmt::format("Sound at the {}: {} {} than without the mirror, at {}.", one.name, level_text(std::abs(*answer.gain)), more,
                     at);
}

std::string wave_heading(const WaveFigures& figures, std::size_t target) {
  const char* const words = figures.radio                  ? "Gain by way of the "
                            : figures.sends && target == 0 ? "Sound sent from the "
                                                           : "Sound at the ";
  return words + figures.targets[target].name;
}

std::string beam_words(const WaveFigures& figures) {
  const WaveAnswer& answer = figures.targets.front().answers.at(figures.shown);
  const std::string at = frequency_text(figures.frequencies.at(figures.shown));
  if (!answer.half_power_width)
    return fmt::format("At {} there is no beam: {} in front.", at,
                       figures.radio   ? "all sides count much the same"
                       : figures.sends ? "it sends to all sides"
                                       : "it hears to all sides");
  const double width = *answer.half_power_width;
  std::string out = fmt::format("At {} the beam is {} wide (to half the power, 3 dB down): {} off to the side, half is lost.", at,
                                angle_text(width), angle_text(width / 2));
  if (answer.side_lobe)
    out += fmt::format(" The strongest side lobe is {} {} the beam.", level_text(std::abs(*answer.side_lobe)),
                       *answer.side_lobe > 0 ? "above" : "below");
  return out;
}

std::string flaw_loss_words(const Scene& scene, const WaveFigures& figures, Units units) {
  if (figures.surface_rms <= 0) return "";
  const double frequency = figures.frequencies.at(figures.shown), wavelength = figures.speed / frequency;
  std::string words = fmt::format(
      "The surface of the {} is off by {} rms (half of the way's error, along the axis): 1/{} of a wavelength at {}. By Ruze's "
      "rule that "
      "costs {} if the errors change within a small part of the mirror; the gain here follows the true shape",
      scene.reflectors.front().name, wave_length_text(figures.surface_rms, units),
      rough_text(wavelength / figures.surface_rms, 3), frequency_text(frequency),
      level_text(-10 * std::log10(std::max(1e-30, ruze_factor(figures.surface_rms, wavelength)))));
  const auto& radio = figures.targets.front().answers.at(figures.shown).radio;
  if (radio && radio->surface > 0) words += fmt::format(", which costs {}", level_text(-10 * std::log10(radio->surface)));
  return words + ".";
}

std::string surface_words(const WaveFigures& figures, Units units) {
  const double frequency = figures.frequencies.at(figures.shown), wavelength = figures.speed / frequency;
  const auto limit = [&](double loss) {
    const double error = ruze_limit(loss, wavelength);
    return fmt::format("{} {} ({:.3f} wavelengths) for {:.1f} dB", rough_text(error * lengths_per_metre(units), 3),
                       length_unit(units), error / wavelength, loss);
  };
  return fmt::format("How rough the surface may be at {}: {}, {} (rms, half-path, bumps short against the dish).",
                     frequency_text(frequency), limit(0.5), limit(1));
}

std::string wave_length_text(double metres, Units units) {
  return fmt::format("{} {}", rough_text(metres * lengths_per_metre(units), 3), length_unit(units));
}

std::string wave_place_text(const Vector3& place, Units units) {
  const Vector3 shown = place * lengths_per_metre(units);
  const double largest = shown.cwiseAbs().maxCoeff();
  const double step = largest > 0 ? std::pow(10.0, std::floor(std::log10(largest)) - 2) : 1;
  const auto number = [&](double value) { return rough_text(std::round(value / step) * step, 3); };
  return fmt::format("x {}, y {}, z {} {}", number(shown.x()), number(shown.y()), number(shown.z()), length_unit(units));
}

std::string distance_text(double metres, Units units) {
  constexpr double foot = 0.3048, mile = 5280 * foot, far = 1000;
  const auto text = [](double value, const char* unit) { return fmt::format("{} {}", rough_text(value, 3), unit); };
  if (units == Units::si) return metres < far ? text(metres, "m") : text(metres / 1e3, "km");
  return metres < mile ? text(metres / foot, "ft") : text(metres / mile, "miles");
}

std::string voice_words(const WaveFigures& figures, Units units) {
  const VoiceFigures& voice = *figures.voice;
  const bool near = voice_distances(units == Units::us).front() < voice.flat_from;
  const std::string apart =
      near ? fmt::format(
                 " Nearer than about {} the dish does not meet a flat wave, and its gain is another: each distance is "
                 "reckoned by itself.",
                 distance_text(voice.flat_from, units))
           : "";
  return fmt::format(
      "A voice of {} at 1 m has fallen to {}, a quiet field, after {} without and {} with the dish, at {}. The air swallows "
      "{} dB each {}.{}",
      level_text(voice.level_at_1m), level_text(quiet_field), distance_text(voice.reach_without, units),
      distance_text(voice.reach_with, units), frequency_text(voice.frequency),
      rough_text(voice.absorption * (units == Units::us ? 30.48 : 100), 2), units == Units::us ? "100 ft" : "100 m", apart);
}

std::string link_words(const WaveFigures& figures, Units units) {
  const LinkBudget& link = *figures.link;
  const std::string sum =
      fmt::format("At {}: {} sent + {} there + {} here - {} over {} - {} of other losses = {} received.",
                  frequency_text(figures.frequencies.at(figures.shown)), level_text(link.transmit_power, "dBm"),
                  level_text(link.transmit_gain, "dBi"), level_text(link.receive_gain, "dBi"),
                  level_text(free_space_loss(link.distance, link.wavelength)), distance_text(link.distance, units),
                  level_text(link.other_losses), level_text(link.received_power(), "dBm"));
  return sum + " " + link_margin_words(figures, units);
}

std::string link_margin_words(const WaveFigures& figures, Units units) {
  const LinkBudget& link = *figures.link;
  const double margin = link.margin();
  const char* const verdict =
      margin < 0 ? "The receiver needs {}: {} too little. It would be just enough at {}, in free space and in sight."
                 : "The receiver needs {}: a margin of {}. It would be used up at {}, in free space and in sight.";
  return fmt::format(fmt::runtime(verdict), level_text(link.needed_power, "dBm"), level_text(std::abs(margin)),
                     distance_text(link_reach(link), units));
}

std::string mesh_words(const WaveFigures& figures) {
  if (figures.mesh_leaks.empty()) return "";
  return fmt::format("The wire mesh lets {} % of the power through at {}.",
                     rough_text(100 * figures.mesh_leaks.at(figures.shown), 2),
                     frequency_text(figures.frequencies.at(figures.shown)));
}

std::string wave_settings_line(std::size_t places, double speed, const std::string& digest, Detail detail) {
  const std::string counted =
      detail == Detail::method ? fmt::format(" · {} places on the mirror", grouped_whole(places)) : std::string();
  return fmt::format("dishwright {} · waves{} · wave speed {} m/s · scene {}", DISHWRIGHT_VERSION, counted, rough_text(speed, 3),
                     digest);
}

std::string wave_caution(bool radio, bool sends) {
  const auto item = [](const std::string& text) { return wrapped(text, "  - ", "    "); };
  std::string out;
  if (radio) {
    out = wrapped("A dish also gathers what it was not made for.", "CAUTION: ", "  ") +
          item("Receive only, unless you hold the licence that your transmitter needs. Stay out of the beam of one that sends.") +
          item("Keep dish, mast and cable away from power lines, and stop when thunder is near.");
  } else if (sends) {
    out = wrapped("In its beam the dish makes the speaker louder than it seems beside it.", "CAUTION: ", "  ") +
          item("Begin softly, keep ears out of the beam and away from the speaker's place, and see that nobody walks in.") +
          item("Ask before you send: sound that carries far disturbs people, and rules differ from place to place.");
  } else {
    out = wrapped("A dish makes near sounds loud too.", "CAUTION: ", "  ") +
          item("Start with headphones off your ears and the volume down: a clap or whistle near the dish can hurt hearing.") +
          item("With a speaker at the focus keep ears out of the beam, and begin softly.") +
          item("Ask before you listen: laws on overhearing people differ from place to place.");
  }
  return out +
         item(
             "A shiny skin gathers the sun: never point it near the sun, never look in, and cover it outdoors. It can burn eyes "
             "and set things on fire where the microphone or feed stands.") +
         wrapped("This is no promise that anything is safe. " + deferral, "  ", "  ");
}

std::string wave_caution_line(bool radio, bool sends) {
  const std::string first = radio   ? "receive only unless licensed"
                            : sends ? "loud in the beam: begin softly, ears out of it"
                                    : "near sounds get loud too: volume down first";
  return fmt::format("Caution: {}; a shiny dish near the sun burns eyes and starts fires; local code and school policy govern.",
                     first);
}

}  // namespace dishwright
