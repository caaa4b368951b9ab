// SPDX-License-Identifier: MIT
#include "report/waves/wave_json.h"

#include <fmt/format.h>

#include <cmath>
#include <functional>
#include <iterator>
#include <numbers>

#include "base/csv.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/scene_words.h"
#include "report/waves/wave_tables.h"
#include "report/waves/wave_words.h"
#include "wave/air.h"

namespace dishwright {

namespace {

Json quantity(const std::optional<double>& value, const char* unit) {
  return value && std::isfinite(*value) ? json_quantity(Estimate{*value, std::nullopt, unit}) : Json(nullptr);
}

/// One value, or a list where the file lists its frequencies.
class ByFrequency {
 public:
  ByFrequency(bool listed, std::size_t count) : listed_(listed), count_(count) {}
  Json operator()(const std::function<Json(std::size_t)>& value) const {
    if (!listed_) return value(0);
    Json list = Json::array();
    for (std::size_t k = 0; k < count_; ++k) list.push_back(value(k));
    return list;
  }

 private:
  bool listed_;
  std::size_t count_;
};

Json target_json(const WaveFigures& figures, const WaveTarget& target, const ByFrequency& all) {
  Json out;
  for (const FigureRow& row : compared_rows(figures.radio ? FigureSource::radio : FigureSource::sound))
    out[std::string(row.name)] = all([&](std::size_t k) { return json_quantity(wave_figure(target.answers[k], row.figure)); });
  return out;
}

Json voice_json(const VoiceFigures& voice) {
  Json out;
  out["frequency"] = quantity(voice.frequency, "Hz");
  out["level_at_1m"] = quantity(voice.level_at_1m, "dB");
  out["absorption"] = quantity(voice.absorption, "dB/m");
  for (const char* list : {"distances", "gains", "without", "with"}) out[list] = Json::array();
  for (const double distance : voice_distances(false)) {
    const std::optional<double> gain = voice.gain_at(distance);
    const auto level = [&](double more) { return level_at(voice.level_at_1m, distance, more, voice.absorption); };
    out["distances"].push_back(quantity(distance, "m"));
    out["gains"].push_back(quantity(gain, "dB"));
    out["without"].push_back(quantity(level(0), "dB"));
    out["with"].push_back(gain ? quantity(level(*gain), "dB") : Json(nullptr));
  }
  out["quiet"] = quantity(quiet_field, "dB");
  out["reach_without"] = quantity(voice.reach_without, "m");
  out["reach_with"] = quantity(voice.reach_with, "m");
  return out;
}

Json link_json(const LinkBudget& link, double frequency) {
  Json out;
  out["frequency"] = quantity(frequency, "Hz");
  out["transmit_power"] = quantity(link.transmit_power, "dBm");
  out["transmit_gain"] = quantity(link.transmit_gain, "dBi");
  out["receive_gain"] = quantity(link.receive_gain, "dBi");
  out["distance"] = quantity(link.distance, "m");
  out["path_loss"] = quantity(free_space_loss(link.distance, link.wavelength), "dB");
  out["losses"] = quantity(link.other_losses, "dB");
  out["received_power"] = quantity(link.received_power(), "dBm");
  out["needed"] = quantity(link.needed_power, "dBm");
  out["margin"] = quantity(link.margin(), "dB");
  out["reach"] = quantity(link_reach(link), "m");
  return out;
}

/// What only the first target has.
void add_details(const WaveFigures& figures, const ByFrequency& all, Json& out) {
  const auto& details = figures.details;
  out["misses"] = Json::object();
  for (std::size_t m = 0; m < details.front().misses.size(); ++m) {
    out["misses"][details.front().misses[m].name] = all([&](std::size_t k) { return quantity(details[k].misses[m].loss, "dB"); });
  }
  if (figures.radio) return;
  out["best_place"] = all([&](std::size_t k) {
    if (!details[k].best) return Json(nullptr);
    Json best;
    best["place"] = Json::array();
    for (int axis = 0; axis < 3; ++axis) best["place"].push_back(quantity(details[k].best->place[axis], "m"));
    best["gain"] = quantity(details[k].best->gain.gain, "dB");
    best["at_edge"] = details[k].best->at_edge;
    return best;
  });
  out["stops_helping"] = quantity(figures.curve.stops_helping, "Hz");
  out["helps"] = Json::array(), out["cancelled"] = Json::array();
  for (const PitchBand& band : figures.help.bands)
    out["helps"].push_back({{"from", quantity(band.from, "Hz")}, {"to", quantity(band.to, "Hz")}});
  for (const CancelledPitch& dip : figures.help.cancelled)
    out["cancelled"].push_back({{"frequency", quantity(dip.frequency, "Hz")}, {"gain", quantity(dip.gain, "dB")}});
  if (!figures.link_gains.empty()) out["link_gain"] = all([&](std::size_t k) { return quantity(figures.link_gains[k], "dB"); });
  if (figures.voice) out["voice"] = voice_json(*figures.voice);
}

Json convergence_json(const Convergence& convergence) {
  Json out;
  out["points"] = convergence.points;
  out["change"] = quantity(convergence.change, "1");
  out["reached"] = convergence.reached;
  return out;
}

std::string cell(double level) { return std::isfinite(level) ? fmt::format("{:.4f}", level) : ""; }

}  // namespace

Json wave_json(const Scene& scene, const std::string& scene_name, const std::string& digest, const WaveFigures& figures) {
  const bool listed = figures.radio ? scene.radio->listed : scene.sound->listed;
  const ByFrequency all(listed, figures.frequencies.size());
  Json out;
  out["scene"] = scene_title(scene, scene_name);
  out["version"] = DISHWRIGHT_VERSION;
  out["scene_digest"] = digest;
  out["seed"] = scene.trace.seed;
  out["method"] = "waves";
  out["source"] = figures.radio ? "radio" : "sound";
  out["wave_speed"] = quantity(figures.speed, "m/s");
  out[listed ? "frequencies" : "frequency"] = all([&](std::size_t k) { return quantity(figures.frequencies[k], "Hz"); });
  out["surface_rms"] = quantity(figures.surface_rms, "m");
  if (!figures.mesh_leaks.empty()) out["mesh_leak"] = all([&](std::size_t k) { return quantity(figures.mesh_leaks[k], "1"); });
  if (figures.radio) out["feed_power"] = quantity(figures.feed_power, "1");
  out["targets"] = Json::object();
  for (const WaveTarget& target : figures.targets) out["targets"][target.name] = target_json(figures, target, all);
  add_details(figures, all, out["targets"][figures.targets.front().name]);
  if (figures.link) out["link"] = link_json(*figures.link, figures.frequencies[figures.shown]);
  out["convergence"] = convergence_json(figures.convergence);
  out["beam_convergence"] = convergence_json(figures.beam_convergence);
  out["notes"] = scene.oddities;
  for (const std::string& note : scene.notes) out["notes"].push_back(note);
  for (const std::string& note : figures.notes) out["notes"].push_back(note);
  return out;
}

std::string gain_csv(const WaveFigures& figures) {
  std::string out = "frequency [Hz],gain [dB],reflected_gain [dB]\n";
  for (std::size_t k = 0; k < figures.curve.gains.size(); ++k) {
    const WaveGain& gain = figures.curve.gains[k];
    fmt::format_to(std::back_inserter(out), "{:.6g},{},{}\n", figures.curve_frequencies[k], cell(gain.gain),
                   cell(gain.reflected_gain));
  }
  return out;
}

std::string pattern_csv(const WaveFigures& figures) {
  std::string out = "angle [deg]";
  for (const WavePattern& pattern : figures.patterns)
    out += "," + csv_text(fmt::format("{} [{}]", frequency_text(pattern.frequency), gain_unit(figures)));
  out += "\n";
  for (std::size_t k = 0; k < figures.patterns.front().angles.size(); ++k) {
    fmt::format_to(std::back_inserter(out), "{:.6g}", figures.patterns.front().angles[k] * 180 / std::numbers::pi);
    for (const WavePattern& pattern : figures.patterns) out += "," + cell(pattern.levels[k]);
    out += "\n";
  }
  return out;
}

std::string wave_map_csv(const WaveMap& map, const std::string& up, Units units) {
  const MapPlane& plane = map.plane;
  const double scale = lengths_per_metre(units);
  const auto middle = [&](int k, int count, double half) { return scale * half * ((2 * k + 1.0) / count - 1); };
  std::string out = fmt::format("{2} [{0}],{1} [{0}],gain [dB]\n", length_unit(units), up, map.turned ? "aside" : "x");
  for (int row = 0; row < plane.rows; ++row) {
    for (int column = 0; column < plane.columns; ++column) {
      fmt::format_to(std::back_inserter(out), "{:.6g},{:.6g},{}\n", middle(column, plane.columns, plane.half_width),
                     middle(row, plane.rows, plane.half_height),
                     cell(map.levels[static_cast<std::size_t>(row * plane.columns + column)]));
    }
  }
  return out;
}

}  // namespace dishwright
