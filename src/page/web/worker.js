// SPDX-License-Identifier: MIT
// The engine at work, off the page's own thread: {call: "read", …} or {call: "solve", question} about the file that was read last.
"use strict";

const ready = dishwrightEngine();
let scene = 0;

self.onmessage = async ({ data }) => {
  try {
    const engine = await ready;
    const began = performance.now();
    const found = data.call === "read" ? engine.read(data.text, data.files, data.name) : engine.solve(scene, data.question);
    if (found.scene) scene = found.scene;
    found.took = performance.now() - began; // [ms]
    self.postMessage(found);
  } catch (error) {
    self.postMessage({ fault: String(error) });
  }
};
