// SPDX-License-Identifier: MIT
// The answer in words and numbers.
"use strict";

function trouble(found) {
  const text = found.problems ? found.problems.map((one) => one.text).join("\n") : found.out_of_memory ? "The browser has no more memory for this." : found.fault;
  $("trouble").hidden = !text;
  $("trouble").textContent = text || "";
  if (text) $("stored").hidden = state.sets.size > 0 || Boolean(state.shape); // what the command line computed still stands
  return Boolean(text) || found.stopped;
}

function show(found, whole) {
  if (trouble(found)) return;
  // What is not worked out while a control moves stays as it was.
  if (!whole && state.found) found = { ...found, rough: true, why: state.found.why, words: state.found.words, curve: found.curve || state.found.curve };
  state.found = found;
  reading = null;
  const [name, target] = Object.entries(found.trace.targets)[0];
  if (found.trace.method === "waves") {
    $("question").textContent = `How much does the mirror help at the ${name}?`;
    $("share").textContent = waveShare(target, found.trace);
  } else {
    $("question").textContent = `How much of the mirror's light does the ${name} catch?`;
    const power = target.power.value;
    const share = target.intercept ? `${digits(100 * target.intercept.value)} %` : "no light";
    $("share").textContent = `${whole ? "" : "about "}${share} · ${digits(power)} ${target.power.unit}`;
  }
  if (whole) {
    $("answer").textContent = answerWords(found);
    fill($("why"), found.why || []);
    $("sky").textContent = (found.words && found.words.sky) || "";
    fill($("safety"), [(found.words && found.words.keep_clear) || "", ...safetyItems(found.words)].filter(Boolean));
    $("how").textContent = howWords(found.trace);
  }
  showView(found.view);
  if (whole || !found.rough) showPattern(found);
  $("mirror-words").textContent = found.view ? found.view.words[0] : state.read.reflectors.map((one) => one.name).join(", ");
  showFaces(found.maps);
  showMap();
  showNumbers(target);
  drawPins();
}

/** An answer in words without its heading and line ends, which are those of a terminal, and with this of its caution. */
const plainWords = (text, caution) => text.replace(/^[^]*?\n-*\n?  /, "").replace(/\s+/g, " ").replace("Read the CAUTION above before you use it.", caution).trim();
const answerWords = (found) => (found.words ? plainWords(found.words.answer, "Mind the cautions below.") : "");

/** Rules for the hands; of waves the caution's own items. */
const safetyItems = (words) => (!words ? [] : words.safety || words.caution.replace(/^CAUTION: /, "").split(/\n\s*- /).map((one) => one.replace(/\s+/g, " ").trim()).filter(Boolean));

/** Of a list, one a frequency, the middle one. */
const middle = (value) => (Array.isArray(value) ? value[Math.floor(value.length / 2)] : value);

const waveShare = (target, trace) => {
  const gain = middle(target.gain);
  return gain ? `${digits(gain.value)} ${gain.unit}${trace.frequencies ? " at the middle pitch" : ""}` : "nothing arrives";
};

function howWords(trace) {
  const method = { rays: `${trace.paths} paths of light by chance, seed ${trace.seed}`, quadrature: "mirror quadrature, without chance", waves: "a wave integral over the mirror" }[trace.method];
  return `dishwright ${trace.version}, the engine itself, compiled for the browser: ${method}. Scene ${trace.scene_digest}. "dishwright trace" on this file, with the same settings, gives the same figures, but for last digits (by rays: well within their ±).`;
}

function showNumbers(target) {
  const rows = [];
  for (const [key, label] of Object.entries(figureNames)) {
    const one = middle(target[key]);
    if (!one || one.value === undefined || one.value === null) continue;
    const { per, unit } = shownIn(one.unit);
    const row = document.createElement("tr");
    row.append(Object.assign(document.createElement("th"), { scope: "row", textContent: label }), Object.assign(document.createElement("td"), { className: "number", textContent: `${withError(one.value * per, (one.std_error || 0) * per)} ${unit}` }));
    rows.push(row);
  }
  $("numbers").replaceChildren(...rows);
}
