// SPDX-License-Identifier: MIT
// How the answer changes with one value, and with direction.
"use strict";

/** Gain against pitch, which the answer has with it. */
function showCurve() {
  if (plot) plot.destroy();
  const { frequencies, gains } = state.found.curve;
  plot = drawLines($("chart"), frequencies, [gains], ["pitch [Hz], in octaves", "gain [dB]"], { log: true });
  $("chart").setAttribute("aria-label", `Gain against pitch: ${digits(gains[0])} dB at ${digits(frequencies[0])} Hz, ${digits(gains[gains.length - 1])} dB at ${digits(frequencies[frequencies.length - 1])} Hz`);
  $("chart-words").textContent = "Above 0 dB the mirror helps.";
}

let patternPlot = null;
function showPattern(found) {
  const patterns = found.patterns || [];
  $("pattern-figure").hidden = patterns.length === 0;
  if (patternPlot) patternPlot.destroy();
  patternPlot = null;
  if (patterns.length === 0) return;
  const top = Math.max(...patterns.flatMap((one) => one.levels)), angles = patterns[0].angles.map((one) => (one * 180) / Math.PI);
  const same = patterns.filter((one) => one.angles.length === angles.length);
  patternPlot = drawLines($("pattern"), angles, same.map((one) => one.levels.map((level) => (level === null ? null : Math.max(level, top - 60)))), ["away from the axis [deg]", "level [dB]"]);
  const strokes = ["dashed", "through", "dotted"];
  $("pattern-words").textContent = same.length > 1 ? same.map((one, k) => `${strokes[k % 3]}: ${digits(one.frequency)} Hz`).join(", ") + "." : "";
}

async function showChart() {
  const key = $("chart-key").value, day = key === "sun.time" && when ? { label: "time of day", unit: "h", per_si: 1 / 3600, own: when.hours } : null;
  const control = day || controls().find((one) => one.key === key);
  if (key === "curve" && state.found.curve) return showCurve();
  if (!control) return;
  const space = control.unit ? ` ${control.unit}` : "", figure = $("chart-figure").value;
  const asked = question({ study: "sweep", parts: ["words"], figure });
  delete asked.shape;
  asked.set = asked.set.filter((one) => !one.startsWith(`${key}=`));
  asked.vary = [day ? chartVary() : `${key}=${control.low}${space}:${control.high}${space}:21`];
  const list = state.found.trace.frequencies; // a point of a sweep has one
  if (list) asked.set.push(`${source()}.frequency=${list[Math.floor(list.length / 2)].value} Hz`);
  if (isLight()) asked.set.push(`trace.paths=${besidePaths()}`);
  const found = await askBeside("chart", asked);
  if (!found) return;
  if (plot) plot.destroy();
  plot = null;
  const words = $("chart-words");
  words.textContent = found.problems ? found.problems[0].what : state.shape ? `Of the curve as it is in the file, not of ${state.shape}.` : "";
  if (!found.sweep) return;
  const points = found.sweep.points.map((one) => one.figures[figure]), first = points.find(Boolean);
  if (!first) {
    words.textContent = "There is no such figure here: no light arrives, or the target has no plane of its own.";
    return;
  }
  const { per, unit } = shownIn(first.unit);
  const x = found.sweep.points.map((one) => one.at[0].value * control.per_si), y = points.map((one) => one && one.value * per);
  const now = !day && state.sets.has(key) ? parseFloat(state.sets.get(key)) : control.own;
  const names = [`${control.label}${control.unit ? ` [${control.unit}]` : ""}`, `${figureNames[figure]} [${unit}]`];
  const range = figure === "intercept" ? [0, 100] : isLight() ? (u, low, high) => [0, high * 1.05] : null;
  plot = drawLines($("chart"), x, [y], names, { now, range });
  const last = y.length - 1;
  $("chart").setAttribute("aria-label", `${names[1]} against ${names[0]}: ${digits(y[0])} at ${digits(x[0])}, ${digits(y[last])} at ${digits(x[last])}`);
  words.textContent += answerWords(found);
}
