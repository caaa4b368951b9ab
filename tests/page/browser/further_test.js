// SPDX-License-Identifier: MIT
// The further parts of the page in Debian's Chromium, held against the program: charts, time to stand, curves, uses, survey, the view
// to turn, settings at random, touch. Usage: node --test further_test.js (as page_test.js; DISHWRIGHT_FULL=1 for all of it)
"use strict";

const assert = require("assert");
const { execFileSync } = require("child_process");
const fs = require("fs");
const path = require("path");
const test = require("node:test");
const { begin, end, folder, full, json, opened, scene, told, unfold } = require("./opened.js");
const setting = require("./settings.js");

const kettle = scene("kettle-dish.toml"), readings = scene("kettle-readings.csv");
let page; // one for most of them: it takes a second to open

test.before(async () => {
  await begin();
  page = await opened(kettle);
  await told(page);
});
test.after(end);

const text = (id) => page.textContent(`#${id}`);
const has = (id, pattern) => page.waitForFunction(([name, wanted]) => new RegExp(wanted).test(document.getElementById(name).textContent), [id, pattern], { timeout: 60000 });
const number = (words) => parseFloat(words.match(/-?[\d.]+/)[0]);
/** Equal as three digits tell it. */
const close = (told, true_, what, part = 0.006) => assert.ok(Math.abs(told - true_) <= part * Math.abs(true_) + 1e-9, `${what}: ${told} for ${true_}`);

test("a chart is a sweep: share against the target's width, spot against the aim", async () => {
  for (const [figure, key, unit, per] of [["intercept", "target.kettle.width", "in", 100], ["spot_width_90", "sun.aim_error", "deg", 1 / 0.0254]]) {
    await page.selectOption("#chart-figure", figure);
    await page.selectOption("#chart-key", key);
    const words = { intercept: "share caught .* against width", spot_width_90: "nine tenths within .* against aimed off" }[figure];
    await page.waitForFunction((wanted) => new RegExp(wanted).test(document.getElementById("chart").getAttribute("aria-label")), words, { timeout: 60000 });
    const label = await page.getAttribute("#chart", "aria-label");
    const ends = [...label.matchAll(/: ([\d.]+) at|, ([\d.]+) at/g)].map((one) => parseFloat(one[1] || one[2]));
    const [low, high] = await page.$eval(`[data-key="${key}"] input[type=range]`, (one) => [one.min, one.max]);
    const { points } = json("sweep", kettle, "--vary", `${key}=${low} ${unit}:${high} ${unit}:2`, "--set", "trace.paths=40000");
    points.forEach((one, k) => close(ends[k], one.figures[figure].value * per, `${figure} at end ${k}`));
  }
});

test("the time to stand follows the width of the target", async () => {
  const minutes = async () => number((await text("drift")).match(/at least [\d/ ]+ minutes/)[0]);
  await has("drift", "at least \\d+ minutes");
  const before = await minutes();
  await page.fill('[data-key="target.kettle.width"] input[type=number]', "3");
  await told(page);
  await has("drift", "at least");
  assert.ok((await minutes()) < before);
  await page.click("#reset");
  await told(page);
});

test("other curves and other uses tell what compare and trace tell", async () => {
  await unfold(page, "curves-fold");
  await unfold(page, "uses-fold");
  await has("curves", "sphere");
  const cone = await page.evaluate(() => [...document.querySelectorAll("#curves tbody tr")].map((row) => [...row.cells].map((one) => one.textContent)).find((row) => row[0] === "cone")[1]);
  const { scenes } = json("compare", kettle, "--shape", "paraboloid,cone", "--set", "trace.paths=40000");
  close(number(cone), 100 * scenes[1].targets.kettle.intercept.value, "cone");
  assert.match(await text("curves-note"), /Left out: .*trough/);
  await has("uses", "radio");
  const figures = await page.evaluate(() => [...document.querySelectorAll("#uses tbody td.number")].map((one) => one.textContent));
  close(number(figures[1]), json("trace", kettle, "--as", "sound", "--set", "sound.frequency=2 kHz").targets.kettle.gain.value, "sound");
  close(number(figures[2]), json("trace", kettle, "--as", "radio", "--set", "radio.frequency=10 GHz").targets.kettle.gain.value, "radio");
});

