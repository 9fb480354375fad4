// What can be moved in the picture of the set-up: handles over it, which change the
// numbers of the claim.

import { by } from "./dom.js";
import { isHeld, slides } from "./slider.js";
import { snapped, text } from "./number.js";

/** @typedef {import("./types").Handle} Handle */

// Pictures are drawn on a grid so many times finer than a pixel.
const FINE = 10;
const TOUCH = 12;
const SPACE = "http://www.w3.org/2000/svg";

const over = by("handles");
/** @type {Handle[]} */
let known = [];

// Px of the screen to one of the picture.
let scale = 1;

/** Lays the handles over the picture. @param {Handle[]} handles */
export function lay(handles) {
  known = handles;
  const picture = /** @type {SVGSVGElement | null} */ (by("setup").querySelector("svg.chart"));
  if (!picture) {
    over.replaceChildren();
    return;
  }
  const { width, height } = picture.viewBox.baseVal;
  over.setAttribute("viewBox", `0 0 ${width / FINE} ${height / FINE}`);
  const [outer, inner] = [/** @type {Element} */ (over.parentElement), picture].map((element) => element.getBoundingClientRect());
  if (outer && inner) {
    const at = { left: inner.left - outer.left, top: inner.top - outer.top, width: inner.width, height: inner.height };
    scale = Math.min((FINE * inner.width) / width, (FINE * inner.height) / height) || 1;
    for (const [name, px] of Object.entries(at)) over.style.setProperty(name, `${px}px`);
  }
  const wanted = new Set(handles.map(nameOf));
  for (const element of [...over.children]) if (!wanted.has(element.id)) element.remove();
  for (const handle of handles) {
    const element = document.getElementById(nameOf(handle)) ?? made(handle);
    if (!isHeld(element)) set(element, handle, handle.x, handle.y, handle.value, handle.text);
  }
}

/** @param {Handle} handle */
const nameOf = (handle) => `handle-${handle.view}-${handle.key}`;

/** @param {Handle} handle */
function made(handle) {
  const group = document.createElementNS(SPACE, "g");
  const attributes = { id: nameOf(handle), class: `handle ${handle.axis}`, tabindex: "0", role: "slider", "aria-label": handle.label };
  for (const [name, value] of Object.entries({ ...attributes, "aria-orientation": handle.axis === "x" ? "horizontal" : "vertical" })) {
    group.setAttribute(name, value);
  }
  const touch = document.createElementNS(SPACE, "circle");
  touch.setAttribute("class", "touch");
  touch.setAttribute("r", String(TOUCH));
  const mark = document.createElementNS(SPACE, "path");
  mark.setAttribute("class", "mark");
  mark.setAttribute("d", handle.axis === "x" ? "M-10,0L-3,-6V6ZM10,0L3,-6V6Z" : "M0,-10L-6,-3H6ZM0,10L-6,3H6Z");
  group.append(touch, mark);
  over.append(group);
  return group;
}

/** @param {Element} element @param {Handle} handle @param {number} x @param {number} y @param {number} value @param {string} words */
function set(element, handle, x, y, value, words) {
  element.setAttribute("transform", `translate(${x} ${y}) scale(${1 / scale})`);
  const now = { "aria-valuemin": handle.low, "aria-valuemax": handle.high, "aria-valuenow": value };
  for (const [name, number] of Object.entries(now)) element.setAttribute(name, String(Number(number.toFixed(6))));
  element.setAttribute("aria-valuetext", words);
}

/**
 * Calls with what a moved handle sets.
 * @param {(sets: [string, string][], gesture: string) => void} change @param {() => void} ended
 */
export function listen(change, ended) {
  /** @param {Handle} begun @param {Element} element @param {number} by SI */
  const moved = (begun, element, by) => {
    const value = Math.min(begun.high, Math.max(begun.low, begun.value + by));
    const px = (value - begun.value) / begun.unit_per_px;
    const shift = value - begun.value;
    const sets = begun.parts.map((part) => /** @type {[string, string]} */ ([
      part.path === "" ? begun.key : `${begun.key}.${part.path}`,
      text(snapped(part.value + shift, part), part),
    ]));
    const [x, y] = begun.axis === "x" ? [begun.x + px, begun.y] : [begun.x, begun.y + px];
    set(element, begun, x, y, value, sets.map(([, words]) => words).join(" to "));
    change(sets, `handle ${begun.key}`);
    const parts = begun.parts.map((part) => ({ ...part, value: part.value + shift }));
    return { ...begun, x, y, value, parts };
  };
  const find = (/** @type {Element} */ element) => known.find((handle) => nameOf(handle) === element.id);
  slides(over, ".handle", {
    start: (element, event) => ({ handle: find(element), at: point(event) }),
    drag: (element, event, { handle, at }) => {
      if (!handle) return;
      const now = point(event);
      moved(handle, element, (handle.axis === "x" ? now.x - at.x : now.y - at.y) * handle.unit_per_px);
    },
    nudge: (element, steps) => {
      const handle = find(element);
      if (!handle) return;
      const step = handle.parts[0]?.step ?? 0;
      const by = Number.isFinite(steps) ? steps * step : (steps < 0 ? handle.low : handle.high) - handle.value;
      // The next press goes on from here, answered or not.
      Object.assign(handle, moved(handle, element, by));
    },
    end: ended,
  });
}

/** @param {PointerEvent} event */
function point(event) {
  const matrix = /** @type {any} */ (over).getScreenCTM().inverse();
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
}

// Lays them anew, where the picture has another size.
export function again() {
  lay(known);
}
