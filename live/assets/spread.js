// A number told in another way: its text as it stands in the claim.

import { one } from "./dom.js";
import { rough, scaleOf } from "./number.js";

/** A spread told in another way, from where the number lies now. @param {HTMLElement} box @param {string} form */
export function retold(box, form) {
  const { low, middle, high, flags = "", spreadUnit = "" } = box.dataset;
  const scale = scaleOf(one(box, "input.value"));
  const [a, b, c] = [low, middle, high].map((value) => rough(Number(value), scale));
  const sd = rough((Number(high) - Number(low)) / 3.29, { ...scale, unit: spreadUnit, off: 0 });
  const kept = form === "range" || form === "between" ? flags : flags.replace(", skew: true", "");
  const forms = /** @type {Record<string, string>} */ ({
    range: `{range: [${a}, ${c}]${kept}}`,
    between: `{between: [${a}, ${c}]${kept}}`,
    triangle: `{triangle: [${a}, ${b}, ${c}]${kept}}`,
    normal: `{normal: {mean: ${b}, sd: ${sd}}${kept}}`,
  });
  return forms[form] ?? b ?? "";
}

/** The same spread, known or unknown. @param {HTMLElement} box @param {boolean} unknown */
export function flagged(box, unknown) {
  const { form = "", flags = "" } = box.dataset;
  const [a, b, c] = [...box.querySelectorAll("input.value")].map((input) => /** @type {HTMLInputElement} */ (input).value);
  const skew = flags.includes("skew") ? ", skew: true" : "";
  const inner = form === "normal" ? `{mean: ${a}, sd: ${b}}` : `[${[a, b, c].filter((part) => part !== undefined).join(", ")}]`;
  return `{${form}: ${inner}${unknown ? ", unknown: true" : ""}${skew}}`;
}
