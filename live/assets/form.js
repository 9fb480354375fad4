// The claim as a form: what is typed, chosen or dragged in it becomes sets.

import { by, one, prose, put } from "./dom.js";
import { bring, edges, place } from "./field.js";
import { scaleOf, snapped, steps, text } from "./number.js";
import { flagged, retold } from "./spread.js";
import { slides } from "./slider.js";

/** @typedef {import("./types").Told} Told */
/** @typedef {import("./types").Problem} Problem */
/** @typedef {(path: string, value: string | null, gesture: string) => void} Change */

const form = by("form");
/** @type {Map<string, string>} */
let told = new Map();
/** @type {Map<string, HTMLElement>} */
let fields = new Map();

/** @param {Element} element @returns {HTMLElement} */
const fieldOf = (element) => /** @type {HTMLElement} */ (element.closest(".field"));

/** Shows the form of a file; gives each key's text in it. @param {string} html */
export function show(html) {
  put(form, html);
  told = new Map();
  fields = new Map([...form.querySelectorAll(".field")].map((field) => {
    const element = /** @type {HTMLElement} */ (field);
    return [element.dataset.key ?? "", element];
  }));
  return Object.fromEntries([...fields].map(([key, { dataset }]) => [key, dataset.source ?? ""]));
}

let renewed = false;

// Another version is shown: every field takes over what it has, the one that the
// user is in as well.
export function renew() {
  renewed = true;
  told.clear();
}

/** Takes over what the program says of the fields. @param {Record<string, Told>} said */
export function take(said) {
  for (const [key, one] of Object.entries(said)) {
    const field = fields.get(key);
    if (!field || told.get(key) === one.html) continue;
    told.set(key, one.html);
    bring(field, one, renewed);
  }
  renewed = false;
}

/** The field that a path belongs to. @param {string} path */
export function keyOf(path) {
  for (let key = path; key !== ""; key = key.slice(0, Math.max(0, key.lastIndexOf(".")))) {
    if (fields.has(key)) return key;
  }
  return path;
}

/** What a field is called, and where. @param {string} path */
export function nameOf(path) {
  return keyOf(path).replaceAll(".", " · ").replaceAll("_", " ");
}

/**
 * Marks what is wrong at its field; gives what belongs to none.
 * @param {Problem[]} problems @param {"problem" | "doubt"} kind
 */
export function mark(problems, kind) {
  const others = [];
  for (const field of form.querySelectorAll(`.field.${kind}`)) {
    field.classList.remove(kind);
    one(field, ".problem").hidden = true;
    for (const input of field.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  }
  for (const problem of problems) {
    const field = problem.key === null ? undefined : fields.get(keyOf(problem.key));
    if (!field) {
      others.push(problem);
      continue;
    }
    field.classList.add(kind);
    // Nothing that is wrong stays folded away.
    for (let part = field.closest("details"); part && kind === "problem"; part = part.parentElement?.closest("details") ?? null) part.open = true;
    const words = one(field, ".problem");
    words.replaceChildren(...prose([problem.message, problem.help].filter(Boolean).join(": ")));
    words.hidden = false;
    if (kind === "problem") field.querySelector(".value")?.setAttribute("aria-invalid", "true");
  }
  return others;
}

/** @param {Change} change @param {() => void} ended */
export function listen(change, ended) {
  /** @param {any} input */
  const typed = (input) => {
    const key = fieldOf(input).dataset.key ?? "";
    const path = input.dataset.part === "" ? key : `${key}.${input.dataset.part}`;
    const value = input.value.trim().replace(/\s*\n\s*/g, " ");
    change(path, value === "" && fieldOf(input).dataset.source === "" ? null : value, path);
  };
  form.addEventListener("input", (event) => {
    const at = /** @type {any} */ (event.target);
    const key = fieldOf(at)?.dataset.key ?? "";
    const box = at.closest(".told");
    if (at.matches(".value")) typed(at);
    else if (at.matches("select.form")) change(key, retold(box, at.value), "");
    else if (at.matches(".unknown")) change(key, flagged(one(fieldOf(at), ".told"), at.checked), "");
  });
  form.addEventListener("change", ended);
  form.addEventListener("keydown", (event) => {
    const at = /** @type {any} */ (event.target);
    const by = steps(event.key);
    if (!at.matches("input.value[data-step]") || !by || !/^(Arrow(Up|Down)|Page)/.test(event.key)) return;
    event.preventDefault();
    const scale = scaleOf(at);
    at.value = text(snapped(Number(at.dataset.value) + by * scale.step, scale), scale);
    at.dataset.value = String(Number(at.dataset.value) + by * scale.step);
    typed(at);
  });
  /** @param {any} end @param {number} value SI */
  const moved = (end, value) => {
    const scale = scaleOf(end);
    const { low, high } = edges(end);
    const from = Number(end.dataset.from);
    const near = [...end.parentElement.querySelectorAll("g.end")].filter((other) => Number(other.dataset.from) === 0);
    const place_ = near.indexOf(end);
    const [before, after] = [near[place_ - 1], near[place_ + 1]].map((other) => other && Number(other.dataset.value));
    const sd = end.dataset.part.endsWith("sd");
    const least = sd ? scale.step : before !== undefined && place_ > 0 ? before + scale.step : low;
    const most = after !== undefined && !sd ? after - scale.step : high - from;
    const now = snapped(Math.min(most, Math.max(least, value)), scale);
    end.dataset.value = String(now);
    end.setAttribute("aria-valuenow", String((now - scale.off) / scale.per));
    end.setAttribute("aria-valuetext", text(now, scale));
    place(end);
    const field = fieldOf(end);
    const input = one(field, `input.value[data-part="${end.dataset.part}"]`);
    input.value = text(now, scale);
    const path = `${field.dataset.key}.${end.dataset.part}`;
    change(path, input.value, path);
  };
  slides(form, "g.end", {
    start: () => undefined,
    drag: (end, event) => {
      const { low, high, width } = edges(end);
      const matrix = end.ownerSVGElement.getScreenCTM().inverse();
      const x = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix).x;
      moved(end, low + ((high - low) * x) / width - Number(end.dataset.from));
    },
    nudge: (end, by) => {
      const value = Number.isFinite(by) ? Number(end.dataset.value) + by * scaleOf(end).step : by;
      moved(end, value);
    },
    end: ended,
  });
}
