// What-ifs that are kept: rows with a name, what was changed, and the chance before
// and after.

import { by, copy, one } from "./dom.js";
import { nameOf } from "./form.js";

/** @typedef {import("./types").Row} Row */
/** @typedef {"show" | "against" | "save" | "drop" | "changed"} Deed */

/**
 * What a list of sets comes to, in words.
 * @param {import("./types").Sets} sets
 */
export function words(sets) {
  /** @type {Map<string, string[]>} */
  const told = new Map();
  for (const [path, value] of sets) {
    const name = nameOf(path);
    told.set(name, [...(told.get(name) ?? []), value]);
  }
  const each = [...told].map(([name, values]) => `${name} → ${values.join(", ")}`);
  return each.join("; ") || "the file as it is";
}

/** A name to start from. @param {import("./types").Sets} sets */
export function named(sets) {
  const last = sets.at(-1);
  return last ? `${nameOf(last[0]).split(" · ").at(-1)} ${last[1]}` : "As the file has it";
}

/**
 * Shows the rows.
 * @param {Row[]} rows @param {number | null} against which one is compared with
 */
export function show(rows, against) {
  const list = by("rows");
  by("no-rows").hidden = rows.length > 0;
  by("what-ifs").classList.toggle("some", rows.length > 0);
  while (list.children.length > rows.length) list.lastElementChild?.remove();
  rows.forEach((row, i) => {
    // A row stays the element that it is: the focus may be in it.
    const element = /** @type {HTMLElement} */ (list.children[i] ?? list.appendChild(copy("row")));
    element.dataset.row = String(i);
    const name = one(element, ".row-name");
    if (name !== document.activeElement) name.value = row.name;
    one(element, ".row-sets").textContent = words(row.sets);
    one(element, ".row-before").textContent = row.before;
    one(element, ".row-after").textContent = row.after;
    one(element, ".row-printed").checked = row.printed;
    one(element, "[data-deed=against]").setAttribute("aria-pressed", String(i === against));
  });
}

/**
 * Calls with what is to be done with a row.
 * @param {(deed: Deed, row: number, change?: Partial<Row>) => void} done
 */
export function listen(done) {
  const list = by("rows");
  /** @param {Event} event */
  const rowOf = (event) => {
    const row = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-row]"));
    return Number(row?.dataset.row);
  };
  list.addEventListener("click", (event) => {
    const button = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-deed]"));
    if (button) done(/** @type {Deed} */ (button.dataset.deed), rowOf(event));
  });
  list.addEventListener("input", (event) => {
    const at = /** @type {HTMLInputElement} */ (event.target);
    done("changed", rowOf(event), at.type === "checkbox" ? { printed: at.checked } : { name: at.value });
  });
}
