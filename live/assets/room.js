// For the room: the answer large enough to be read from five metres, and the page
// on paper.

import { asked, ask } from "./api.js";
import { by, read } from "./dom.js";

/** Turns the view for the room on or off. @param {boolean} on */
export function room(on) {
  document.body.classList.toggle("room", on);
  by("room").setAttribute("aria-pressed", String(on));
  if (on) document.documentElement.requestFullscreen?.().catch(() => {});
  else if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
}

/**
 * Prints the page of a version, with the rows that belong on it.
 * @param {object} question
 */
export async function print(question) {
  const answer = await ask("/api/page", question);
  if (!answer.ok) throw new Error(`the page: ${answer.status}`);
  const html = await answer.text();
  // Its style is handed over as a sheet: written into the page it would be refused.
  const styles = /<style>([^]*?)<\/style>/g;
  const page = read(html.replace(styles, ""));
  const sheet = new CSSStyleSheet({ media: "print" });
  sheet.replaceSync([...html.matchAll(styles)].map(([, style]) => style).join("\n"));
  const paper = by("paper");
  paper.replaceChildren(...page.body.childNodes);
  document.adoptedStyleSheets = [sheet];
  document.body.classList.add("on-paper");
  addEventListener("afterprint", () => {
    document.body.classList.remove("on-paper");
    document.adoptedStyleSheets = [];
    paper.replaceChildren();
  }, { once: true });
  window.print();
}

/** Whether the program is there, and what the file is now. @param {string} digest */
export async function look(digest) {
  const { said } = await asked("/api/file", { digest });
  return /** @type {{ digest: string, changed: boolean }} */ (said);
}
