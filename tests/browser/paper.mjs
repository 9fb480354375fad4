// A page on paper: printed to PDF, is every chart whole on one sheet, and is the
// first one on the first sheet of A4, not after one half empty?
//
// Each figure is given a link at its top left and one at its bottom right
// corner, which take no room; a PDF says on which sheet and where a link is.

import { evaluated } from "./browser.mjs";

// Width and height in inches. Source: ISO 216; ANSI/ASME Y14.1.
const SHEETS = { A4: [210 / 25.4, 297 / 25.4], Letter: [8.5, 11] };
const POINTS_PER_INCH = 72;

// The faults of the page in a tab, on every size of paper.
export async function onPaper(tab) {
  await tab.send("Emulation.setEmulatedMedia", { media: "print" });
  const figures = await evaluated(tab, `(${pinned})()`);
  const titles = figures.map(({ title }) => title);
  const found = figures.filter(({ whole }) => !whole).map(({ title }) => `may be cut: ${title}`);
  for (const [name, [width, height]] of Object.entries(SHEETS)) {
    const { data } = await tab.send("Page.printToPDF", { paperWidth: width, paperHeight: height });
    const pins = links(Buffer.from(data, "base64").toString("latin1"));
    const sheet = { name, width: width * POINTS_PER_INCH, height: height * POINTS_PER_INCH };
    const first = pins.get("top-0")?.[0]?.sheet;
    if (name === "A4" && first > 0) found.push(`first chart only on sheet ${first + 1} of ${name}: ${titles[0]}`);
    titles.forEach((title, i) => found.push(...cut(sheet, title, pins.get(`top-${i}`), pins.get(`end-${i}`))));
  }
  return found;
}

// Runs inside the browser: pins down the figures, tells their titles, and which
// of them the style keeps whole.
function pinned() {
  return [...document.querySelectorAll("figure")].map((figure, i) => {
    const { position, breakInside } = getComputedStyle(figure);
    if (position === "static") figure.style.position = "relative";
    for (const [name, place] of [["top", "left:0;top:0"], ["end", "right:0;bottom:0"]]) {
      const link = document.createElement("a");
      link.href = `pin:${name}-${i}`;
      link.style.cssText = `position:absolute;${place};width:3px;height:3px`;
      figure.append(link);
    }
    const title = figure.querySelector("title")?.textContent ?? `figure ${i + 1}`;
    return { title, whole: breakInside === "avoid" };
  });
}

// Where the pins came to lie: sheet, and left, bottom, right, top in points.
//
// Source: ISO 32000-1, 7.7.3 (the sheets in their order), 12.5.2 (annotations).
function links(pdf) {
  const objects = new Map();
  for (const [, id, body] of pdf.matchAll(/(?:^|[\r\n])(\d+) 0 obj\b([\s\S]*?)endobj/g)) objects.set(id, body);
  const kids = (id) => {
    const list = objects.get(id)?.match(/\/Kids\s*\[([^\]]*)\]/);
    return list ? references(list[1]).flatMap(kids) : [id];
  };
  const root = [...objects.values()].find((body) => /\/Type\s*\/Catalog\b/.test(body));
  const sheets = kids(root.match(/\/Pages\s+(\d+) 0 R/)[1]);
  const pins = new Map();
  sheets.forEach((id, sheet) => {
    const list = objects.get(id).match(/\/Annots\s*\[([^\]]*)\]/);
    for (const annotation of references(list?.[1] ?? "")) {
      const body = objects.get(annotation);
      const name = body.match(/\/URI\s*\(pin:([^)]*)\)/)?.[1];
      const rect = body.match(/\/Rect\s*\[([^\]]*)\]/)?.[1].trim().split(/\s+/).map(Number);
      if (name && rect) pins.set(name, [...(pins.get(name) ?? []), { sheet, rect }]);
    }
  });
  return pins;
}

function references(text) {
  return [...text.matchAll(/(\d+) 0 R/g)].map(([, id]) => id);
}

// What is wrong with one figure on one size of paper.
function cut(sheet, title, tops = [], ends = []) {
  if (tops.length !== 1 || ends.length !== 1) {
    return [`is on ${sheet.name} ${tops.length} times at its top and ${ends.length} at its end: ${title}`];
  }
  const [top, end] = [tops[0], ends[0]];
  if (top.sheet !== end.sheet) return [`cut on ${sheet.name} between sheets ${top.sheet + 1} and ${end.sheet + 1}: ${title}`];
  const inside = top.rect[0] >= 0 && end.rect[2] <= sheet.width && end.rect[1] >= 0 && top.rect[3] <= sheet.height;
  if (!inside) return [`leaves the sheet of ${sheet.name}: ${title}`];
  // One above the other: a chart that is as high as a sheet and starts on it.
  return end.rect[3] > top.rect[1] + 1 ? [`upside down on ${sheet.name}: ${title}`] : [];
}
