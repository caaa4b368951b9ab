// SPDX-License-Identifier: MIT
// The engine's three calls for JavaScript. It stands behind the compiled module, which makes `loadDishwright`.

/** The compiled engine, ready: {read, solve, cancel, stops}. Throws where WebAssembly is missing. */
async function dishwrightEngine() {
  const module = await loadDishwright();
  const call = {
    file: module.cwrap("dishwright_file", "number", ["string", "number", "number"]),
    read: module.cwrap("dishwright_read", "string", ["string", "string"]),
    solve: module.cwrap("dishwright_solve", "string", ["number", "string"]),
    map: module.cwrap("dishwright_map", "number", ["number"]),
    forget: module.cwrap("dishwright_forget", null, []),
    cancel: module.cwrap("dishwright_cancel", null, []),
  };

  /** False where the memory does not hold it. */
  function give(name, bytes) {
    const place = module._malloc(Math.max(bytes.length, 1));
    if (place === 0) return false;
    module.HEAPU8.set(bytes, place);
    const kept = call.file(name, place, bytes.length) === 1;
    module._free(place);
    return kept;
  }

  /** Numbers of map k, copied out: the memory below moves when it grows. */
  function numbers(k, count) {
    const first = call.map(k) / 4;
    return module.HEAPF32.slice(first, first + count);
  }

  return {
    /** A project file's text and the files that it names ({name: Uint8Array}): {scene, title, …} or {problems}. */
    read(text, files = {}, name = "project.toml") {
      for (const [file, bytes] of Object.entries(files)) {
        if (!give(file, bytes)) return call.forget(), { out_of_memory: true };
      }
      return JSON.parse(call.read(text, name));
    },
    /** What is asked (page/question.h): {trace | sweep | compare | tolerance, maps: [{…, values}]}, or {problems}, {stopped}… */
    solve(scene, question) {
      const found = JSON.parse(call.solve(scene, JSON.stringify(question)));
      (found.maps || []).forEach((map, k) => (map.values = numbers(k, map.columns * map.rows)));
      return found;
    },
    /** Ends the work under way; of use to `stops`, which is asked between two pieces of it. */
    cancel: call.cancel,
    set stops(asked) {
      module.stops = asked;
    },
  };
}

if (typeof module !== "undefined") module.exports = dishwrightEngine;
