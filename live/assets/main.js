// The page: a version of the claim, flown as it is changed.

import { Gone, asked, takeToken } from "./api.js";
import { by, say } from "./dom.js";
import * as form from "./form.js";
import * as handles from "./handles.js";
import { Pilot } from "./pilot.js";
import * as room from "./room.js";
import * as rows from "./rows.js";
import { heard, numberNow, seen, wrong } from "./screen.js";
import { isHeld } from "./slider.js";
import { clash, saved, state } from "./state.js";

const WATCH = 2000;
const AGAIN = 1000;

/** @type {number | undefined} */
let watching;
let opening = false;
// Whether another version is to be shown than the one that was being changed.
let turned = false;
// By this name the program knows which run is to be given up for which.
const page = crypto.randomUUID();

const pilot = new Pilot({
  question: () => {
    if (state.digest === "") return undefined;
    if (turned) form.renew();
    turned = false;
    return { digest: state.digest, sets: state.versions.sets, pinned: state.against(), views: isHeld() ? seen() : null, page };
  },
  line: (line, typed, { sets }) => (line.event === "stale" ? open() : heard(line, typed, sets)),
  failed,
});

/** @param {unknown} error */
function failed(error) {
  if (!(error instanceof Gone)) {
    say(error instanceof Error ? error.message : String(error));
    return;
  }
  pilot.stopped = true;
  document.body.classList.add("gone");
  say(error.anew ? error.message : `${error.message} Trying again; nothing that you changed is lost.`);
  clearTimeout(watching);
  watching = setTimeout(open, AGAIN);
}

// Reads the file anew; what was changed here stays, and a clash is asked about.
async function open() {
  if (opening) return;
  opening = true;
  try {
    const { said } = await asked("/api/open", {});
    const opened = /** @type {import("./types").Opened} */ (said);
    if (opened.problems.length > 0) {
      wrong(opened.problems);
      state.digest = opened.digest;
      return watch();
    }
    const sources = form.show(opened.form);
    if (state.digest !== "" || state.kept) await clash(sources);
    state.opened(opened, sources);
    by("file").textContent = opened.file.split("/").at(-1) ?? "";
    by("file").title = opened.file;
    by("claim").textContent = opened.claim;
    document.body.classList.remove("gone");
    pilot.stopped = false;
    say("");
    changed();
    watch();
  } catch (error) {
    failed(error);
  } finally {
    opening = false;
  }
}

// Flies what is now, and keeps it for a reload.
function changed(typed = window.event?.timeStamp ?? performance.now()) {
  state.keep();
  document.body.dataset.phase = "flying";
  by("undo").toggleAttribute("disabled", state.versions.past.length === 0);
  by("redo").toggleAttribute("disabled", state.versions.future.length === 0);
  const none = state.versions.sets.length === 0;
  by("save").toggleAttribute("disabled", none);
  by("changes").textContent = none ? "" : rows.words(state.versions.sets);
  rows.show(state.rows, state.compared);
  pilot.changed(typed);
}

/** Looks at the file now and then. @param {number} [wait] ms until then */
function watch(wait = WATCH) {
  clearTimeout(watching);
  watching = setTimeout(async () => {
    if (document.hidden || pilot.stopped) return watch();
    try {
      const { changed: other } = await room.look(state.digest);
      if (other) return open();
    } catch (error) {
      return failed(error);
    }
    watch();
  }, wait);
}

/** Puts a version into the file. @param {import("./types").Sets} sets */
async function save(sets) {
  const done = await saved(sets);
  if (done === "open") return open();
  if (Array.isArray(done)) return wrong(done);
  if (done) {
    state.sources = form.show(done.form);
    say(`Saved: ${rows.words(sets)}`);
    changed();
  }
}

function pin() {
  state.pin(rows.named(state.versions.sets), numberNow());
  changed();
}

function print() {
  const chosen = state.rows.filter((row) => row.printed).map(({ name, sets }) => ({ name, sets }));
  room.print({ digest: state.digest, sets: state.versions.sets, rows: chosen }).catch(failed);
}

/** @param {boolean} back */
function turn(back) {
  if (!(back ? state.versions.undo() : state.versions.redo())) return;
  turned = true;
  changed();
}

form.listen((path, value, gesture) => {
  if (state.set([[path, value]], gesture)) changed();
}, () => state.versions.ended());
handles.listen((sets, gesture) => {
  if (state.set(sets, gesture)) changed();
}, () => {
  state.versions.ended();
  pilot.changed();
});
rows.listen((deed, row, change) => {
  const sets = state.rows[row]?.sets ?? [];
  if (deed === "save") save(sets);
  else if (state.deed(deed, row, change)) {
    turned ||= deed === "show";
    changed();
  }
});
/** @type {Record<string, () => void>} */
const buttons = { undo: () => turn(true), redo: () => turn(false), pin, save: () => save(state.versions.sets), print, room: () => room.room(!document.body.classList.contains("room")) };
for (const [id, pressed] of Object.entries(buttons)) by(id).addEventListener("click", pressed);
addEventListener("keydown", (event) => {
  const key = event.key.toLowerCase();
  const command = event.ctrlKey || event.metaKey;
  if (key === "escape" && document.body.classList.contains("room")) room.room(false);
  if (!command || !["z", "y", "p", "s"].includes(key)) return;
  event.preventDefault();
  if (key === "p") print();
  else if (key === "s") save(state.versions.sets);
  else turn(key === "z" && !event.shiftKey);
});
addEventListener("hashchange", () => takeToken() && open());
document.addEventListener("visibilitychange", () => watch(0));
new ResizeObserver(() => handles.again()).observe(by("setup"));
takeToken();
open();
