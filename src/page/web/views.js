// SPDX-License-Identifier: MIT
// Side view, map of the light, two maps side by side.
"use strict";

function showView(view) {
  $("side").closest("figure").hidden = !view;
  if (!view) return;
  drawSide($("side"), view);
  $("side-words").textContent = [...view.words, namedWords(view)].filter(Boolean).join(" ");
}

/** Where the three named rays meet the target's plane: they follow the controls. */
function namedWords(view) {
  if (!view.named || view.sun === 0) return "";
  const { per, unit } = length(), [x, y] = view.sun_side;
  const away = (ray) => ray.on_plane && `${digits(Math.abs(ray.on_plane[0] * x + ray.on_plane[1] * y) * per, 2)} ${unit}`;
  const [m, n, f] = [view.named.middle, view.named.near_rim, view.named.far_rim].map(away);
  return m && n && f ? `Out from the middle of the target: middle ray M ${m}, near rim N ${n}, far rim F ${f}. Rays that land apart are the blur.` : "";
}

const wholeMap = () => state.found && state.found.maps[state.face];
const shownMap = () => wholeMap() && cropped(wholeMap(), lightWindow(wholeMap()));

function showFaces(maps) {
  const names = maps.map((one) => one.name);
  if ([...$("face").options].map((one) => one.textContent).join() !== names.join()) {
    $("face").replaceChildren(...names.map((name, k) => option(k, name)));
    const brightest = maps.map(topOf); // where the light is strongest, until another is chosen
    state.face = maps.length > 0 && !isLevels(maps[0]) ? brightest.indexOf(Math.max(...brightest)) : 0;
  }
  $("face").value = state.face;
  $("face").disabled = maps.length < 2;
}

function showMap() {
  const map = shownMap();
  $("map").closest("figure").hidden = !map;
  if (!map) return;
  const top = topOf(map), { per, unit } = length();
  paintMap($("map"), map, top, stored.ink);
  drawScale($("scale"), map, top, stored.ink);
  const words = `${isLevels(map) ? "Loudest" : "Darkest ink"} ${levelText(map, top)}`;
  $("map").setAttribute("aria-label", `Map of ${map.name}. ${words}. Arrow keys read its value.`);
  $("map-value").textContent = `${words}; the map is ${digits((map.x_to - map.x_from) * per)} ${unit} wide, ${digits((map.y_to - map.y_from) * per)} ${unit} high.`;
}

let reading = null; // column and row that the keys point at
function readValue(c, r) {
  const map = shownMap();
  reading = [Math.min(Math.max(c, 0), map.columns - 1), Math.min(Math.max(r, 0), map.rows - 1)];
  const value = map.values[reading[1] * map.columns + reading[0]];
  const { per, unit } = length();
  const x = map.x_from + ((reading[0] + 0.5) * (map.x_to - map.x_from)) / map.columns;
  const y = map.y_from + ((reading[1] + 0.5) * (map.y_to - map.y_from)) / map.rows;
  $("map-value").textContent = `${levelText(map, value)} at ${digits(x * per, 2)}, ${digits(y * per, 2)} ${unit} (right, up)`;
}

function pointerRead(event) {
  const map = shownMap(), place = map && placeUnder($("map"), map, event);
  if (place) readValue(...place);
}

function keyRead(event) {
  const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
  const map = shownMap();
  if (!step || !map) return;
  event.preventDefault();
  const [c, r] = reading || [map.columns >> 1, map.rows >> 1];
  readValue(c + step[0] * (event.shiftKey ? 8 : 1), r + step[1] * (event.shiftKey ? 8 : 1));
}

// ---- Pins ----

function pin() {
  const map = wholeMap();
  if (!map) return;
  const changed = [...state.sets].map(([key, value]) => `${key.split(".").slice(-1)[0].replace(/_/g, " ")} ${value}`).join(", ");
  state.pins = [{ map, words: $("share").textContent, changed: [state.shape, changed].filter(Boolean).join(", ") || "as in the file" }];
  drawPins();
}

function drawPins() {
  $("pinned").hidden = state.pins.length === 0;
  if (state.pins.length === 0) return;
  const map = wholeMap();
  const all = [...state.pins, ...(map ? [{ map, words: $("share").textContent, changed: "now" }] : [])];
  const top = Math.max(...all.map((one) => topOf(one.map))); // one scale of ink, and one window
  const windows = all.map((one) => lightWindow(one.map));
  const common = [Math.min, Math.max, Math.min, Math.max].map((most, k) => most(...windows.map((one) => one[k])));
  $("pins").replaceChildren(...all.map((one) => {
    const box = document.createElement("figure"), canvas = document.createElement("canvas");
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", `Map, ${one.changed}: ${one.words}`);
    box.append(canvas, Object.assign(document.createElement("figcaption"), { textContent: `${one.words}: ${one.changed}` }));
    paintMap(canvas, cropped(one.map, common), top, stored.ink);
    return box;
  }));
}
