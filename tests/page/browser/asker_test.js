// SPDX-License-Identifier: MIT
// What waits for the engine while it is at work: only the last question, but never less than the last file.
"use strict";

const assert = require("assert");
const fs = require("fs");
const path = require("path");
const test = require("node:test");
const vm = require("vm");

/** An Asker whose worker answers when told to, with what it was asked. */
function asker() {
  const posted = [];
  const worker = { postMessage: (message) => posted.push(message) };
  const place = {
    document: { getElementById: () => ({ textContent: "" }) }, Blob: class {}, URL: { createObjectURL: () => "" },
    Worker: function () { return worker; },
  };
  const text = fs.readFileSync(path.join(__dirname, "../../../src/page/web/asker.js"), "utf8");
  const Asker = vm.runInNewContext(`${text}; Asker`, place);
  const made = new Asker();
  return { made, posted, answer: () => worker.onmessage({ data: posted[posted.length - 1] }) };
}

const solve = (name) => ({ call: "solve", name }), read = (name) => ({ call: "read", name });
const names = (posted) => posted.map((one) => one.name).join(" ");

test("of questions that wait only the last is asked, the others hear null", async () => {
  const { made, posted, answer } = asker();
  const first = made.ask(solve("a")), stale = made.ask(solve("b")), last = made.ask(solve("c"));
  assert.strictEqual(await stale, null);
  answer();
  answer();
  assert.strictEqual((await first).name, "a");
  assert.strictEqual((await last).name, "c");
  assert.strictEqual(names(posted), "a c");
});

test("a file that waits is read before a newer question, and makes older ones stale", async () => {
  const { made, posted, answer } = asker();
  made.ask(solve("a"));
  const stale = made.ask(solve("b")), older = made.ask(read("old")), file = made.ask(read("new")), last = made.ask(solve("c"));
  assert.strictEqual(await stale, null);
  assert.strictEqual(await older, null);
  for (let k = 0; k < 3; ++k) answer();
  assert.strictEqual((await file).name, "new");
  assert.strictEqual((await last).name, "c");
  assert.strictEqual(names(posted), "a new c");
});

test("questions of other topics wait side by side", async () => {
  const { made, posted, answer } = asker();
  const chart = (name) => ({ call: "solve", topic: "chart", name }), uses = (name) => ({ call: "solve", topic: "uses", name });
  made.ask(chart("a"));
  const stale = made.ask(chart("b"));
  made.ask(uses("c"));
  made.ask(chart("d"));
  assert.strictEqual(await stale, null);
  for (let k = 0; k < 3; ++k) answer();
  assert.strictEqual(names(posted), "a c d");
});
