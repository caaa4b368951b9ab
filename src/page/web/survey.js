// SPDX-License-Identifier: MIT
// The table to type depth readings into, and what the survey says of them.
"use strict";

const survey = {
  asker: null, // an engine of its own: it takes seconds
  rows: [], // of the blank table: the cells before the depth
  head: "", // its first line
  typed: new Map(), // the cells before the depth: what was typed
  file: null, // {name, text}: a table that was opened stands in place of what was typed
  unsaved: false, // was something typed that no file holds?
  stop: null, // ends the work under way
  lines: [], // of the table that was judged last: which row of `rows` each line is
};

const surveyBusy = (words) => ($("survey-state").textContent = words);
const placeOf = (row) => row.join();
const inputOf = (row) => [...document.querySelectorAll("#readings input")].find((one) => one.dataset.place === placeOf(row));

/** The blank form of this dish; what was typed stays where its place is on it still. */
async function showForm() {
  const asked = question({ study: "form" });
  const found = await charts.ask({ call: "solve", topic: "form", question: asked });
  if (!found) return;
  const refused = found.problems ? found.problems.map((one) => `${one.what}. ${one.why}. ${one.fix}.`).join(" ") : found.fault || "";
  $("survey-refused").textContent = refused;
  $("survey-work").hidden = Boolean(refused);
  if (refused) return;
  const lines = found.form.table.trim().split("\n");
  survey.head = lines[0];
  survey.rows = lines.slice(1).map((line) => line.split(",").slice(0, -1));
  drawTable(lines[0].split(","));
}

/** By ring and clock, or by x and y: the last place but one of a row runs across, of x and y the first. */
function drawTable(names) {
  const byRows = names.length === 3 && /^x/.test(names[0]);
  const across = (row) => (byRows ? row[0] : row[row.length - 2]), down = (row) => (byRows ? row[1] : [...row.slice(0, -2), row[row.length - 1]].join(" · "));
  const columns = [...new Set(survey.rows.map(across))], rows = [...new Set(survey.rows.map(down))];
  if (byRows) rows.reverse(); // y goes up
  else rows.sort((a, b) => parseFloat(a.split(" · ").pop()) - parseFloat(b.split(" · ").pop()));
  const corner = byRows ? `${names[1]} \\ ${names[0]}` : `${names.slice(0, -3).concat(names[names.length - 2]).join(", ")} \\ ${names[names.length - 3]}`;
  const table = rows.map((name) => {
    const cells = columns.map((column) => {
      const row = survey.rows.find((one) => across(one) === column && down(one) === name);
      return row ? depthCell(row, names) : cell("td", "");
    });
    return rowOf(named(name), ...cells);
  });
  $("readings").replaceChildren(headOf(corner, ...columns), bodyOf(table));
  countTyped();
}

function depthCell(row, names) {
  const input = Object.assign(document.createElement("input"), { type: "text", size: 6, autocomplete: "off", spellcheck: false, value: survey.typed.get(placeOf(row)) || "" });
  input.dataset.place = placeOf(row);
  input.setAttribute("aria-label", `${names[names.length - 1]} at ${row.map((one, k) => `${names[k]} ${one}`).join(", ")}`);
  input.addEventListener("input", () => {
    survey.typed.set(placeOf(row), input.value);
    survey.unsaved = true;
    input.removeAttribute("aria-invalid");
    countTyped();
  });
  input.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return; // on to the next place, as down a column
    const all = [...document.querySelectorAll("#readings input")];
    const next = all[all.indexOf(input) + 1];
    if (next) next.focus();
  });
  const box = document.createElement("td");
  box.append(input);
  return box;
}

const filled = () => survey.rows.filter((row) => (survey.typed.get(placeOf(row)) || "").trim() !== "");
const countTyped = () => surveyBusy(survey.file ? `The table ${survey.file.name} is judged, not what is typed here.` : `${filled().length} of ${survey.rows.length} places typed. Ten are the least; the rest may stay blank.`);

