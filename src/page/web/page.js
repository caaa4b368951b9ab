// SPDX-License-Identifier: MIT
// The page: asks the engine, draws what it says. No optics here; every figure, ray and sentence is the engine's.
"use strict";

(() => {
  const $ = (id) => document.getElementById(id);
  const stored = JSON.parse($("project").textContent);
  const quickPaths = 40000; // while a control moves
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
    found: null,
    face: 0,
    pins: [],
  };
  let quick, charts, settling, turn = 0, plot = null;

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

  // ---- Reading the file ----

  async function readFile() {
    const found = await quick.ask({ call: "read", text: state.text, name: state.name, files: state.files });
    if (!found) return;
    charts.ask({ call: "read", text: state.text, name: state.name, files: state.files }); // its answer is the same
    showProblems(found.problems, found.fault);
    if (found.problems || found.fault) return;
    state.read = found;
    state.as = found.as;
    state.sets.clear();
    state.shape = "";
    state.face = 0;
    $("stored").hidden = true;
    $("live").hidden = false;
    $("title").textContent = found.title;
    document.title = `${found.title} · dishwright`;
    $("source").replaceChildren(...found.sources.map((word) => option(word)));
    $("source").disabled = found.sources.length < 2;
    const shapes = found.shapes || [];
    $("shape").replaceChildren(option("", "as in the file"), ...shapes.map((word) => option(word)));
    makeSliders();
    solve();
  }

  function showProblems(problems, fault) {
    const box = $("problems");
    box.hidden = !problems && !fault;
    $("text").setAttribute("aria-invalid", String(!box.hidden));
    box.textContent = fault ? fault : (problems || []).map((one) => one.text).join("\n");
  }

  // ---- Controls ----

  function makeSliders() {
    const list = controls();
    $("sliders").replaceChildren(...list.map(slider));
    const wanted = $("chart-key").value;
    const keys = list.filter((one) => !/direction|count/.test(one.key)).map((one) => option(one.key, one.label));
    $("chart-key").replaceChildren(...(source() === "sound" ? [option("curve", "pitch")] : []), ...keys);
    if (list.some((one) => one.key === wanted)) $("chart-key").value = wanted;
  }

  function slider(control) {
    const box = document.createElement("div");
    box.className = "slider";
    const id = `control-${control.key.replace(/[^a-z0-9]/gi, "-")}`;
    const label = Object.assign(document.createElement("label"), { htmlFor: id, textContent: control.label });
    const number = Object.assign(document.createElement("input"), { type: "number", min: control.low, max: control.high, step: "any" });
    number.setAttribute("aria-label", `${control.label}${control.unit ? `, ${control.unit}` : ""}`);
    const range = Object.assign(document.createElement("input"), { type: "range", id, min: control.low, max: control.high, step: control.step });
    const unit = Object.assign(document.createElement("span"), { className: "unit", textContent: ` ${control.unit}` });
    const show = (value) => {
      range.value = value;
      number.value = Number(Number(value).toPrecision(6));
    };
    const set = (value, from) => {
      if (!Number.isFinite(value)) return;
      const kept = Math.min(Math.max(value, control.low), control.high);
      if (Math.abs(kept - control.own) < 1e-9 * Math.max(1, Math.abs(control.own))) {
        state.sets.delete(control.key);
      } else {
        state.sets.set(control.key, `${kept}${control.unit ? ` ${control.unit}` : ""}`);
      }
      if (from !== range) range.value = kept;
      if (from !== number) number.value = Number(kept.toPrecision(6));
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

  // ---- Solving: at once and roughly, then whole ----

  async function solve() {
    const mine = ++turn;
    clearTimeout(settling);
    const light = isLight();
    const rough = light ? { parts: ["map", "view"], method: "auto", paths: quickPaths } : { parts: ["map"] };
    const found = await quick.ask({ call: "solve", question: question(rough) });
    if (found) show(found, false);
    if (mine !== turn) return;
    settling = setTimeout(async () => {
      const parts = light ? ["map", "view", "why", "words", "best", "range"] : ["map", "words"];
      const whole = await quick.ask({ call: "solve", question: question({ parts }) });
      if (whole && mine === turn) show(whole, true);
      if (mine === turn) showChart();
    }, settled);
  }

  function trouble(found) {
    const text = found.problems ? found.problems.map((one) => one.text).join("\n") : found.out_of_memory ? "The browser has no more memory for this." : found.fault;
    $("trouble").hidden = !text;
    $("trouble").textContent = text || "";
    if (text) $("stored").hidden = state.sets.size > 0 || Boolean(state.shape); // what the command line computed still stands
    return Boolean(text) || found.stopped;
  }

  function show(found, whole) {
    if (trouble(found)) return;
    if (!whole && state.found) found = { ...found, why: state.found.why, words: state.found.words };
    state.found = found;
    reading = null;
    const [name, target] = Object.entries(found.trace.targets)[0];
    if (found.trace.method === "waves") {
      $("question").textContent = `How much does the mirror help at ${name}?`;
      $("share").textContent = waveShare(target, found.trace);
    } else {
      $("question").textContent = `How much of the mirror's light does ${name} catch?`;
      const power = target.power.value;
      const share = target.intercept ? `${digits(100 * target.intercept.value)} %` : "no light";
      $("share").textContent = `${whole ? "" : "about "}${share} · ${digits(power)} ${target.power.unit}`;
    }
    if (whole) {
      $("answer").textContent = answerWords(found);
      fill($("why"), found.why || []);
      fill($("safety"), safetyItems(found.words));
      $("how").textContent = howWords(found.trace);
    }
    showView(found.view);
    showPattern(found);
    $("mirror-words").textContent = found.view ? found.view.words[0] : state.read.reflectors.map((one) => one.name).join(", ");
    showFaces(found.maps);
    showMap();
    showNumbers(target);
    drawPins();
  }

  /** The answer without its heading and line ends, which are those of a terminal. */
  const answerWords = (found) => (found.words ? found.words.answer.replace(/^[^]*?\n-*\n?  /, "").replace(/\s+/g, " ").replace("Read the CAUTION above before you use it.", "Mind the cautions below.").trim() : "");

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
    const names = { power: "light on the target", intercept: "share caught", peak_irradiance: "brightest", mean_irradiance: "mean", spot_width_50: "half of the light within", spot_width_90: "nine tenths within", gain: "gain", half_power_width: "beam width" };
    const rows = [];
    for (const [key, label] of Object.entries(names)) {
      const one = middle(target[key]);
      if (!one || one.value === undefined || one.value === null) continue;
      const [per, unit] = { m: [length().per, length().unit], 1: [100, "%"], "W/m2": [1e-3, "kW/m²"], rad: [180 / Math.PI, "deg"] }[one.unit] || [1, one.unit];
      const row = document.createElement("tr");
      row.append(Object.assign(document.createElement("th"), { scope: "row", textContent: label }), Object.assign(document.createElement("td"), { className: "number", textContent: `${withError(one.value * per, (one.std_error || 0) * per)} ${unit}` }));
      rows.push(row);
    }
    $("numbers").replaceChildren(...rows);
  }

  // ---- Pictures ----

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

  // ---- Chart ----

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
    const key = $("chart-key").value, control = controls().find((one) => one.key === key);
    if (key === "curve" && state.found.curve) return showCurve();
    if (!control) return;
    const space = control.unit ? ` ${control.unit}` : "", asked = question({ study: "sweep", parts: ["words"] });
    delete asked.shape;
    asked.set = asked.set.filter((one) => !one.startsWith(`${key}=`));
    asked.vary = [`${key}=${control.low}${space}:${control.high}${space}:21`];
    const list = state.found.trace.frequencies; // a point of a sweep has one
    if (list) asked.set.push(`${source()}.frequency=${list[Math.floor(list.length / 2)].value} Hz`);
    if (isLight()) asked.set.push(`trace.paths=${quickPaths}`);
    const found = await charts.ask({ call: "solve", question: asked });
    if (!found) return;
    if (plot) plot.destroy();
    plot = null;
    const words = $("chart-words");
    words.textContent = found.problems ? found.problems[0].what : state.shape ? `Of the curve as it is in the file, not of ${state.shape}.` : "";
    if (!found.sweep) return;
    const light = "intercept" in found.sweep.points[0].figures, figure = light ? "intercept" : "gain";
    const x = found.sweep.points.map((one) => one.at[0].value * control.per_si);
    const y = found.sweep.points.map((one) => one.figures[figure] && one.figures[figure].value * (light ? 100 : 1));
    const now = state.sets.has(key) ? parseFloat(state.sets.get(key)) : control.own;
    const names = [`${control.label}${control.unit ? ` [${control.unit}]` : ""}`, light ? "share caught [%]" : "gain [dB]"];
    plot = drawLines($("chart"), x, [y], names, { now, range: light ? [0, 100] : null });
    const last = y.length - 1;
    $("chart").setAttribute("aria-label", `${names[1]} against ${names[0]}: ${digits(y[0])} at ${digits(x[0])}, ${digits(y[last])} at ${digits(x[last])}`);
    words.textContent += answerWords(found);
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

  // ---- Files ----

  function save() {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([state.text], { type: "text/plain" }));
    link.download = state.name;
    link.click();
    URL.revokeObjectURL(link.href);
  }

  async function open(files) {
    for (const file of files) {
      if (file.size > 16e6) {
        showProblems(null, `${file.name} has ${Math.round(file.size / 1e6)} MB; a file of a project has 16 MB at most.`);
        return;
      }
      if (/\.toml$/i.test(file.name)) {
        state.text = await file.text();
        state.name = file.name;
        $("text").value = state.text;
      } else {
        state.files[file.name] = new Uint8Array(await file.arrayBuffer());
      }
    }
    readFile();
  }

  // ---- Begin ----

  function begin() {
    for (const [name, bytes] of Object.entries(stored.files || {})) state.files[name] = bytesOf(bytes);
    for (const [name, one] of Object.entries(stored.examples || {})) $("example").append(option(name, one.title));
    $("text").value = state.text;
    $("units").value = state.units;
    if (typeof WebAssembly !== "object" || typeof Worker !== "function") {
      $("stored-note").textContent = "This browser cannot run the engine (no WebAssembly), so these stored figures stand. The project file below can still be read and saved.";
      return;
    }
    quick = new Asker();
    charts = new Asker();
    let typing;
    $("text").addEventListener("input", () => {
      state.text = $("text").value;
      clearTimeout(typing);
      typing = setTimeout(readFile, 400);
    });
    $("units").addEventListener("change", () => {
      state.units = $("units").value;
      state.sets.clear();
      makeSliders();
      solve();
    });
    $("source").addEventListener("change", () => {
      state.as = $("source").value;
      state.sets.clear();
      makeSliders();
      solve();
    });
    $("shape").addEventListener("change", () => {
      state.shape = $("shape").value;
      solve();
    });
    $("face").addEventListener("change", () => {
      state.face = Number($("face").value);
      showMap();
    });
    $("reset").addEventListener("click", () => {
      state.sets.clear();
      state.shape = $("shape").value = "";
      makeSliders();
      solve();
    });
    $("pin").addEventListener("click", pin);
    $("follow").addEventListener("click", () => {
      const on = document.body.classList.toggle("follow");
      $("follow").textContent = on ? "whole page" : "for the projector";
    });
    $("chart-key").addEventListener("change", showChart);
    $("save").addEventListener("click", save);
    $("open").addEventListener("change", () => open($("open").files));
    $("example").addEventListener("change", () => {
      const one = stored.examples[$("example").value];
      if (!one) return;
      state.text = $("text").value = one.text;
      state.name = $("example").value;
      for (const [name, bytes] of Object.entries(one.files || {})) state.files[name] = bytesOf(bytes);
      readFile();
    });
    new ResizeObserver(() => plot && plot.setSize({ width: $("chart").clientWidth, height: 240 })).observe($("chart"));
    new ResizeObserver(() => patternPlot && patternPlot.setSize({ width: $("pattern").clientWidth, height: 240 })).observe($("pattern"));
    $("map").addEventListener("pointermove", pointerRead);
    $("map").addEventListener("pointerdown", pointerRead);
    $("map").addEventListener("keydown", keyRead);
    if (state.text) readFile();
  }

  begin();
})();
