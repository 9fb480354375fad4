// What the program says, put on the page.

import { by, prose, put } from "./dom.js";
import * as form from "./form.js";
import * as handles from "./handles.js";
import * as rows from "./rows.js";
import { state } from "./state.js";

/** @typedef {import("./types").Line} Line */

/** @type {unknown} */
let views = null;
// Waits that are kept for whoever asks the browser for them.
const MEASURES = 2000;
let measured = 0;

// The views that the picture was drawn in last.
export function seen() {
  return views;
}

/**
 * Puts a line of the program on the page.
 * @param {Line} line @param {number} typed when what it answers was typed
 * @param {import("./types").Sets} sets the version that it is about
 */
export function heard(line, typed, sets) {
  if (line.event === "problems") wrong(line.problems);
  else if (line.event === "form") understood(line);
  else if (line.event === "put") shown(line, typed, sets);
  else if (line.event === "done") settled(typed);
}

/** What is wrong, at its field or over all. @param {import("./types").Problem[]} problems */
export function wrong(problems) {
  document.body.classList.add("wrong");
  const others = form.mark(problems, "problem");
  const words = others.map(({ message, help }) => [message, help].filter(Boolean).join(": "));
  by("wrong").textContent = words.join(". ") || "A value cannot be used: see its field. The numbers are those of before.";
}

/** @param {Extract<Line, { event: "form" }>} line */
function understood({ fields, understood = "", doubts = [] }) {
  document.body.classList.remove("wrong");
  by("wrong").textContent = "";
  form.mark([], "problem");
  form.take(fields);
  const others = form.mark(doubts, "doubt");
  by("understood").replaceChildren(...prose(understood));
  by("doubts").replaceChildren(...others.map(({ message, help }) => {
    const item = document.createElement("li");
    item.append(...prose([message, help].filter(Boolean).join(": ")));
    return item;
  }));
}

/**
 * @param {Extract<Line, { event: "put" }>} line @param {number} typed
 * @param {import("./types").Sets} sets
 */
function shown({ into, html, views: given, handles: found, flights, phase = "" }, typed, sets) {
  put(by(into), html);
  if (into === "chance") document.body.dataset.phase = phase;
  if (into === "chance" && ["settled", "search"].includes(phase)) {
    state.learned(rows.words(sets), sets, numberNow());
    rows.show(state.rows, state.compared);
  }
  if (given !== undefined) views = given;
  if (found) handles.lay(found);
  requestAnimationFrame(() => setTimeout(() => {
    if (++measured % MEASURES === 0) performance.clearMeasures();
    const name = `longodds ${into} ${phase}`;
    performance.measure(name, { start: typed, end: performance.now(), detail: { flights } });
  }));
}

/** @param {number} typed when what was flown was typed */
function settled(typed) {
  document.body.dataset.phase = "done";
  performance.measure("longodds done", { start: typed, end: performance.now() });
  const answer = by("chance").textContent?.replace(/\s+/g, " ").trim() ?? "";
  by("settled").textContent = answer;
}

// The chance as it stands on the page, in a few words.
export function numberNow() {
  const number = by("chance").querySelector("[data-short], .number");
  return (number?.getAttribute("data-short") ?? number?.textContent ?? "").replace(/\s+/g, " ").trim();
}