test("day, clock and minutes left standing: the sun goes on, and the share follows", async () => {
  const yard = scene("kettle-yard.toml"), own = await opened(yard);
  await own.waitForSelector("#clock-box:not([hidden])", { timeout: 30000 });
  await told(own);
  const put = async (name, value) => {
    await own.fill(`[data-key="clock-${name}"] input[type=number]`, String(value));
    await told(own);
  };
  const share = async () => number((await own.textContent("#share")).match(/[\d.]+ %/)[0]);
  // The day of a parked dish: at its brightest when it opens.
  await unfold(own, "burn-fold");
  await own.waitForFunction(() => /the vertex/.test(document.getElementById("burn-now").textContent), null, { timeout: 60000 });
  const now = await own.textContent("#burn-now"), track = json("aim", yard, "--parked", "face up").burn_track;
  const same = track.find((one) => one.time.includes(`T${now.match(/^\d+:\d+/)[0]}`));
  close(number(now.match(/[\d.]+ kW/)[0]), Number((same.irradiance.value / 1000).toPrecision(2)), "spot of the parked dish");
  close(number(now.match(/[\d.]+ \w+ above/)[0]), same.place[2].value / 0.0254, "its height", 0.03);
  await own.click("#burn-play");
  const before = await own.inputValue("#burn-time");
  await own.waitForFunction((old) => document.getElementById("burn-time").value !== old, before, { timeout: 5000 });
  await own.selectOption("#park", "in a vehicle");
  await own.waitForFunction(() => /in a vehicle/.test(document.getElementById("burn-words").textContent), null, { timeout: 60000 });
  await own.evaluate(() => (document.getElementById("burn-fold").open = false));
  await put("stood", 24);
  const set = (...all) => all.flatMap((one) => ["--set", one]);
  const left = json("trace", yard, ...set("mount.aimed=2026-06-21T10:06-05:00"));
  close(await share(), 100 * left.targets.kettle.intercept.value, "24 minutes left standing");
  await put("hours", 15.25);
  await put("day", 264); // 21 September
  assert.match(await own.textContent('[data-key="clock-day"] .unit'), /21 September/);
  const later = json("trace", yard, ...set("sun.time=2026-09-21T15:15-05:00", "mount.aimed=2026-09-21T14:51-05:00"));
  close(await share(), 100 * later.targets.kettle.intercept.value, "an afternoon in autumn");
  assert.match(await own.textContent("#sky"), /15:15 .*Aimed at 14:51/);
  await own.selectOption("#chart-key", "sun.time");
  await own.waitForFunction(() => /against time of day/.test(document.getElementById("chart").getAttribute("aria-label")), null, { timeout: 60000 });
  await put("hours", 19.5);
  assert.match(await own.textContent("#trouble"), /below the horizon/);
  assert.deepEqual(own.wrong, []);
  await own.context().close();
});

test("the view turns by keys, and says so", async () => {
  await unfold(page, "turn-fold");
  await page.waitForSelector("#solid polyline");
  const before = await page.getAttribute("#solid", "aria-label"), first = await page.getAttribute("#solid polyline", "points");
  await page.focus("#solid");
  await page.keyboard.press("ArrowRight");
  assert.notStrictEqual(await page.getAttribute("#solid", "aria-label"), before);
  assert.notStrictEqual(await page.getAttribute("#solid polyline", "points"), first);
  assert.ok((await page.locator("#solid circle").count()) > 20);
});

test("readings are typed, a slip is told at its cell, the verdict is the survey's", async () => {
  await unfold(page, "survey-fold");
  await page.waitForSelector("#readings input");
  // Those places of the example's table that are on the form.
  const rows = fs.readFileSync(readings, "utf8").split("\n").filter((line) => /^[\d.]/.test(line)).map((line) => line.split(","));
  const typed = await page.evaluate((all) => all.filter(([ring, clock, depth]) => {
    const input = document.querySelector(`#readings input[data-place="${ring},${clock}"]`);
    if (input) {
      input.value = depth;
      input.dispatchEvent(new Event("input"));
    }
    return input;
  }), rows);
  assert.ok(typed.length > 40);
  const slip = page.locator('#readings input[data-place="16,3"]');
  await slip.fill("3 7/");
  await page.click("#judge");
  await page.waitForSelector('#readings input[aria-invalid="true"]');
  assert.strictEqual(await slip.getAttribute("aria-invalid"), "true");
  assert.match(await text("survey-trouble"), /^readings.csv:\d+:/);
  await slip.fill(typed.find(([ring, clock]) => ring === "16" && clock === "3")[2]);
  await page.click("#judge");
  await page.waitForSelector("#verdict:not([hidden])", { timeout: 120000 });
  const table = path.join(folder, "typed.csv");
  fs.writeFileSync(table, `ring [in],clock [h],depth [in]\n${typed.map((row) => row.join()).join("\n")}\n`);
  const told = json("survey", table, "--scene", kettle, "--set", "trace.paths=40000");
  assert.strictEqual(await text("verdict-words"), told.verdict);
  close(number((await text("verdicts")).match(/catches ([\d.]+)/)[1]), 100 * told.light.targets.kettle.intercept.value, "share");
  assert.strictEqual(await page.locator("#places circle").count(), typed.length + 1);
  assert.deepStrictEqual(page.wrong, []);
});

