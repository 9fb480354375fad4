// The versions of the claim that were made: lists of sets, undone and done again.

/** @typedef {import("./types").Sets} Sets */

/** Whether a path is a key or lies under it. @param {string} path @param {string} key */
export function under(path, key) {
  return path === key || path.startsWith(`${key}.`);
}

/**
 * Sets with one more: it stands for what was set at its path or under it.
 * @param {Sets} sets @param {string} path @param {string | null} value null: taken back
 * @returns {Sets}
 */
export function withSet(sets, path, value) {
  const place = sets.findIndex(([other]) => other === path);
  /** @type {Sets} */
  const rest = sets.filter(([other]) => !under(other, path));
  if (value === null) return rest;
  if (place < 0 || rest.length !== sets.length - 1) return [...rest, [path, value]];
  return sets.map((one) => (one[0] === path ? [path, value] : one));
}

const MOST = 200;

export class History {
  /** @type {Sets} */
  sets = [];
  /** @type {Sets[]} */
  past = [];
  /** @type {Sets[]} */
  future = [];
  #gesture = "";

  /**
   * Another version. What belongs to one gesture is undone in one.
   * @param {Sets} sets @param {string} gesture
   */
  change(sets, gesture) {
    if (JSON.stringify(sets) === JSON.stringify(this.sets)) return false;
    if (gesture === "" || gesture !== this.#gesture) this.past = [...this.past, this.sets].slice(-MOST);
    this.#gesture = gesture;
    this.future = [];
    this.sets = sets;
    return true;
  }

  // The next change is one by itself.
  ended() {
    this.#gesture = "";
  }

  undo() {
    return this.#turn(this.past, this.future);
  }

  redo() {
    return this.#turn(this.future, this.past);
  }

  /** @param {Sets[]} from @param {Sets[]} to */
  #turn(from, to) {
    const sets = from.pop();
    if (!sets) return false;
    to.push(this.sets);
    this.sets = sets;
    this.ended();
    return true;
  }

  /**
   * The file now holds what was set: versions made before say what stood there.
   * @param {Sets} was the saved keys with their texts before
   */
  saved(was) {
    /** @param {Sets} sets @returns {Sets} */
    const before = (sets) => {
      const told = (/** @type {string} */ key) => sets.some(([path]) => path === key);
      return [...was.filter(([key]) => !told(key)), ...sets];
    };
    this.past = this.past.map(before);
    this.future = this.future.map(before);
    this.sets = [];
    this.ended();
  }
}
