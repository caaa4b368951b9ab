// SPDX-License-Identifier: MIT
// What is worked out when somebody opens it: how long it can be left standing, other curves, other uses, the view to turn about.
"use strict";

const isOpen = (fold) => $(fold).open;

/** Asks the second engine; of the same topic only the last question counts. */
const askBeside = (topic, asked) => charts.ask({ call: "solve", topic, question: asked });

const cell = (kind, text, name = "") => Object.assign(document.createElement(kind), { textContent: text, className: name });
const rowOf = (...cells) => {
  const row = document.createElement("tr");
  row.append(...cells);
  return row;
};
function headOf(...names) {
  const head = document.createElement("thead");
  head.append(rowOf(...names.map((name) => Object.assign(cell("th", name), { scope: "col" }))));
  return head;
}
const bodyOf = (rows) => {
  const body = document.createElement("tbody");
  body.append(...rows);
  return body;
};
const named = (text) => Object.assign(cell("th", text), { scope: "row" });

/** All that stands open follows the settings. */
function showFurther() {
  showDrift();
  if (isOpen("turn-fold")) showSolid();
  if (isOpen("curves-fold")) showCurves();
  if (isOpen("uses-fold")) showUses();
  showTrack();
}

/** What was said of the settings before is taken away at once. */
function forgetFurther() {
  for (const note of ["drift", "curves-note", "uses-note"]) if ($(note).textContent) $(note).textContent = "Working …";
}

async function showDrift() {
  const sunlight = isLight() && Boolean(state.found && state.found.view);
  $("drift-section").hidden = !sunlight;
  if (!sunlight) return;
  $("drift").textContent = "Working …";
  const found = await askBeside("drift", question({ study: "drift", paths: besidePaths(), within: 8000 }));
  if (!found) return;
  $("drift").textContent = found.stopped ? "Not worked out: of this dish it takes a browser too long." : found.drift ? `${found.drift.words} Somebody stays beside it all that time.` : found.problems ? found.problems[0].what : "No light arrives that could be kept.";
}

async function showCurves() {
  const shapes = (state.read.shapes || []).slice(0, 8);
  $("curves-note").textContent = "Working …";
  const paths = besidePaths(), asked = question({ study: "compare", shapes, paths, parts: ["words"] });
  delete asked.shape;
  const found = await askBeside("curves", asked);
  if (!found) return;
  if (!found.compare) {
    $("curves-note").textContent = found.problems ? found.problems.map((one) => one.what).join(" ") : "That cannot be worked out here.";
    $("curves").replaceChildren();
    return;
  }
  const { per, unit } = length();
  const rows = found.compare.scenes.map((one) => {
    const target = Object.values(one.targets)[0], share = target.intercept, needs = one.width_for_90;
    return rowOf(named(one.scene), cell("td", share ? `${withError(100 * share.value, 100 * (share.std_error || 0))} %` : "no light", "number"),
      cell("td", needs && needs.value ? `${digits(needs.value * per)} ${unit}` : "—", "number"));
  });
  $("curves").replaceChildren(headOf("curve", "share caught", "width for nine tenths"), bodyOf(rows));
  const left = found.left_out.map((one) => `${one.shape} (${one.why.replace(/^as an? [^:]*: reflector\.\w+\./, "")})`);
  $("curves-note").textContent = `The same width and, where there is one, the same depth; ${paths} paths each. ${left.length > 0 ? `Left out: ${left.join(", ")}. ` : ""}${answerWords(found)}`;
}

const sourceNames = { light: "light", sound: "sound", radio: "radio" };

async function showUses() {
  $("uses-note").textContent = "Working …";
  const asked = question({ study: "uses", paths: besidePaths() });
  delete asked.as;
  asked.set = asked.set.filter((one) => !/^(sun|mount|sound|radio|lamp)\./.test(one)); // of one source only
  const found = await askBeside("uses", asked);
  if (!found || !found.uses) return;
  const rows = found.uses.map((use) => {
    const figure = use.trace ? useFigure(use) : "—";
    const words = use.problem || plainWords(use.words, "");
    const assumed = use.assumed ? ` Taken, for the file does not say it: ${use.assumed.replace(/^\w+\./, "").replace("=", " ")}.` : "";
    return rowOf(named(sourceNames[use.source]), cell("td", figure, "number"), cell("td", words + assumed));
  });
  $("uses").replaceChildren(headOf("for", "figure", "in words"), bodyOf(rows));
  $("uses-note").textContent = "The same dish, aimed as the file says, with its target where it stands.";
}