/** What was typed as a table; a cell with a comma or a quote is quoted, so that the reader sees it as one. */
function typedTable() {
  survey.lines = [null, ...filled()];
  const quoted = (text) => (/[",\n\r]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);
  return [survey.head, ...filled().map((row) => `${row.map(quoted).join()},${quoted(survey.typed.get(placeOf(row)).trim())}`)].join("\n") + "\n";
}

async function judgeReadings() {
  if (survey.stop) return survey.stop();
  const text = survey.file ? survey.file.text : typedTable();
  if (survey.file) survey.lines = [];
  const began = Date.now();
  const ticking = setInterval(() => surveyBusy(`Working … ${Math.round((Date.now() - began) / 1000)} s. It follows light on the surface as it was read.`), 500);
  $("judge").textContent = "stop";
  if (!survey.asker) survey.asker = new Asker();
  survey.asker.ask({ call: "read", text: state.text, name: state.name, files: state.files });
  const asked = question({ study: "survey", readings: text, paths: quickPaths });
  delete asked.as;
  delete asked.shape;
  const ended = new Promise((done) => {
    survey.stop = () => {
      survey.asker.worker.terminate();
      survey.asker = null;
      done(null);
    };
  });
  const found = await Promise.race([survey.asker.ask({ call: "solve", question: asked }), ended]);
  survey.stop = null;
  clearInterval(ticking);
  $("judge").textContent = "judge it";
  countTyped();
  if (found) showVerdict(found);
}

function showVerdict(found) {
  document.querySelectorAll("#readings [aria-invalid]").forEach((one) => one.removeAttribute("aria-invalid"));
  const wrong = found.problems || (found.survey ? [] : [{ text: found.fault || "The browser has no more memory for this." }]);
  $("survey-trouble").hidden = wrong.length === 0;
  $("survey-trouble").textContent = wrong.map((one) => one.text).join("\n");
  const cells = wrong.map((one) => survey.lines[one.line - 1]).filter(Boolean).map(inputOf).filter(Boolean);
  cells.forEach((one) => {
    one.setAttribute("aria-invalid", "true");
    one.setAttribute("aria-describedby", "survey-trouble");
  });
  if (cells.length > 0) cells[0].focus();
  $("verdict").hidden = !found.survey;
  if (!found.survey) return;
  $("verdict-words").textContent = `${found.survey.verdict}`;
  fill($("verdicts"), found.words.verdicts);
  $("mend-first").textContent = found.words.first;
  fill($("spots"), found.words.spots.length > 0 ? found.words.spots : ["no place stands out"]);
  fill($("hidden-words"), found.words.hidden);
  drawPlaces(found.places);
}

/** Where it is high, toward the sun, and where it is low: the larger the disc the more; high ones full, low ones open. */
function drawPlaces(places) {
  const svg = $("places"), { per, unit } = length();
  const reach = 1.2 * Math.max(...places.flatMap(({ x, y }) => [Math.abs(x), Math.abs(y)])), most = Math.max(...places.map((one) => Math.abs(one.height)), 1e-9);
  svg.setAttribute("viewBox", `${-reach} ${-reach} ${2 * reach} ${2 * reach}`);
  const add = (...one) => svg.append(drawn(...one));
  svg.replaceChildren();
  const rim = Math.max(...places.map(({ x, y }) => Math.hypot(x, y)));
  const round = survey.head.includes("clock");
  if (round) add("circle", { cx: 0, cy: 0, r: rim, fill: "none", stroke: softInk, "stroke-width": reach / 300 });
  for (const hour of round ? [3, 6, 9, 12] : []) {
    const angle = (hour * Math.PI) / 6, far = 1.1 * rim;
    add("text", { x: far * Math.sin(angle), y: -far * Math.cos(angle), "font-size": reach / 14, "text-anchor": "middle", "dominant-baseline": "central", fill: blackInk }, hour);
  }
  for (const { x, y, height } of places)
    add("circle", { cx: x, cy: -y, r: (reach / 16) * Math.sqrt(Math.abs(height) / most), fill: height > 0 ? blackInk : "#fff", stroke: blackInk, "stroke-width": reach / 250 });
  $("places-words").textContent = `Full: high, toward the sun. Open: low. The largest disc is ${digits(most * per, 2)} ${unit}. Seen from the sun side.`;
}

function saveReadings() {
  give(survey.file ? survey.file.text : typedTable(), "readings.csv", "text/csv");
  survey.unsaved = false;
}

async function openReadings(files) {
  const [file] = files;
  if (!file) return;
  if (file.size > 1e6) return surveyBusy(`${file.name} is larger than 1 MB: use the command line.`);
  survey.file = { name: file.name, text: await file.text() };
  $("typed-again").hidden = false;
  countTyped();
}

function beginSurvey() {
  window.addEventListener("beforeunload", (event) => survey.unsaved && event.preventDefault()); // half an hour of readings
  $("survey-fold").addEventListener("toggle", () => $("survey-fold").open && state.read && showForm());
  $("judge").addEventListener("click", judgeReadings);
  $("save-readings").addEventListener("click", saveReadings);
  $("open-readings").addEventListener("change", () => openReadings($("open-readings").files));
  $("typed-again").addEventListener("click", () => {
    survey.file = null;
    $("open-readings").value = "";
    $("typed-again").hidden = true;
    countTyped();
  });
}
