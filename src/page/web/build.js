// SPDX-License-Identifier: MIT
// Puts the page together: one file without a project in it. Usage: node build.js ENGINE.js OUT.html (after npm ci)
"use strict";

const fs = require("fs");
const path = require("path");

const [engineFile, out] = process.argv.slice(2);
const here = (name) => fs.readFileSync(path.join(__dirname, name), "utf8");
// What closes a script element must not stand in it.
const inScript = (text) => text.replace(/<\/script/gi, "<\\/script");
// In one scope of their own; page.js begins, so it stands last.
const scripts = ["asker", "pictures", "state", "controls", "clock", "answer", "views", "charts", "further", "burn", "survey", "page"];

const chart = path.dirname(require.resolve("uplot/package.json"));
const parts = {
  "/*STYLE*/": fs.readFileSync(path.join(chart, "dist/uPlot.min.css"), "utf8") + here("page.css"),
  "/*ENGINE*/": inScript(fs.readFileSync(engineFile, "utf8") + "\n" + here("worker.js")),
  "/*CHART*/": inScript(fs.readFileSync(path.join(chart, "dist/uPlot.iife.min.js"), "utf8")),
  "/*SCRIPT*/": inScript(`(() => {\n${scripts.map((name) => here(`${name}.js`)).join("\n")}})();`),
};
let page = here("page.html");
for (const [mark, text] of Object.entries(parts)) {
  if (!page.includes(mark)) throw new Error(`page.html has no ${mark}`);
  page = page.replace(mark, () => text);
}
fs.writeFileSync(`${out}.new`, page);
fs.renameSync(`${out}.new`, out);
