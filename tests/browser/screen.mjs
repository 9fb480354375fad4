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
    found.push(...(await evaluated(tab, `(${unreadable})()`)).map((what) => `${what} in a window of ${width} px`));
  }
  await tab.send("Emulation.clearDeviceMetricsOverride");
  return found;
}

function sized(tab, width) {
  const metrics = { width, height: 1000, deviceScaleFactor: 1, mobile: false };
  return tab.send("Emulation.setDeviceMetricsOverride", metrics);
}

// Runs inside the browser: charts with type too small, tables with columns too
// narrow, titles cut off.
function unreadable() {
  const SMALLEST = 9; // px: common practice, no source
  const NARROWEST = 50;
  const found = [];
  for (const chart of document.querySelectorAll("svg.chart")) {
    const scale = chart.getBoundingClientRect().width / chart.viewBox.baseVal.width;
    const sizes = [...chart.querySelectorAll("text")].map((text) => parseFloat(text.getAttribute("font-size")));
    const least = scale * Math.min(...sizes);
    if (least < SMALLEST) found.push(`letters of ${least.toFixed(1)} px in ${chart.id || chart.querySelector("title")?.textContent}`);
  }
  for (const cell of document.querySelectorAll("td")) {
    const { width } = cell.getBoundingClientRect();
    if (width < NARROWEST && cell.textContent.length > 4) found.push(`a column of ${width.toFixed(0)} px: ${cell.textContent}`);
  }
  const shown = (element) => element.getClientRects().length > 0;
  for (const figure of document.querySelectorAll("figure")) {
    const [frame, chart] = [figure.querySelector(".wide"), figure.querySelector("svg.chart")];
    const scrolls = chart.getBoundingClientRect().width > frame.getBoundingClientRect().width + 1;
    if (scrolls !== shown(figure.querySelector(".over"))) found.push(`a title lost or told twice: ${frame.ariaLabel}`);
  }
  return found;
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
