// SPDX-License-Identifier: MIT
// A day of the bright spot of a dish that is left parked, as a picture that moves when it is asked to.
"use strict";

const track = { found: null, now: 0, timer: 0 };
const burning = 1580; // [W/m²] where skin begins to hurt; weaker spots are not drawn

async function showTrack() {
  const possible = Boolean(when) && isLight();
  $("burn-fold").hidden = !possible;
  if (!possible || !isOpen("burn-fold")) return;
  const found = await askBeside("burn", question({ study: "burn", park: $("park").value }));
  if (!found) return;
  stopTrack();
  track.found = found.burn || null;
  fill($("burn-words"), found.burn ? found.burn.words : found.problems ? [found.problems[0].what] : []);
  const steps = found.burn ? found.burn.steps : [];
  $("burn-time").max = Math.max(0, steps.length - 1);
  const strongest = steps.reduce((best, one, k) => (one.irradiance > steps[best].irradiance ? k : best), 0);
  setTrack(steps.length > 0 ? strongest : 0);
}

function setTrack(step) {
  track.now = step;
  $("burn-time").value = step;
  drawTrack("side");
  drawTrack("plan");
  const { found } = track, one = found && found.steps[step];
  if (!one) return ($("burn-now").textContent = "");
  const { per, unit } = length(), sun = `${clockText(one.hours)}, the sun ${digits((one.up * 180) / Math.PI, 2)} deg up: `;
  const side = (value, plus, minus) => `${Math.round(Math.abs(value) * per)} ${unit} ${value < 0 ? minus : plus}`;
  const kilowatts = (value) => `${digits(value / 1000, 2)} kW/m²`;
  $("burn-now").textContent = sun + (one.behind ? "it is behind the mirror." : !one.at || one.irradiance < burning ? "no spot that burns." :
    `${kilowatts(one.irradiance)}, ${side(one.at[0], "east", "west")}, ${side(one.at[1], "north", "south")} and ${side(one.at[2], "above", "below")} the vertex; on the ground ${kilowatts(one.ground)}, on the nearest wall ${kilowatts(one.walls)}.`);
  $("burn-time").setAttribute("aria-valuetext", $("burn-now").textContent);
}

/** Seen toward the north (east to the right, up), or from above (north up). */
function drawTrack(view) {
  const svg = $(`burn-${view}`), { found } = track, plan = view === "plan";
  svg.replaceChildren();
  if (!found) return;
  const flat = (at) => [at[0], -(plan ? at[1] : at[2])];
  const drawnSteps = found.steps.filter((one) => one.at && one.irradiance >= burning);
  const stand = found.hulls[view].flat().map(([x, y]) => [x, -y]);
  stand.push([-1.3 * found.wall, plan ? 1.2 * found.wall : found.height], [1.3 * found.wall, plan ? -1.2 * found.wall : -found.wall]);
  const size = Math.max(...stand.flat().map(Math.abs));
  const near = drawnSteps.map((one) => flat(one.at)).filter(([x, y]) => Math.hypot(x, y) < 3 * size);
  const all = [...stand, ...near];
  const [left, right, top, low] = [Math.min(...all.map((p) => p[0])), Math.max(...all.map((p) => p[0])), Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))];
  const edge = 0.06 * Math.max(right - left, low - top), dot = 0.012 * Math.max(right - left, low - top);
  svg.setAttribute("viewBox", `${left - edge} ${top - edge} ${right - left + 2 * edge} ${low - top + 2 * edge}`);
  const add = (...one) => svg.append(drawn(...one));
  const thin = { fill: "none", "vector-effect": "non-scaling-stroke", stroke: blackInk };
  if (!plan) add("line", { x1: left - edge, y1: found.height, x2: right + edge, y2: found.height, ...thin, "stroke-width": 2 });
  const reach = found.wall;
  if (plan) add("rect", { x: -reach, y: -reach, width: 2 * reach, height: 2 * reach, ...thin, "stroke-dasharray": "4 4" });
  else for (const x of [-reach, reach]) add("line", { x1: x, x2: x, y1: found.height, y2: found.roof ? -found.roof : -found.wall, ...thin, "stroke-dasharray": "4 4" });
  if (!plan && found.roof) add("line", { x1: -reach, x2: reach, y1: -found.roof, y2: -found.roof, ...thin, "stroke-width": 2 });
  for (const hull of found.hulls[view]) add("polygon", { points: hull.map(([x, y]) => `${x},${-y}`).join(" "), fill: "#d9d9d4", stroke: blackInk, "vector-effect": "non-scaling-stroke" });
  for (const one of drawnSteps) {
    const [x, y] = flat(one.at);
    add("circle", { cx: x, cy: y, r: dot, fill: "none", stroke: "#6a6a6e", "vector-effect": "non-scaling-stroke" });
  }
  const one = found.steps[track.now];
  if (!one || !one.at || one.irradiance < burning) return;
  const [x, y] = flat(one.at);
  add("circle", { cx: x, cy: y, r: 2.2 * dot, fill: blackInk });
  add("text", { x, y: y - 3.5 * dot, "font-size": 5 * dot, "text-anchor": "middle", fill: blackInk, stroke: "#fff", "stroke-width": dot, "paint-order": "stroke" }, `${clockText(one.hours)} · ${digits(one.irradiance / 1000, 2)} kW/m²`);
}

function stopTrack() {
  clearInterval(track.timer);
  track.timer = 0;
  $("burn-play").textContent = "play the day";
}

function playTrack() {
  if (track.timer || !track.found) return stopTrack();
  $("burn-play").textContent = "stop";
  // Less motion where that is wanted: one step a second.
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  if (track.now >= track.found.steps.length - 1) setTrack(0);
  track.timer = setInterval(() => {
    if (track.now >= track.found.steps.length - 1) return stopTrack();
    setTrack(Math.min(track.now + (calm ? 6 : 1), track.found.steps.length - 1));
  }, calm ? 1000 : 120);
}

function beginTrack() {
  $("burn-fold").addEventListener("toggle", () => isOpen("burn-fold") && state.found && showTrack());
  $("park").addEventListener("change", showTrack);
  $("burn-play").addEventListener("click", playTrack);
  $("burn-time").addEventListener("input", () => {
    stopTrack();
    setTrack($("burn-time").valueAsNumber);
  });
}