test("on paper, Letter and A4: the first sheet holds question, pictures and why; the chart is not cut", async () => {
  await page.waitForSelector("#chart canvas");
  for (const format of ["Letter", "A4"]) {
    const file = path.join(folder, `${format}.pdf`);
    await page.pdf({ path: file, format });
    const first = execFileSync("pdftotext", ["-l", "1", file, "-"], { encoding: "utf8" });
    for (const words of ["How much of the mirror's light", "Side view, to scale", "Where it lands", "Why"]) assert.ok(first.includes(words), `${format}: ${words}`);
    const width = await page.evaluate(async () => { // while it is printed
      window.dispatchEvent(new Event("beforeprint"));
      await new Promise((done) => setTimeout(done, 100));
      const wide = document.querySelector("#chart canvas").getBoundingClientRect().width;
      window.dispatchEvent(new Event("afterprint"));
      return wide;
    });
    assert.ok(width <= (210 - 24) / 25.4 * 96, `${width} px`); // A4, the narrower
  }
});

/** Numbers that look like chance (a linear congruence; constants from memory). */
function chance(seed) {
  let now = seed >>> 0;
  return () => (now = (Math.imul(now, 1664525) + 1013904223) >>> 0) / 4294967296;
}

const sliders = (one) => one.evaluate(() => [...document.querySelectorAll(".slider")].map((slider) => {
  const range = slider.querySelector("[type=range]");
  return { key: slider.dataset.key, low: +range.min, high: +range.max, unit: slider.querySelector(".unit").textContent.trim() };
}));

/** Three controls set by chance: the page's figure is the program's, or both refuse. */
async function setSome(shown, project, random) {
  const all = await sliders(shown), set = [];
  for (let n = 0; n < 3; ++n) {
    const one = all[Math.floor(random() * all.length)];
    const value = +(one.low + (0.15 + 0.5 * random()) * (one.high - one.low)).toPrecision(3);
    await shown.fill(`[data-key="${one.key}"] input[type=number]`, String(value));
    set.push("--set", `${one.key}=${value}${one.unit ? ` ${one.unit}` : ""}`);
  }
  await told(shown);
  const where = `${path.basename(project)} ${set.join(" ")}`;
  let wanted;
  try {
    wanted = Object.values(json("trace", project, ...set).targets)[0];
  } catch (error) {
    assert.match(await shown.textContent("#trouble"), /error/, where); // both refuse it
    return;
  }
  const near = (told, { value, std_error = 0 }, per, what) => {
    const most = (0.006 * value + 4 * std_error) * per + 1e-9;
    assert.ok(Math.abs(told - per * value) <= most, `${where}: ${told} ${what} for ${per * value}`);
  };
  const shownWords = await shown.textContent("#share");
  if (!wanted.intercept) return assert.doesNotMatch(shownWords, /%/, where); // no light leaves the mirror
  const [share, power] = shownWords.split("·").map(number);
  near(share, wanted.intercept, 100, "%");
  near(power, wanted.power, 1, "W");
}

// The first 12 settings of settings.js have a shape each; the 8th is of waves, the 20th has its shape. 24 is of tiles, 49 a mesh.
const projects = [...Array(12).keys()].map((k) => (k === 7 ? 19 : k)).concat(24, 49), each = full ? 15 : 2;
for (const k of full ? projects : [0, 6, 19, 24, 49]) {
  const { name, text, files } = setting(k);
  test(`${each} settings at random of ${name}: the page's figure is the program's`, async () => {
    const project = path.join(folder, `setting-${k}.toml`);
    fs.writeFileSync(project, text);
    for (const [file, content] of Object.entries(files)) fs.writeFileSync(path.join(folder, file), content);
    const shown = await opened(project), random = chance(2026 + k);
    await told(shown);
    for (let n = 0; n < each; ++n) {
      await setSome(shown, project, random);
      await shown.click("#reset");
    }
    await told(shown);
    assert.deepStrictEqual(shown.wrong, []);
    await shown.context().close();
  });
}

test("by touch at the width of a telephone: the map tells a value, a control moves, nothing is wider than the screen", async () => {
  const phone = await opened(kettle, { width: 360, height: 640 }, { hasTouch: true, isMobile: true });
  await told(phone);
  for (const fold of ["turn-fold", "curves-fold", "uses-fold", "survey-fold"]) await phone.tap(`#${fold} > summary`);
  await phone.tap("#map");
  assert.match(await phone.textContent("#map-value"), /at .*\(right, up\)/);
  const slider = phone.locator('[data-key="sun.aim_error"] input[type=range]'), box = await slider.boundingBox();
  await slider.tap({ position: { x: box.width / 2, y: box.height / 2 } });
  await told(phone);
  assert.ok(Math.abs(parseFloat(await slider.inputValue()) - 5) < 0.5);
  await phone.waitForFunction(() => /radio/.test(document.getElementById("uses").textContent), null, { timeout: 60000 });
  const widest = await phone.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(widest <= 360, `${widest} px`);
  assert.deepStrictEqual(phone.wrong, []);
  await phone.context().close();
});

test("every example opens, and says nothing on the console", { skip: !full }, async () => {
  for (const file of fs.readdirSync(scene("")).filter((name) => name.endsWith(".toml"))) {
    const one = await opened(scene(file));
    await told(one);
    assert.deepStrictEqual(one.wrong, [], file);
    await one.context().close();
  }
});