function useFigure({ source, trace }) {
  const target = Object.values(trace.targets)[0];
  if (source !== "light") return waveShare(target, trace);
  return target.intercept ? `${digits(100 * target.intercept.value)} %` : "no light";
}

// ---- The view to turn about ----

const turned = { solid: null, about: 0.6, up: 0.45 }; // angles [rad]

async function showSolid() {
  const asked = question({ study: "trace", parts: ["solid", "map"], paths: besidePaths(), method: "auto" });
  const found = isLight() ? await askBeside("solid", asked) : {};
  if (!found) return;
  turned.solid = found.solid || null;
  $("solid-words").textContent = turned.solid ? "" : "Of sunlight only.";
  drawSolid();
}

/** A place in the picture: right, up. */
function flat([x, y, z]) {
  const c = Math.cos(turned.about), s = Math.sin(turned.about), into = -s * x + c * y;
  return [c * x + s * y, z * Math.cos(turned.up) + into * Math.sin(turned.up)];
}

function drawSolid() {
  const svg = $("solid"), { solid } = turned;
  svg.replaceChildren();
  if (!solid) return;
  // A window that holds it however it is turned.
  const places = [...solid.mirrors.flat(), ...solid.targets.flat()];
  const [low, high] = [0, 1, 2].map((k) => places.map((p) => p[k])).reduce(([a, b], list) => [[...a, Math.min(...list)], [...b, Math.max(...list)]], [[], []]);
  const middle = low.map((one, k) => (one + high[k]) / 2), reach = 0.56 * Math.hypot(...low.map((one, k) => high[k] - one));
  svg.setAttribute("viewBox", `${-reach} ${-reach} ${2 * reach} ${2 * reach}`);
  const at = (place) => {
    const [x, y] = flat(place.map((one, k) => one - middle[k]));
    return [x, -y];
  };
  const add = (...one) => svg.append(drawn(...one));
  const line = (list, style) =>
    add("polyline", { points: list.map((place) => at(place).map((one) => one.toFixed(5)).join()).join(" "), fill: "none", "vector-effect": "non-scaling-stroke", ...style });
  for (const one of solid.mirrors) line(one, { stroke: "#8a8a8e", "stroke-width": 0.8 });
  for (const one of solid.targets) line(one, { stroke: blackInk, "stroke-width": 1.6 });
  for (const [x, y, z, share] of solid.spot) {
    const [cx, cy] = at([x, y, z]);
    add("circle", { cx, cy, r: (reach / 110) * Math.sqrt(share), fill: blackInk });
  }
  for (const [name, ray] of Object.entries(solid.rays)) {
    if (ray.line.length < 2) continue;
    line(ray.line, { stroke: blackInk, "stroke-width": 1.3, ...(ray.misses ? { "stroke-dasharray": "5 4" } : {}) });
    if (!/[MNF]/.test(name)) continue;
    const [x, y] = at(ray.line[1]);
    add("text", { x, y: y - reach / 40, "font-size": reach / 9, "text-anchor": "middle", fill: blackInk, stroke: "#fff", "stroke-width": reach / 60, "paint-order": "stroke" }, name);
  }
  svg.setAttribute("aria-label", `Mirror, target and rays, seen ${Math.round((turned.up * 180) / Math.PI)} degrees from the side and ${Math.round((turned.about * 180) / Math.PI)} degrees round. Arrow keys turn it.`);
}

function turnBy(about, up) {
  turned.about = (turned.about + about) % (2 * Math.PI);
  turned.up = Math.min(Math.max(turned.up + up, -Math.PI / 2), Math.PI / 2);
  drawSolid();
}

function beginFurther() {
  for (const [fold, shown] of [["turn-fold", showSolid], ["curves-fold", showCurves], ["uses-fold", showUses]])
    $(fold).addEventListener("toggle", () => isOpen(fold) && state.found && shown());
  const svg = $("solid");
  let held = null;
  svg.addEventListener("pointerdown", (event) => {
    held = [event.clientX, event.clientY];
    svg.setPointerCapture(event.pointerId);
  });
  svg.addEventListener("pointermove", (event) => {
    if (!held) return;
    turnBy((held[0] - event.clientX) / 120, (event.clientY - held[1]) / 120);
    held = [event.clientX, event.clientY];
  });
  for (const end of ["pointerup", "pointercancel"]) svg.addEventListener(end, () => (held = null));
  svg.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: [0.175, 0], ArrowRight: [-0.175, 0], ArrowUp: [0, -0.175], ArrowDown: [0, 0.175] }[event.key];
    if (!step) return;
    event.preventDefault();
    turnBy(...step);
  });
}
