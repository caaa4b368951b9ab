// SPDX-License-Identifier: MIT
// The page: reads the project, asks the engine, shows what it says. No optics here; every figure, ray and sentence is the engine's.
"use strict";

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
  if ($("survey-fold").open) showForm();
}

function showProblems(problems, fault) {
  const box = $("problems");
  box.hidden = !problems && !fault;
  $("text").setAttribute("aria-invalid", String(!box.hidden));
  box.textContent = fault ? fault : (problems || []).map((one) => one.text).join("\n");
}

// ---- Solving: at once and roughly, then whole ----

/** Paths that a picture may take while a control moves: as many as fit into its time, 2000 at least. */
const pathsInTime = (paths, took) => Math.round(Math.min(quickPaths, Math.max(2000, (paths * quickTime) / Math.max(took, 1))));

async function solve() {
  const mine = ++turn;
  document.body.dataset.asked = mine; // and `told` once all of it is shown: the page's tests wait for that
  clearTimeout(settling);
  forgetFurther();
  const light = isLight();
  const rough = light ? { parts: ["map", "view"], method: "auto", paths: state.paths } : { parts: ["rough map"] };
  const found = await quick.ask({ call: "solve", question: question(rough) });
  if (found) show(found, false);
  if (found && found.trace && found.trace.method === "rays") state.paths = pathsInTime(state.paths, found.took);
  if (mine !== turn) return;
  settling = setTimeout(async () => {
    const parts = light ? ["map", "view", "why", "words", "best", "range"] : ["map", "words"];
    const whole = await quick.ask({ call: "solve", question: question({ parts }) });
    if (whole && mine === turn) {
      show(whole, true);
      document.body.dataset.told = mine;
    }
    if (mine !== turn || !state.found) return;
    showChart();
    showFurther();
  }, settled);
}

// ---- Files ----

/** A text as a file for the user to keep. */
function give(text, name, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}
const save = () => give(state.text, state.name, "text/plain");

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
    if ($("survey-fold").open && filled().length === 0) showForm(); // what was typed keeps its unit
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
  $("chart-figure").addEventListener("change", showChart);
  beginFurther();
  beginTrack();
  beginSurvey();
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
  // Lines are drawn for a width: that of Letter and of A4 within their margins, or of the screen.
  const widths = (paper) => [[plot, "chart", 2], [patternPlot, "pattern", 1]].forEach(([one, box, columns]) => one && one.setSize({ width: columns * paper || $(box).clientWidth, height: 240 }));
  window.addEventListener("beforeprint", () => widths(330));
  window.addEventListener("afterprint", () => widths(0));
  $("map").addEventListener("pointermove", pointerRead);
  $("map").addEventListener("pointerdown", pointerRead);
  $("map").addEventListener("keydown", keyRead);
  if (state.text) readFile();
}

begin();
