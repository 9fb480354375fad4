// Sends versions of the claim to be flown, the newest one only, and hands on what
// comes back. A run is not given up before its first number has come: whoever
// drags on sees numbers all the while.

import { Gone, lines } from "./api.js";

/** @typedef {import("./types").Line} Line */

/** @typedef {{ sets: import("./types").Sets, seq?: number, [name: string]: unknown }} Question */

/**
 * @typedef {object} Hears
 * @property {() => Question | undefined} question what to ask, as it is now
 * @property {(line: Line, typed: number, question: Question) => void} line with the time of what was typed
 * @property {(error: unknown) => void} failed
 */

export class Pilot {
  /** @type {AbortController | undefined} */
  #flying;
  #first = false;
  #waiting = false;
  #frame = 0;
  #typed = 0;
  #seq = 0;

  /** @param {Hears} hears */
  constructor(hears) {
    this.hears = hears;
  }

  /** Something has changed: flown by the next frame. @param {number} [typed] when */
  changed(typed = performance.now()) {
    this.#typed = typed;
    if (this.#frame) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#waiting = true;
      this.#next();
    });
  }

  #next() {
    if (!this.#waiting || (this.#flying && !this.#first)) return;
    const question = this.hears.question();
    if (!question) return;
    this.#flying?.abort();
    this.#waiting = false;
    this.#fly({ ...question, seq: ++this.#seq }, this.#typed);
  }

  /** @param {Question} question @param {number} typed */
  async #fly(question, typed) {
    const flying = new AbortController();
    this.#flying = flying;
    this.#first = false;
    try {
      for await (const line of lines("/api/edit", question, flying.signal)) {
        if (flying.signal.aborted) return;
        this.hears.line(line, typed, question);
        if (line.event !== "form") this.#answered();
        if (flying.signal.aborted) return;
      }
    } catch (error) {
      if (flying.signal.aborted) return;
      if (error instanceof Gone) this.#waiting = true;
      this.hears.failed(error);
    }
    if (this.#flying === flying) {
      this.#flying = undefined;
      if (this.#waiting && !this.stopped) this.#next();
    }
  }

  #answered() {
    this.#first = true;
    this.#next();
  }

  // Asks nothing more until it goes on.
  stopped = false;
}
