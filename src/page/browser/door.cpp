// SPDX-License-Identifier: MIT
// What the page calls: the engine with plain numbers and pointers. Texts are UTF-8 and end with 0; what is given back stays until
// the next call of its kind.
#include <emscripten.h>

#include <cstddef>
#include <new>
#include <string>
#include <vector>

#include "page/engine.h"

namespace {

using dishwright::Engine;
using dishwright::EngineAnswer;
using dishwright::NamedFile;

// The host can answer "stop" between two pieces of work.
EM_JS(int, host_stops, (), { return Module["stops"] && Module["stops"]() ? 1 : 0; })

Engine& engine() {
  static Engine one("/project", [] { return host_stops() != 0; });
  return one;
}

struct Kept {
  std::vector<NamedFile> files;
  std::string description;
  EngineAnswer solution;
};

Kept& kept() {
  static Kept all;
  return all;
}

}  // namespace

extern "C" {

/// A file that the next project names; 0 where the memory does not hold it.
EMSCRIPTEN_KEEPALIVE int dishwright_file(const char* name, const char* bytes, int size) {
  try {
    kept().files.push_back({name, std::string(bytes, static_cast<std::size_t>(size))});
    return 1;
  } catch (const std::bad_alloc&) {
    return 0;
  }
}
/// Files that were given for a project which does not come.
EMSCRIPTEN_KEEPALIVE void dishwright_forget() { kept().files.clear(); }

EMSCRIPTEN_KEEPALIVE const char* dishwright_read(const char* text, const char* name) {
  kept().description = engine().read(text, name, kept().files);
  kept().files.clear();
  return kept().description.c_str();
}

EMSCRIPTEN_KEEPALIVE const char* dishwright_solve(int scene, const char* question) {
  kept().solution = engine().solve(scene, question);
  return kept().solution.json.c_str();
}

/// Numbers of map k of the last solution; null where there is none.
EMSCRIPTEN_KEEPALIVE const float* dishwright_map(int k) {
  const auto& maps = kept().solution.maps;
  return k >= 0 && static_cast<std::size_t>(k) < maps.size() ? maps[static_cast<std::size_t>(k)].values.data() : nullptr;
}

EMSCRIPTEN_KEEPALIVE void dishwright_cancel() { engine().cancel(); }
}
