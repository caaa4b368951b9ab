// SPDX-License-Identifier: MIT
// What the page's tests share: a browser, pages opened as a student would, and what the program says.
"use strict";

const { execFileSync } = require("child_process");
const fs = require("fs");
const os = require("os");
const path = require("path");

const top = path.join(__dirname, "../../..");
const { chromium } = require(path.join(top, "src/page/web/node_modules/playwright-core"));
const program = path.join(top, "build/dishwright");
const folder = fs.mkdtempSync(path.join(os.tmpdir(), "dishwright-page-"));
const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"];
const full = process.env.DISHWRIGHT_FULL === "1";
let browser;

const scene = (name) => path.join(top, "scenes", name);
const begin = async () => (browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: flags }));
const end = async () => {
  await browser.close();
  fs.rmSync(folder, { recursive: true });
};

/** A page of a project (none: the bench); what went wrong is collected in `wrong`. No network: a request is a fault. */
async function opened(project, size = { width: 1366, height: 768 }, options = {}) {
  const file = path.join(folder, "page.html");
  execFileSync(program, ["page", ...(project ? [project] : []), "--out", file]);
  const context = await browser.newContext({ viewport: size, ...options });
  await context.setOffline(true);
  const page = await context.newPage();
  page.wrong = [];
  page.on("console", (message) => page.wrong.push(message.text()));
  page.on("pageerror", (error) => page.wrong.push(String(error)));
  page.on("request", (request) => /^(file|blob|data):/.test(request.url()) || page.wrong.push(`request: ${request.url()}`));
  await page.goto(`file://${file}`);
  return page;
}

/** Until all of the last question is shown. */
const told = (page) => page.waitForFunction(() => document.body.dataset.told && document.body.dataset.told === document.body.dataset.asked, null, { timeout: 60000 });

/** What a command prints with --json. Exit code 1 is an answer, too. */
function json(...options) {
  try {
    return JSON.parse(execFileSync(program, [...options, "--json"], { stdio: ["ignore", "pipe", "pipe"] }));
  } catch (error) {
    if (error.status === 1) return JSON.parse(error.stdout);
    throw error;
  }
}

/** Opens one of the folds of the page. */
const unfold = (page, id) => page.evaluate((name) => (document.getElementById(name).open = true), id);

module.exports = { begin, end, folder, full, json, opened, program, scene, told, top, unfold };
