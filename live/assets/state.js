// What the page knows: the file it was made from, the version that is flown, and
// the rows that are kept. A reload finds all of it again.

import { asked } from "./api.js";
import { question } from "./dom.js";
import { keyOf, nameOf } from "./form.js";
import { History, under, withSet } from "./history.js";

/** @typedef {import("./types").Sets} Sets */
/** @typedef {import("./types").Row} Row */
/** @typedef {import("./types").Kept} Kept */

const KEPT = "longodds claim";

class State {
  digest = "";
  versions = new History();
  /** @type {Row[]} */
  rows = [];
  /** @type {number | null} which row is compared with; none: the file */
  compared = null;
  /** @type {Record<string, string>} each key's text in the file */
  sources = {};
  // Whether something was kept from before a reload.
  kept = false;
  /** @type {Map<string, string>} settled chances by what was changed */
  chances = new Map();

  constructor() {
    const kept = sessionStorage.getItem(KEPT);
    if (!kept) return;
    const { sets, past, future, rows, against, sources } = /** @type {Kept} */ (JSON.parse(kept));
    Object.assign(this.versions, { sets, past, future });
    Object.assign(this, { rows, compared: against, sources, kept: true });
  }

  keep() {
    const { sets, past, future } = this.versions;
    /** @type {Kept} */
    const kept = { sets, past, future, rows: this.rows, against: this.compared, sources: this.sources };
    sessionStorage.setItem(KEPT, JSON.stringify(kept));
  }

  /** @param {{ digest: string }} opened @param {Record<string, string>} sources */
  opened({ digest }, sources) {
    this.digest = digest;
    this.sources = sources;
  }

  /** @param {[string, string | null][]} sets @param {string} gesture */
  set(sets, gesture) {
    const next = sets.reduce((all, [path, value]) => withSet(all, path, value), this.versions.sets);
    return this.versions.change(next, gesture);
  }

  /** What the version is compared with; null: it is the same. @returns {Sets | null} */
  against() {
    const other = (this.compared === null ? undefined : this.rows[this.compared]?.sets) ?? [];
    return JSON.stringify(other) === JSON.stringify(this.versions.sets) ? null : other;
  }

  /** A chance has settled. @param {string} words what was changed @param {Sets} sets @param {string} chance */
  learned(words, sets, chance) {
    this.chances.set(words, chance);
    for (const row of this.rows) if (JSON.stringify(row.sets) === JSON.stringify(sets)) row.after = chance;
    this.keep();
  }

  /** @param {string} name @param {string} chance */
  pin(name, chance) {
    const before = this.chances.get("the file as it is") ?? "";
    this.rows = [...this.rows, { name, sets: this.versions.sets, before, after: chance, printed: true }];
  }

  /**
   * @param {"show" | "against" | "drop" | "changed" | "save"} deed @param {number} i @param {Partial<Row>} [change]
   * @returns {boolean} whether another version is to be flown
   */
  deed(deed, i, change) {
    const row = this.rows[i];
    if (!row) return false;
    if (deed === "show") return this.versions.change(row.sets, "");
    if (deed === "against") this.compared = this.compared === i ? null : i;
    if (deed === "drop") {
      this.rows = this.rows.filter((_, other) => other !== i);
      if (this.compared !== null && this.compared >= i) this.compared = this.compared === i ? null : this.compared - 1;
    }
    if (deed === "changed") {
      Object.assign(row, change);
      this.keep();
      return false;
    }
    return true;
  }
}

export const state = new State();

/**
 * The file has changed: asks about each key that was changed on both sides.
 * @param {Record<string, string>} sources each key's text in the file now
 */
export async function clash(sources) {
  const { sets } = state.versions;
  const keys = [...new Set(sets.map(([path]) => keyOf(path)))];
  const both = keys.filter((key) => key in state.sources && (sources[key] ?? "") !== state.sources[key]);
  if (both.length === 0) return;
  const sides = both.map((key) => {
    const ours = sets.filter(([path]) => under(path, key)).map(([, value]) => value).join(", ");
    return { name: nameOf(key), theirs: sources[key] ?? "", ours };
  });
  const answer = await question("The file was changed where you changed it too.", sides, [
    ["ours", "Keep mine on top of the file"],
    ["theirs", "Take what the file has"],
  ]);
  if (answer !== "theirs") return;
  state.versions.change(sets.filter(([path]) => !both.some((key) => under(path, key))), "");
}

/**
 * Saves a version. "open": the file was changed meanwhile, read it first.
 * @param {Sets} sets @returns {Promise<{ form: string } | import("./types").Problem[] | "open" | undefined>}
 */
export async function saved(sets) {
  if (sets.length === 0) return undefined;
  const { status, said } = await asked("/api/save", { digest: state.digest, sets });
  if (status === 422) return said.problems;
  if (status === 409) {
    const sides = [{ name: "the whole file", theirs: said.theirs, ours: said.ours }];
    const answer = await question("The file was changed by another program; nothing was written.", sides, [
      ["open", "Read it, and keep my changes on top"],
      ["", "Leave it as it is"],
    ]);
    return answer === "open" ? "open" : undefined;
  }
  const keys = [...new Set(sets.map(([path]) => keyOf(path)))];
  const was = keys.filter((key) => state.sources[key]).map((key) => /** @type {[string, string]} */ ([key, state.sources[key] ?? ""]));
  const mine = JSON.stringify(sets) === JSON.stringify(state.versions.sets);
  if (mine) state.versions.saved(was);
  state.digest = said.digest;
  return said;
}
