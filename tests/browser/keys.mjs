// A page by the keyboard alone: Tab comes to every link and every part that
// scrolls, in the order of the page, and shows where it is.

import { evaluated } from "./browser.mjs";

// The faults of the page in a tab.
export async function byKeyboard(tab) {
  const wanted = await evaluated(tab, `(${stops})()`);
  const found = [];
  for (const [i, name] of wanted.entries()) {
    for (const type of ["keyDown", "keyUp"]) {
      await tab.send("Input.dispatchKeyEvent", { type, key: "Tab", code: "Tab", windowsVirtualKeyCode: 9 });
    }
    const { place, shown } = await evaluated(tab, `(${focused})()`);
    if (place !== i) return [...found, `Tab ${i + 1} comes to stop ${place}, not to ${i}: ${name}`];
    if (!shown) found.push(`nobody sees that Tab has come to ${name}`);
  }
  return found;
}

// Runs inside the browser: what Tab has to come to, in order.
function stops() {
  window.stops = [...document.querySelectorAll("a[href], [tabindex='0']")];
  document.activeElement?.blur();
  window.scrollTo(0, 0);
  return window.stops.map((stop) => stop.outerHTML.slice(0, 80));
}

// Runs inside the browser: which stop has the focus, and whether that shows.
function focused() {
  const at = document.activeElement;
  const { outlineStyle, outlineWidth } = getComputedStyle(at);
  const { width, height, left } = at.getBoundingClientRect();
  const shown = outlineStyle !== "none" && parseFloat(outlineWidth) >= 2 && width > 0 && height > 0 && left >= 0;
  return { place: window.stops.indexOf(at), shown };
}
