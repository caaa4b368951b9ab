// SPDX-License-Identifier: MIT
// The controls: one thing to change at a time.
"use strict";

function makeSliders() {
  const list = controls();
  $("sliders").replaceChildren(...list.map(slider));
  makeClock();
  const wanted = $("chart-key").value;
  const keys = list.filter((one) => !/direction|count/.test(one.key)).map((one) => option(one.key, one.label));
  if (when) keys.push(option("sun.time", "time of day"));
  $("chart-key").replaceChildren(...(source() === "sound" ? [option("curve", "pitch")] : []), ...keys);
  if ([...$("chart-key").options].some((one) => one.value === wanted)) $("chart-key").value = wanted;
  const figures = chartFigures[isLight() ? "light" : "waves"], figure = $("chart-figure").value;
  $("chart-figure").replaceChildren(...figures.map((one) => option(one, figureNames[one])));
  if (figures.includes(figure)) $("chart-figure").value = figure;
}

function slider(control) {
  const box = document.createElement("div");
  box.className = "slider";
  const id = `control-${control.key.replace(/[^a-z0-9]/gi, "-")}`;
  const label = Object.assign(document.createElement("label"), { htmlFor: id, textContent: control.label });
  const number = Object.assign(document.createElement("input"), { type: "number", min: control.low, max: control.high, step: "any" });
  number.setAttribute("aria-label", `${control.label}${control.unit ? `, ${control.unit}` : ""}`);
  const range = Object.assign(document.createElement("input"), { type: "range", id, min: control.low, max: control.high, step: control.step });
  const unit = Object.assign(document.createElement("span"), { className: "unit" });
  const tell = (value) => (unit.textContent = ` ${control.unit}${control.words ? ` = ${control.words(value)}` : ""}`);
  const show = (value) => {
    tell(value);
    range.value = value;
    number.value = Number(Number(value).toPrecision(6));
  };
  const set = (value, from) => {
    if (!Number.isFinite(value)) return;
    const kept = Math.min(Math.max(value, control.low), control.high);
    if (from !== range) range.value = kept;
    if (from !== number) number.value = Number(kept.toPrecision(6));
    tell(kept);
    if (control.put) return control.put(kept);
    if (Math.abs(kept - control.own) < 1e-9 * Math.max(1, Math.abs(control.own))) {
      state.sets.delete(control.key);
    } else {
      state.sets.set(control.key, `${kept}${control.unit ? ` ${control.unit}` : ""}`);
    }
    solve();
  };
  show(control.own);
  range.addEventListener("input", () => set(range.valueAsNumber, range));
  number.addEventListener("input", () => set(number.valueAsNumber, number));
  number.addEventListener("change", () => show(number.value === "" ? control.own : Math.min(Math.max(number.valueAsNumber, control.low), control.high)));
  const held = document.createElement("span");
  held.append(number, unit);
  box.append(label, held, range);
  box.dataset.key = control.key;
  return box;
}
