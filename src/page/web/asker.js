// SPDX-License-Identifier: MIT
// Asks the engine, which works off the page's own thread.
"use strict";

/** Asks a worker of its own; of questions that wait only the last is asked. */
class Asker {
  constructor() {
    const text = document.getElementById("engine").textContent;
    this.worker = new Worker(URL.createObjectURL(new Blob([text], { type: "text/javascript" })));
    this.worker.onmessage = ({ data }) => this.answered(data);
    this.worker.onerror = (event) => this.answered({ found: { fault: event.message || "the engine cannot start" } });
    this.waiting = null;
    this.asked = null;
  }
  ask(message) {
    return new Promise((done) => {
      if (this.waiting) this.waiting.done(null); // a newer question has come
      this.waiting = { message, done };
      if (!this.asked) this.next();
    });
  }
  next() {
    this.asked = this.waiting;
    this.waiting = null;
    if (this.asked) this.worker.postMessage(this.asked.message);
  }
  answered(data) {
    if (this.asked) this.asked.done(data.found);
    this.next();
  }
}
