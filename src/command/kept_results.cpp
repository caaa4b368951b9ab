// SPDX-License-Identifier: MIT
#include "command/kept_results.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "base/files.h"
#include "base/text.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/text_layout.h"
#include "report/sweep/sweep_data.h"
#include "result/scene_digest.h"
#include "study/sweep.h"

namespace dishwright {

namespace {

using nlohmann::json;

/// A file of results; not an object where there is none that can be read.
json results_in(const std::filesystem::path& file) {
  constexpr std::size_t largest = 64'000'000;  // bytes
  const FileBytes found = file_bytes(file, largest);
  if (found.fault != FileBytes::Fault::none) return {};
  return json::parse(found.bytes, nullptr, false);
}

/// A text of an object; empty where it is none.
std::string text_in(const json& object, const char* key) {
  if (!object.is_object() || !object.contains(key) || !object[key].is_string()) return "";
  return object[key].get<std::string>();
}

/// A member of an object as it stands there; empty where there is none.
std::string dumped(const json& object, const char* key) {
  return object.is_object() && object.contains(key) ? object[key].dump(-1, ' ', false, json::error_handler_t::replace) : "";
}

std::string compared_text(const std::vector<ComparedScene>& scenes) {
  std::string out;
  for (const ComparedScene& one : scenes) out += one.digest + (one.moved ? " moved " : " ") + one.name + "\n";
  return out;
}

/// Of compare.json.
std::vector<ComparedScene> compared_in(const json& results) {
  std::vector<ComparedScene> out;
  if (!results.is_object() || !results.contains("scenes") || !results["scenes"].is_array()) return out;
  for (const json& one : results["scenes"]) {
    const std::string read = text_in(one, "read_digest");
    out.push_back({text_in(one, "scene"), read.empty() ? text_in(one, "scene_digest") : read,
                   one.is_object() && one.contains("best_place")});
  }
  return out;
}

/// Results that begin with the digest of their scene, and the rest of what tells them apart.
std::string headed_text(const json& results, const std::vector<const char*>& keys) {
  std::string out = text_in(results, "scene_digest");
  if (out.empty()) return out;
  for (const char* key : keys) out += "\n" + dumped(results, key);
  return out;
}

}  // namespace

ResultsMark trace_mark(const std::string& digest) {
  return {digest,
          [](const std::filesystem::path& folder) { return text_in(results_in(folder / "figures.json"), "scene_digest"); }};
}

ResultsMark sources_mark(const std::string& digests) {
  return {digests, [](const std::filesystem::path& folder) {
            std::string all;
            for (const char* source : {"light", "sound", "radio"})
              all += text_in(results_in(folder / source / "figures.json"), "scene_digest");
            return all;
          }};
}

ResultsMark compare_mark(const std::vector<ComparedScene>& scenes) {
  return {compared_text(scenes),
          [](const std::filesystem::path& folder) { return compared_text(compared_in(results_in(folder / "compare.json"))); }};
}

ResultsMark sweep_mark(const Scene& first, const std::vector<SweepAxis>& axes, const std::string& target) {
  json own;
  own["scene_digest"] = scene_digest(first);
  own["target"] = target;
  own["vary"] = json::parse(vary_json(axes).dump());
  const std::vector<const char*> keys = {"target", "vary"};
  return {headed_text(own, keys), [keys](const std::filesystem::path& folder) {
            json results = results_in(folder / "sweep.json");
            // The scene says where the file itself stands.
            if (results.is_object() && results.contains("vary") && results["vary"].is_array()) {
              for (json& axis : results["vary"])
                if (axis.is_object()) axis.erase("here");
            }
            return headed_text(results, keys);
          }};
}

ResultsMark tolerance_mark(const Scene& scene, const std::string& target, double wanted) {
  json own;
  own["scene_digest"] = scene_digest(scene);
  own["target"] = target;
  own["wanted"] = json::parse(json_quantity({wanted, std::nullopt, scene.is_wave() ? "dB" : "1"}).dump());
  const std::vector<const char*> keys = {"target", "wanted"};
  return {headed_text(own, keys),
          [keys](const std::filesystem::path& folder) { return headed_text(results_in(folder / "tolerance.json"), keys); }};
}

ResultsMark aim_mark(const Scene& scene, const std::string& target) {
  json own;
  own["scene_digest"] = scene_digest(scene);
  own["target"] = target;
  const std::vector<const char*> keys = {"target"};
  return {headed_text(own, keys),
          [keys](const std::filesystem::path& folder) { return headed_text(results_in(folder / "aim.json"), keys); }};
}

ResultsMark heat_mark(const Scene& scene) {
  return {scene_digest(scene),
          [](const std::filesystem::path& folder) { return text_in(results_in(folder / "heat.json"), "scene_digest"); }};
}

ResultsFolder results_folder(const std::filesystem::path& wanted, const ResultsMark& mark) {
  constexpr int most = 99;
  std::filesystem::path folder = wanted;
  for (int number = 2; number <= most + 1; ++number) {
    const std::string there = mark.in(folder);
    if (there.empty() || there == mark.own) break;
    if (number > most)
      return {folder, wrapped(fmt::format("{} held results of other settings; they are replaced, for there are {} such folders.",
                                          printable(folder.string()), most),
                              "Note: ", "  ")};
    folder = wanted.string() + "-" + std::to_string(number);
  }
  if (folder == wanted) return {folder, ""};
  return {folder, wrapped(fmt::format("{} holds the results of other settings and stays as it is; these are in {}.",
                                      printable(wanted.string()), printable(folder.string())),
                          "Note: ", "  ")};
}

}  // namespace dishwright
