// SPDX-License-Identifier: MIT
// Pictures of the page for the docs: node pictures.js FOLDER writes page.png and page-survey.png. Needs what the page's tests need.
"use strict";

const path = require("path");
const { begin, end, opened, scene, told, unfold } = require("./opened.js");

const [folder] = process.argv.slice(2);

async function draw() {
  await begin();
  const page = await opened(scene("kettle-dish.toml"), { width: 1100, height: 940 });
  await told(page);
  await page.fill('[data-key="sun.aim_error"] input[type=number]', "3");
  await told(page);
  await page.waitForFunction(() => /at least/.test(document.getElementById("drift").textContent));
  await page.evaluate(() => {
    document.activeElement.blur();
    scrollTo(0, 0);
  });
  await page.screenshot({ path: path.join(folder, "page.png") });
  await page.click("#reset");
  await unfold(page, "survey-fold");
  await page.waitForSelector("#readings input");
  await page.setInputFiles("#open-readings", scene("kettle-readings.csv"));
  await page.click("#judge");
  await page.waitForSelector("#verdict:not([hidden])", { timeout: 120000 });
  await page.setViewportSize({ width: 1100, height: 820 });
  await page.evaluate(() => {
    document.activeElement.blur();
    document.getElementById("survey-fold").scrollIntoView();
  });
  await page.screenshot({ path: path.join(folder, "page-survey.png") });
  await end();
}

draw();
