// SPDX-License-Identifier: MIT
// The engine at work, off the page's own thread. Each message is {id, call, …}; each answer {id, found}.
"use strict";

let engine;
const ready = dishwrightEngine().then((made) => (engine = made));

self.onmessage = async ({ data }) => {
  try {
    await ready;
    const found = data.call === "read" ? engine.read(data.text, data.files, data.name) : engine.solve(data.scene, data.question);
    self.postMessage({ id: data.id, found });
  } catch (error) {
    self.postMessage({ id: data.id, found: { fault: String(error) } });
  }
};
