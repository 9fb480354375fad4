// Laws of the versions that the page keeps, over changes that nobody chose: undone
// and done again they are what they were, a key is set once, and what was saved can
// be undone.

import { History, under, withSet } from "../../live/assets/history.js";

// Random whole numbers below a bound, the same every time. Source: the generator of
// Park and Miller (1988), "minimal standard". (From memory.)
function random(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

const KEYS = ["a.b", "a.b.between.x", "a.b.between.y", "a.c", "d", "d.range.x"];
const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

// What a file holds after sets, by key: a whole key stands for its parts.
function text(file, sets) {
  const now = new Map(file);
  for (const [path, value] of sets) {
    for (const key of [...now.keys()]) if (under(key, path)) now.delete(key);
    now.set(path, value);
  }
  return [...now].sort(([a], [b]) => (a < b ? -1 : 1));
}

// The laws that do not hold.
export function broken() {
  const found = new Set();
  const holds = (is, law) => is || found.add(`versions: ${law}`);
  for (let seed = 1; seed <= 300; seed++) {
    const next = random(seed);
    const versions = new History();
    const states = [[]];
    for (let i = 0; i < 12; i++) {
      const [path, value] = [KEYS[next(KEYS.length)], next(5) === 0 ? null : String(next(9))];
      const sets = withSet(versions.sets, path, value);
      holds(new Set(sets.map(([key]) => key)).size === sets.length, "a path is set twice");
      holds(value === null ? !sets.some(([key]) => under(key, path)) : sets.some(([key, is]) => key === path && is === value), "what was set last does not hold");
      holds(sets.every(([key], j) => !sets.slice(j + 1).some(([later]) => later !== key && under(key, later))), "what a whole key stands for is set before it");
      if (versions.change(sets, "")) states.push(sets);
    }
    for (const state of states.slice(0, -1).reverse()) holds(versions.undo() && same(versions.sets, state), "undo");
    holds(!versions.undo(), "there is more to undo than was done");
    for (const state of states.slice(1)) holds(versions.redo() && same(versions.sets, state), "redo");
    // Saved, then undone: the file and what is set in it are as before.
    const file = [["a.b", "0"], ["a.c", "0"], ["d", "0"]];
    const sets = versions.sets;
    const keys = ["a.b", "a.c", "d"].filter((key) => sets.some(([path]) => under(path, key)));
    const saved = text(file, sets);
    const before = versions.past.at(-1);
    versions.saved(keys.map((key) => [key, "0"]));
    holds(same(text(saved, versions.sets), saved), "saving changes what is flown");
    if (before !== undefined && versions.undo()) holds(same(text(saved, versions.sets), text(file, before)), "what was saved cannot be undone");
  }
  const one = new History();
  one.change([["d", "1"]], "d");
  one.change([["d", "12"]], "d");
  one.ended();
  one.change([["d", "13"]], "d");
  holds(one.past.length === 2, "a gesture is not undone in one");
  return [...found];
}
