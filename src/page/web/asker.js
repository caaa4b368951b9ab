// SPDX-License-Identifier: MIT
// Asks the engine, which works off the page's own thread.
"use strict";

/** Asks a worker of its own, one thing at a time. A newer question takes the place of one of its topic that waits, a newer file of all. */
class Asker {
  constructor() {
    const text = document.getElementById("engine").textContent;
    this.worker = new Worker(URL.createObjectURL(new Blob([text], { type: "text/javascript" })));
    this.worker.onmessage = ({ data }) => this.answered(data);
    this.worker.onerror = (event) => this.answered({ fault: event.message || "the engine cannot start" });
    this.waiting = [];
    this.asked = null;
  }
  /** What the engine says; null where something newer came before it was asked. */
  ask(message) {
    return new Promise((done) => {
      const stale = (one) => message.call === "read" || (one.message.call === "solve" && one.message.topic === message.topic);
      this.waiting.filter(stale).forEach((one) => one.done(null));
      this.waiting = [...this.waiting.filter((one) => !stale(one)), { message, done }];
      if (!this.asked) this.next();
    });
  }
  next() {
    this.asked = this.waiting.shift() || null;
    if (this.asked) this.worker.postMessage(this.asked.message);
  }
  answered(found) {
    if (this.asked) this.asked.done(found);
    this.next();
  }
}
