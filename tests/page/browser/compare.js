// SPDX-License-Identifier: MIT
// The engine in WebAssembly against the program: the same project files, figure by figure of what --json prints.
// Usage: node compare.js ENGINE.js PROGRAM [COUNT [PART PARTS]]   of COUNT settings those whose number leaves PART when divided by PARTS
"use strict";

const { execFileSync } = require("child_process");
const fs = require("fs");
const os = require("os");
const path = require("path");
const setting = require("./settings.js");

const [engineFile, program, count = "200", part = "0", parts = "1"] = process.argv.slice(2);

// The processor rounds a product and a sum at once, and WebAssembly does not (docs/decisions/0031). Without chance that is a matter of
// roundings; images are added in single precision, whose noise is a thousandth of the error that is stated. By rays here and there a
// path that meets an edge falls to its other side: a few of 20 000. A side lobe is searched for among directions.
const nearly = 1e-8;
const ofError = { quadrature: 2e-3, waves: 0, rays: 0.5 };
const ofWhole = { quadrature: 0, waves: 0, rays: 1.5e-4 };
const sideLobe = 1e-6;
const none = { value: 0, unit: "W" };

/** Numbers at the same places of two objects, as [where, ours, theirs, error]. */
function* pairs(ours, theirs, where = "") {
  if (typeof theirs === "number" || typeof ours === "number") {
    yield [where, ours, theirs, 0];
  } else if (theirs && typeof theirs === "object" && "value" in theirs && "unit" in theirs && ours) {
    yield [where, ours.value, theirs.value, theirs.std_error || 0];
  } else if (where === ".ledger") {
    yield* pairs(byPlace(ours), byPlace(theirs), where + " ");
  } else if (theirs && typeof theirs === "object" && ours && typeof ours === "object") {
    for (const key of new Set([...Object.keys(ours), ...Object.keys(theirs)])) {
      const absent = where === ".ledger " ? none : undefined;
      yield* pairs(ours[key] ?? absent, theirs[key] ?? absent, `${where}.${key}`);
    }
  } else {
    yield [where, ours, theirs, 0];
  }
}

/** Lines of a ledger by what they are called; one that is missing is 0. */
const byPlace = (ledger) => Object.fromEntries(ledger.map((line) => [line.where, line.power]));

// A spline is solved, so its last digits differ, and with them the digest and, within the stated error, where quadrature puts its places.
function differs(pair, method, whole, shape) {
  const [where, ours, theirs, error] = pair;
  if (where.includes("scene_digest")) return shape !== "profile" && ours !== theirs;
  if (where.includes("convergence.change")) return Math.abs(ours - theirs) > 1e-6;
  if (shape === "profile" && method === "quadrature" && Math.abs(ours - theirs) <= error) return false;
  return figureDiffers(pair, method, whole);
}

/** The brightest place anywhere may be one of several that are equally bright: only its brightness is compared, within its error. */
function figureDiffers([where, ours, theirs, error], method, whole) {
  if (/mirror_best\.(at|from_mirror|aimed_true)/.test(where)) return false;
  if (typeof theirs !== "number" || typeof ours !== "number") return ours !== theirs;
  // Ends are halved to 1/250 of the mirror and bins are a twentieth of the light: a rounding may move one to the next.
  if (where.includes("keep_clear") && !/level/.test(where)) return Math.abs(ours - theirs) > 0.05 * Math.abs(theirs) + 0.005;
  const size = Math.max(Math.abs(theirs), whole);
  if (where.includes("mirror_best")) return Math.abs(ours - theirs) > 2 * error + 1e-4 * size;
  const near = where.includes("side_lobe") ? sideLobe : nearly;
  return Math.abs(ours - theirs) > near * size + ofError[method] * error + ofWhole[method] * size;
}

async function main() {
  const engine = await require(path.resolve(engineFile))();
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "dishwright-"));
  const methods = {};
  let faults = 0;
  let figures = 0;
  let worst = 0;
  let refused = 0;
  let done = 0;
  for (let k = +part; k < +count; k += +parts) {
    const { name, text, files, method } = setting(k);
    for (const [file, content] of Object.entries(files)) fs.writeFileSync(path.join(folder, file), content);
    fs.writeFileSync(path.join(folder, "project.toml"), text);
    const shape = name.split(",")[0];
    const options = ["trace", path.join(folder, "project.toml"), "--json", "--threads", "1"].concat(method ? ["--method", method] : []);
    const say = (what) => (console.log(`setting ${k} (${name}): ${what}`), ++faults);
    const bytes = Object.fromEntries(Object.entries(files).map(([file, content]) => [file, Buffer.from(content)]));
    const read = engine.read(text, bytes);
    const question = { study: "trace", parts: ["map", "best", "range"] };
    if (method) question.method = method;
    let theirs;
    try {
      theirs = JSON.parse(execFileSync(program, options, { stdio: ["ignore", "pipe", "pipe"] }));
    } catch (error) {
      // What the program refuses the engine refuses, too.
      const problem = read.scene && engine.solve(read.scene, question).problems;
      if (!/method quadrature does not apply/.test(error.stderr) || !problem || !/method quadrature does not apply/.test(problem[0].text)) say(`refused: ${error.stderr || error}`);
      ++refused;
      continue;
    }
    const ours = read.problems ? read : engine.solve(read.scene, question);
    if (!ours.trace) {
      say(`the engine refused it: ${JSON.stringify(ours).slice(0, 300)}`);
      continue;
    }
    methods[theirs.method] = (methods[theirs.method] || 0) + 1;
    // What is compared with nothing but itself near 0: watts with all that there are, levels with a thousandth of a dB.
    const size = (where) => (where.includes("ledger") ? theirs.aperture_power.value : 1e-3);
    ++done;
    for (const pair of pairs(ours.trace, theirs)) {
      ++figures;
      const difference = typeof pair[2] === "number" ? Math.abs(pair[1] - pair[2]) / Math.max(Math.abs(pair[2]), size(pair[0])) : 0;
      if (theirs.method !== "rays" && shape !== "profile" && !/mirror_best|convergence/.test(pair[0])) worst = Math.max(worst, difference);
      if (differs(pair, theirs.method, size(pair[0]), shape)) say(`${pair[0]}: ${pair[1]} here, ${pair[2]} ± ${pair[3]} by the program (${theirs.method})`);
    }
  }
  fs.rmSync(folder, { recursive: true });
  console.log(`${figures} figures of ${JSON.stringify(methods)}; without chance they differ by ${worst.toExponential(1)} at most`);
  console.log(`${refused} refused by both`);
  console.log(`${done + refused} inputs, ${faults} faults`);
  process.exitCode = faults === 0 && figures > 20 * done && done > 3 * refused ? 0 : 1;
}

main();
