// One field: brought up to what the program says of it, without touching what the
// user is in.

import { apart, one, put } from "./dom.js";
import { isHeld } from "./slider.js";

/** @typedef {import("./types").Told} Told */

const WORDS = /** @type {const} */ (["fixed", "varies", "unknown", "assumed", "word"]);

/**
 * Brings a field up to date; `renewed`: even what the user is in.
 * @param {HTMLElement} field @param {Told} told @param {boolean} renewed
 */
export function bring(field, told, renewed) {
  if (field.dataset.kind !== told.kind) {
    field.dataset.kind = told.kind;
    for (const element of [field, field.querySelector(".tag")]) {
      element?.classList.remove(...WORDS);
      element?.classList.add(told.kind);
    }
    const tag = field.querySelector(".tag");
    if (tag) tag.textContent = told.kind;
  }
  const body = one(field, ".body");
  const within = body.contains(document.activeElement) ? document.activeElement : null;
  if (!within) {
    put(body, told.html);
    return;
  }
  const anew = apart(told.html);
  const [was, now] = [body, anew].map((side) => side.querySelector(".told"));
  const mark = (/** @type {any} */ side) => `${side?.dataset.form} ${side?.querySelectorAll(".part").length}`;
  if (mark(was) === mark(now)) mend(body, anew, within, renewed);
  else {
    const kind = within.matches("select") ? "select.form" : "input.value";
    body.replaceChildren(anew);
    /** @type {HTMLElement | null} */ (body.querySelector(kind))?.focus({ preventScroll: true });
  }
}

/**
 * Takes over what is new, save where the user is.
 * @param {HTMLElement} body @param {DocumentFragment} anew @param {Element} within @param {boolean} renewed
 */
function mend(body, anew, within, renewed) {
  const spoken = anew.querySelector(".spoken");
  const said = body.querySelector(".spoken");
  if (spoken && said) said.textContent = spoken.textContent;
  const told = body.querySelector(".told");
  if (told) Object.assign(/** @type {HTMLElement} */ (told).dataset, { ...one(anew, ".told").dataset });
  for (const input of anew.querySelectorAll(".value")) {
    const part = /** @type {HTMLInputElement} */ (input);
    const mine = /** @type {HTMLInputElement | null} */ (body.querySelector(`.value[data-part="${part.dataset.part}"]`));
    if (!mine) continue;
    if (renewed || mine !== within) mine.value = part.value;
    Object.assign(mine.dataset, { ...part.dataset });
  }
  const [curve, next] = [body.querySelector("svg.curve"), anew.querySelector("svg.curve")];
  if (!curve || !next) {
    if (next) body.querySelector(".spoken")?.before(next);
    else curve?.remove();
    return;
  }
  if (!curve.contains(within)) {
    curve.replaceWith(next);
    return;
  }
  // An end is being moved: the edges stay where they are, the curve moves.
  const shape = one(next, ".shape");
  curve.querySelector(".shape")?.replaceWith(shape);
  fit(shape, curve);
  for (const end of next.querySelectorAll("g.end")) {
    const part = /** @type {SVGElement} */ (end);
    const mine = /** @type {SVGElement | null} */ (curve.querySelector(`g.end[data-part="${part.dataset.part}"]`));
    if (!mine || isHeld(mine)) continue;
    Object.assign(mine.dataset, { ...part.dataset });
    for (const name of ["aria-valuenow", "aria-valuetext"]) mine.setAttribute(name, part.getAttribute(name) ?? "");
    place(mine);
  }
}

/** The values at the edges of a drawing and its width. @param {any} element */
export function edges(element) {
  const curve = element.closest("svg.curve");
  return { low: Number(curve.dataset.low), high: Number(curve.dataset.high), width: curve.viewBox.baseVal.width };
}

/** Puts an end where its value is. @param {any} end */
export function place(end) {
  const { low, high, width } = edges(end);
  const x = (width * (Number(end.dataset.from) + Number(end.dataset.value) - low)) / (high - low);
  const foot = end.transform.baseVal[0]?.matrix.f ?? 0;
  end.setAttribute("transform", `translate(${Math.min(width, Math.max(0, x)).toFixed(1)} ${foot})`);
}

/** Draws a curve between other edges than its own. @param {any} shape @param {any} curve */
function fit(shape, curve) {
  const { low, high, width } = edges(curve);
  const [from, to] = [Number(shape.dataset.low), Number(shape.dataset.high)];
  const times = (to - from) / (high - low);
  shape.setAttribute("transform", `matrix(${times} 0 0 1 ${(width * (from - low)) / (high - low)} 0)`);
}
