// A page on the screen: accessibility, whether it fits its window, and that it
// fetches nothing.

import { evaluated } from "./browser.mjs";

const DESK = 1280;
const PHONE = 360;

// The faults of the page in a tab; `axe` is the text of axe-core.
export async function onScreen(tab, axe) {
  await sized(tab, DESK);
  await evaluated(tab, `${axe};0`);
  const found = await evaluated(tab, `(${rules})()`);
  for (const width of [DESK, PHONE]) {
    await sized(tab, width);
    const wide = await evaluated(tab, "document.documentElement.scrollWidth");
    if (wide > width) found.push(`${wide} px wide in a window of ${width} px`);
  }
  await tab.send("Emulation.clearDeviceMetricsOverride");
  return found;
}

function sized(tab, width) {
  const metrics = { width, height: 1000, deviceScaleFactor: 1, mobile: false };
  return tab.send("Emulation.setDeviceMetricsOverride", metrics);
}

// Runs inside the browser: the accessibility rules that are broken.
async function rules() {
  const { violations, passes } = await window.axe.run();
  const found = violations.map(({ id, help, nodes }) => {
    const where = nodes.map((node) => node.html.slice(0, 120)).slice(0, 3);
    return `${id}: ${help}: ${where.join(" | ")}`;
  });
  const fetched = performance.getEntriesByType("resource").map(({ name }) => name);
  const outside = fetched.filter((name) => !name.startsWith("data:") && !name.endsWith("/favicon.ico"));
  if (outside.length > 0) found.push(`fetches ${outside.slice(0, 3).join(", ")}`);
  if (passes.length < 10) found.push(`only ${passes.length} rules had anything to look at`);
  return found;
}
