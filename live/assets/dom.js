// The page's elements. HTML and SVG come ready from the program and are put in
// place here, by one policy; words are set as text.

/** @type {any} */
const types = /** @type {any} */ (globalThis).trustedTypes;
const policy = types?.createPolicy("longodds", { createHTML: (/** @type {string} */ html) => html })
  ?? { createHTML: (/** @type {string} */ html) => html };

/** @param {string} id */
export function by(id) {
  const element = document.getElementById(id);
  if (!element) throw new Error(`no element ${id}`);
  return element;
}

/**
 * The first element of a kind within another; it has to be there.
 * @param {ParentNode} root @param {string} selector @returns {any}
 */
export function one(root, selector) {
  const element = root.querySelector(selector);
  if (!element) throw new Error(`no element ${selector}`);
  return element;
}

/** @param {Element} element @param {string} html made by the program */
export function put(element, html) {
  element.innerHTML = policy.createHTML(html);
}

/** What HTML of the program holds, outside the page. @param {string} html */
export function apart(html) {
  const template = document.createElement("template");
  put(template, html);
  return template.content;
}

/** @param {string} html a whole document @returns {Document} */
export function read(html) {
  return new DOMParser().parseFromString(policy.createHTML(html), "text/html");
}

/** A copy of what a template holds. @param {string} id @returns {HTMLElement} */
export function copy(id) {
  const template = /** @type {HTMLTemplateElement} */ (by(id));
  const first = /** @type {DocumentFragment} */ (template.content.cloneNode(true)).firstElementChild;
  return /** @type {HTMLElement} */ (first);
}

/** Words with names in backticks, as nodes. @param {string} words */
export function prose(words) {
  return words.split("`").map((part, i) => {
    if (i % 2 === 0) return document.createTextNode(part);
    const code = document.createElement("code");
    code.textContent = part;
    return code;
  });
}

/** Says something to those who watch and those who listen. @param {string} words */
export function say(words) {
  by("said").textContent = words;
}

/**
 * Asks in a box over the page; gives the value of the button that was pressed,
 * an empty text where it was closed.
 * @param {string} question @param {{ name: string, theirs: string, ours: string }[]} sides @param {[string, string][]} buttons
 * @returns {Promise<string>}
 */
export function question(question, sides, buttons) {
  const box = /** @type {HTMLDialogElement} */ (by("question"));
  one(box, "h2").textContent = question;
  const list = one(box, ".sides");
  list.replaceChildren(...sides.map(({ name, theirs, ours }) => {
    const side = copy("side");
    one(side, ".who").textContent = name;
    one(side, ".theirs").textContent = theirs;
    one(side, ".ours").textContent = ours;
    return side;
  }));
  one(box, "form").replaceChildren(...buttons.map(([value, words]) => {
    const button = document.createElement("button");
    Object.assign(button, { value, textContent: words });
    return button;
  }));
  box.returnValue = "";
  box.showModal();
  return new Promise((done) => box.addEventListener("close", () => done(box.returnValue), { once: true }));
}
