// What can be moved by pointer and by keyboard: elements of the role slider.

import { steps } from "./number.js";

/**
 * @typedef {object} Moves
 * @property {(element: any, event: PointerEvent) => unknown} start gives what the drag begins with
 * @property {(element: any, event: PointerEvent, begun: any) => void} drag
 * @property {(element: any, steps: number) => void} nudge an infinite number: to the end
 * @property {() => void} end
 */

/** @type {Element | undefined} */
let held;

// Whether something is being dragged.
export function isHeld(/** @type {Element | undefined} */ element = undefined) {
  return element ? held === element : held !== undefined;
}

/** @param {Element} root @param {string} selector @param {Moves} moves */
export function slides(root, selector, moves) {
  /** @param {Event} event */
  const found = (event) => /** @type {any} */ (/** @type {Element} */ (event.target).closest(selector));
  /** @type {unknown} */
  let begun;
  root.addEventListener("pointerdown", (event) => {
    const press = /** @type {PointerEvent} */ (event);
    const element = found(event);
    if (!element || press.button !== 0) return;
    press.preventDefault();
    element.focus({ preventScroll: true });
    element.setPointerCapture(press.pointerId);
    held = element;
    begun = moves.start(element, press);
  });
  root.addEventListener("pointermove", (event) => {
    if (held && held === found(event)) moves.drag(held, /** @type {PointerEvent} */ (event), begun);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    root.addEventListener(end, (event) => {
      if (!held || held !== found(event)) return;
      held = undefined;
      moves.end();
    });
  }
  root.addEventListener("keydown", (event) => {
    const press = /** @type {KeyboardEvent} */ (event);
    const element = found(event);
    const by = steps(press.key);
    if (!element || by === undefined || press.ctrlKey || press.metaKey) return;
    press.preventDefault();
    moves.nudge(element, by);
  });
}
