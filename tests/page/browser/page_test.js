// SPDX-License-Identifier: MIT
// The page in a real browser: figures of the program, controls that change them, no request, no error.
// Usage: node --test page_test.js (build/page.html, build/dishwright and Debian's chromium are there)
"use strict";

const assert = require("assert");
const { execFileSync } = require("child_process");
const fs = require("fs");
const path = require("path");
const test = require("node:test");
const { begin, end, folder, json, opened, program, scene, top } = require("./opened.js");

const kettle = scene("kettle-dish.toml");

test.before(begin);
test.after(end);

const settle = (page, text) => page.waitForFunction((wanted) => document.getElementById("answer").textContent.includes(wanted), text, { timeout: 30000 });
const told = (...options) => json("trace", ...options).targets.kettle;
const watts = async (page) => parseFloat((await page.textContent("#share")).split("·")[1]);

test("the page tells what the program tells, and follows a control", async () => {
  const page = await opened(kettle);
  await settle(page, "Light on the kettle");
  assert.ok(Math.abs((await watts(page)) - told(kettle).power.value) < 1);
  const slider = page.getByLabel("aimed off", { exact: true });
  await slider.focus();
  for (let k = 0; k < 35; ++k) await page.keyboard.press("ArrowRight");
  assert.strictEqual(await slider.inputValue(), "4");
  await settle(page, "93.6 %");
  const off = told(kettle, "--set", "sun.aim_error=4 deg");
  assert.ok(Math.abs((await watts(page)) - off.power.value) < 1);
  assert.match(await page.textContent("#why"), /comet/);
  await page.getByRole("button", { name: "as in the file" }).click();
  await settle(page, "catches 100 %");
  assert.deepStrictEqual(page.wrong, []);
  await page.close();
});

test("an audit of accessibility finds nothing", async () => {
  const page = await opened(kettle);
  await settle(page, "Light on the kettle");
  await page.waitForSelector("#chart canvas");
  for (const fold of ["turn-fold", "curves-fold", "uses-fold", "survey-fold"]) await page.evaluate((id) => (document.getElementById(id).open = true), fold);
  await page.waitForFunction(() => /radio/.test(document.getElementById("uses").textContent) && document.querySelector("#readings input"), null, { timeout: 30000 });
  await page.evaluate(fs.readFileSync(require.resolve(path.join(top, "src/page/web/node_modules/axe-core/axe.min.js")), "utf8"));
  const { violations } = await page.evaluate(() => axe.run());
  assert.deepStrictEqual(violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 80)).join(" | ")}`), []);
  await page.close();
});

test("a mistake in the file is told at its line, and mended", async () => {
  const page = await opened(kettle);
  await settle(page, "Light on the kettle");
  const text = fs.readFileSync(kettle, "utf8");
  await page.fill("#text", text.replace('beam = "850 W/m2"', 'beam = "850 W/m"'));
  await page.waitForSelector("#problems:not([hidden])");
  assert.match(await page.textContent("#problems"), /^kettle-dish.toml:\d+:8: error: [^]*fix: /);
  await page.fill("#text", text.replace('beam = "850 W/m2"', 'beam = "425 W/m2"'));
  await page.waitForSelector("#problems", { state: "hidden" });
  await settle(page, "420 W");
  assert.deepStrictEqual(page.wrong, []);
  await page.close();
});

test("the bench begins empty; an example is a click away; nothing is wider than a telephone", async () => {
  const page = await opened("", { width: 360, height: 640 });
  await page.selectOption("#example", "griddle-trough.toml");
  await page.waitForFunction(() => document.getElementById("answer").textContent.length > 20, null, { timeout: 30000 });
  const widest = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(widest <= 360, `${widest} px`);
  assert.deepStrictEqual(page.wrong, []);
  await page.close();
});

test("what cannot be made a page is an error in words, and nothing is written", () => {
  const out = path.join(folder, "none.html");
  const refused = (code, words, ...options) => {
    try {
      execFileSync(program, ["page", ...options], { stdio: "pipe" });
    } catch (error) {
      assert.strictEqual(error.status, code, String(error.stderr));
      assert.match(String(error.stderr), words);
      return;
    }
    assert.fail(`${options} made a page`);
  };
  refused(2, /nosuch/, "nosuch.toml", "--out", out);
  fs.writeFileSync(path.join(folder, "bad.toml"), "[sun]\nbeam = 3\n");
  refused(2, /bad.toml:2:8: error/, path.join(folder, "bad.toml"), "--out", out);
  fs.writeFileSync(path.join(folder, "away.toml"), fs.readFileSync(kettle, "utf8").replace('shape = "paraboloid"', 'shape = "profile"\nfile = "/etc/hostname"').replace(/focal_length.*|width = "48 in".*|hole_width.*/g, ""));
  refused(2, /lies outside/, path.join(folder, "away.toml"), "--out", out);
  refused(3, /error/, kettle, "--out", "/dev/null/x/page.html");
  assert.ok(!fs.existsSync(out));
});

test("where scripts cannot run the stored answer and card stand", async () => {
  const page = await opened(kettle, undefined, { javaScriptEnabled: false });
  assert.match(await page.textContent("#stored"), /840 W/);
  assert.ok(await page.isVisible("#stored img"));
  await page.context().close();
});
