// SPDX-License-Identifier: MIT
// What the page holds: the project, what is set, what the engine said last. What all its parts need.
"use strict";

const $ = (id) => document.getElementById(id);
const stored = JSON.parse($("project").textContent);
const quickPaths = 40000; // while a control moves
const quickTime = 60; // [ms] that the engine may take for a picture then
const settled = 300; // [ms] without a move: then all of it

// ---- State ----

const state = {
  text: stored.text || "",
  name: stored.name || "project.toml",
  files: {}, // name: Uint8Array
  units: stored.units || "us",
  as: "",
  read: null, // what the engine said of the file
  sets: new Map(), // key: text of its value
  shape: "",
  paths: 10000, // for a picture while a control moves: from quickPaths down to what is quick enough
  found: null,
  face: 0,
  pins: [],
};
let quick, charts, settling, turn = 0, plot = null;

/** Paths of one point of what is worked out beside: fewer where this dish is slow to follow. */
const besidePaths = () => Math.max(4000, Math.min(quickPaths, 4 * state.paths));
const length = () => (state.units === "si" ? { per: 1000, unit: "mm" } : { per: 1 / 0.0254, unit: "in" });
const option = (value, text = value) => Object.assign(document.createElement("option"), { value, textContent: text });
const fill = (list, items) => list.replaceChildren(...items.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
const bytesOf = (text) => Uint8Array.from(atob(text), (one) => one.charCodeAt(0));

const question = (more) => {
  const asked = { study: "trace", set: [...state.sets].map(([key, value]) => `${key}=${value}`), units: state.units, ...more };
  if (state.as) asked.as = state.as;
  if (state.shape) asked.shape = state.shape;
  return asked;
};
const source = () => state.as || state.read.sources[0];
const isLight = () => source() === "light";
const controls = () => state.read.controls[source()][state.units];

/** Figures that are shown, by their names in JSON. */
const figureNames = {
  power: "light on the target", intercept: "share caught", peak_irradiance: "brightest", mean_irradiance: "mean",
  spot_width_50: "half of the light within", spot_width_90: "nine tenths within", gain: "gain", half_power_width: "beam width",
};
const chartFigures = { light: ["intercept", "spot_width_50", "spot_width_90", "peak_irradiance", "power"], waves: ["gain", "half_power_width"] };

/** How many of the unit that is shown make one of the engine's. */
function shownIn(unit) {
  const [per, shown] = { m: [length().per, length().unit], 1: [100, "%"], "W/m2": [1e-3, "kW/m²"], rad: [180 / Math.PI, "deg"] }[unit] || [1, unit];
  return { per, unit: shown };
}
