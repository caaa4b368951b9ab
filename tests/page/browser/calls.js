// SPDX-License-Identifier: MIT
// The engine's calls from JavaScript: what a page can do wrong, and that the next question is answered.
// Usage: node --test calls.js (the engine is build-browser/engine.js)
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");
const test = require("node:test");

const top = path.join(__dirname, "../../..");
const makeEngine = require(path.join(top, "build-browser/engine.js"));
const scene = (name) => fs.readFileSync(path.join(top, "scenes", name), "utf8");
const kettle = scene("kettle-dish.toml");

const answers = (engine, number) => {
  const power = engine.solve(number, { study: "trace", paths: 4096, method: "rays" }).trace.targets.kettle.power.value;
  assert.ok(Math.abs(power - 840) < 5, `${power} W`);
};

test("under 4 MB, and ready at once", async () => {
  assert.ok(fs.statSync(path.join(top, "build-browser/engine.js")).size < 4e6);
  const engine = await makeEngine();
  assert.deepStrictEqual(engine.read(kettle).targets, ["kettle"]);
});

test("maps come as numbers that hold the power", async () => {
  const engine = await makeEngine();
  const { scene: number } = engine.read(scene("griddle-trough.toml"));
  const found = engine.solve(number, { study: "trace", parts: ["map"], paths: 100000 });
  const [map] = found.maps;
  assert.strictEqual(map.values.length, map.columns * map.rows);
  const cell = ((map.x_to - map.x_from) * (map.y_to - map.y_from)) / map.values.length;
  const sum = map.values.reduce((all, one) => all + one * cell, 0);
  const [target] = Object.values(found.trace.targets);
  assert.ok(Math.abs(sum / target.power.value - 1) < 0.01);
});

test("problems say where and what", async () => {
  const engine = await makeEngine();
  const { problems } = engine.read('[sun]\nbeam = "850 W/m"\n');
  const beam = problems.find((one) => one.line === 2);
  assert.strictEqual(beam.column, 8);
  assert.strictEqual(beam.file, "project.toml");
  assert.match(beam.text, /^project.toml:2:8: error: [^]*fix: /);
  assert.ok(engine.read("\u0000 = [").problems);
});

test("no number, no study, no scene: words", async () => {
  const engine = await makeEngine();
  const { scene: number } = engine.read(kettle);
  for (const question of [{}, null, { study: "trace", paths: NaN }, { study: "trace", set: ["sun.aim_error=NaN deg"] }, { study: "spoon" }]) {
    assert.ok(engine.solve(number, question).problems[0].text.startsWith("error: "), JSON.stringify(question));
  }
  assert.ok(engine.solve(77, { study: "trace" }).problems);
  answers(engine, number);
});

test("work ends where the host says so, or after a time", async () => {
  const engine = await makeEngine();
  const { scene: number } = engine.read(kettle);
  let asked = 0;
  engine.stops = () => ++asked > 5;
  assert.strictEqual(engine.solve(number, { study: "trace", method: "rays" }).stopped, true);
  engine.stops = () => (engine.cancel(), false);
  assert.strictEqual(engine.solve(number, { study: "tolerance" }).stopped, true);
  engine.stops = null;
  assert.strictEqual(engine.solve(number, { study: "trace", method: "rays", paths: 1e7, within: 20 }).stopped, true);
  answers(engine, number);
});

test("memory that does not suffice", async () => {
  const engine = await makeEngine();
  const { scene: number } = engine.read(kettle);
  assert.strictEqual(engine.read(kettle, { "big.csv": new Uint8Array(1.1e9) }).out_of_memory, true);
  answers(engine, number);
});

test("tiles are followed by rays, and a tolerance asks about them", async () => {
  const engine = await makeEngine();
  const tiles = kettle.replace('shape = "paraboloid"', 'shape = "facets"\ntile = "2 in"\ngap = "0.2 in"');
  const { scene: number, problems } = engine.read(tiles);
  assert.ok(number, JSON.stringify(problems));
  const { aperture_power, targets } = engine.solve(number, { study: "trace", method: "rays", paths: 20000 }).trace;
  // So many tiles of 2 in as have their middles between hole and rim, each seen from the sun by the cosine of its slope, r / 2f.
  let seen = 0;
  for (let i = -11; i <= 11; ++i) {
    for (let j = -11; j <= 11; ++j) {
      const r = 2.2 * Math.hypot(i, j);
      if (r > 1 && r <= 24) seen += 4 / Math.hypot(1, r / 48);
    }
  }
  const watts = 850 * seen * 0.0254 ** 2;
  assert.ok(Math.abs(aperture_power.value / watts - 1) < 0.005, `${aperture_power.value} W of ${watts}`);
  assert.ok(targets.kettle.intercept.value > 0.9);
  const found = engine.solve(engine.read(kettle).scene, { study: "tolerance" }).tolerance;
  assert.ok(found.limits.aim_error.value > 0);
  assert.ok(found.limits.tile.value > 0.05);
});

test("surfaces: none, one, 32, 33 and as many as there may be", async () => {
  const engine = await makeEngine();
  const mirror = (k) => `[reflector.m${k}]\nshape = "flat"\nwidth = "2 in"\nlength = "2 in"\nat = ["${3 * (k % 40)} in", "${3 * Math.floor(k / 40)} in", "0 in"]\n`;
  const project = (count) =>
    '[sun]\n' + Array.from({ length: count }, (_, k) => mirror(k)).join("") + '[target.t]\nshape = "disk"\nwidth = "6 in"\nat = ["0 in", "0 in", "90 in"]\nshades = false\n[trace]\npaths = 2000\n';
  assert.ok(engine.read(project(0)).problems);
  for (const count of [1, 31, 32, 33, 64]) {
    const read = engine.read(project(count));
    assert.ok(read.scene, JSON.stringify(read.problems));
    const found = engine.solve(read.scene, { study: "trace", method: "rays" });
    assert.ok(Math.abs(found.trace.aperture_power.value - count * 1000 * 0.0508 ** 2) < 0.02 * count, `${count}`);
  }
});
