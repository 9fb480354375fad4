// Numbers with their units, as they stand in fields: an SI value is
// off + per × number.

/** @typedef {{ unit: string, per: number, off: number, step: number }} Scale */

/** The scale of a field or a slider. @param {Element} element @returns {Scale} */
export function scaleOf(element) {
  const { unit = "", per, off, step } = /** @type {HTMLElement} */ (element).dataset;
  return { unit, per: Number(per), off: Number(off), step: Number(step) };
}

/** Whole steps from zero, in SI. @param {number} value @param {Scale} scale */
export function snapped(value, { off, step }) {
  return off + Math.round((value - off) / step) * step;
}

/** As it is typed. @param {number} value SI @param {Scale} scale */
export function text(value, { unit, per, off, step }) {
  const digits = Math.min(12, Math.max(0, -Math.floor(Math.log10(Math.abs(step / per)) + 1e-9)));
  const number = Number(((value - off) / per).toFixed(digits));
  return `${number === 0 ? 0 : number} ${unit}`.trim();
}

/** As it is typed, to three digits. @param {number} value SI @param {Scale} scale */
export function rough(value, { unit, per, off }) {
  return `${Number(((value - off) / per).toPrecision(3))} ${unit}`.trim();
}

/** How many steps a key is worth; undefined for another key. @param {string} key */
export function steps(key) {
  /** @type {Record<string, number>} */
  const worth = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10, Home: -Infinity, End: Infinity };
  return worth[key];
}
