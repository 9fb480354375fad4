// Looks at pages in a headless browser, all in one go:
//
//   node check.mjs PAGE.html ... FRAME.svg ...
//
// No violation of the accessibility rules (axe-core: WCAG 2.2 A and AA, and
// the common practices); nothing wider than the window on a desk or a phone;
// nothing fetched; every link and table reached by Tab, and seen to be; and
// no chart cut between two sheets when printed to PDF on A4 or Letter, and the
// first one on the first sheet of A4.
// A frame as SVG must be the picture that the PNG of its name beside it is.
// At the end the first page with a chart is spoiled on purpose: a check that
// then finds nothing is itself a fault.
//
// CHROMIUM names the browser, if it is not found by itself.

import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { start } from "./browser.mjs";
import { byKeyboard } from "./keys.mjs";
import { onPaper } from "./paper.mjs";
import { same } from "./same.mjs";
import { onScreen } from "./screen.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const frames = process.argv.slice(2).filter((file) => file.endsWith(".svg"));
const files = process.argv.slice(2).filter((file) => !frames.includes(file));
if (files.length === 0) {
  console.error("name the pages to look at");
  process.exit(2);
}

// Each way to cut a chart, and what has to be said of it: charts higher than a
// sheet, charts that may be parted, and such with something in them to part.
const SPOILT = [
  ["header{padding-top:200mm!important}", /^first chart only on sheet 2 of A4/],
  ["svg.chart{max-height:none!important;height:400mm!important}", /^cut on A4/, /^cut on Letter/],
  ["figure{break-inside:auto!important}", /^may be cut/],
  ["figure{break-inside:auto!important}figure::before{content:'';display:block;height:70mm}", /^cut on A4/, /^cut on Letter/],
];

const pages = files.map((file) => ({ name: basename(file), html: readFileSync(file, "utf8") }));
const charted = pages.find(({ html }) => html.includes("<figure"));
const spoilt = SPOILT.map(([style]) => charted?.html.replace("</head>", () => `<style>${style}</style></head>`));
const axe = readFileSync(join(here, "node_modules/axe-core/axe.min.js"), "utf8");

// `/3` is the fourth page, `/spoilt-0` the first spoilt one; `/frame-0.svg` and
// `.png` are the first frame.
const server = createServer((request, response) => {
  const name = request.url.slice(1);
  const [, frame, kind] = name.match(/^frame-(\d+)\.(svg|png)$/) ?? [];
  if (frame) {
    const type = { svg: "image/svg+xml", png: "image/png" }[kind];
    response.writeHead(200, { "content-type": type }).end(readFileSync(frames[frame].replace(/svg$/, kind)));
    return;
  }
  const html = name.startsWith("spoilt-") ? spoilt[Number(name.slice(7))] : pages[Number(name)]?.html;
  response.writeHead(html ? 200 : 404, { "content-type": "text/html; charset=utf-8" }).end(html);
});
await new Promise((done) => server.listen(0, "127.0.0.1", done));
const address = `http://127.0.0.1:${server.address().port}`;

const late = setTimeout(() => {
  console.error("the browser gave no answer in a quarter of an hour");
  process.exit(1);
}, 900_000);

async function look(browser, path, ...checks) {
  const tab = await browser.open(`${address}/${path}`);
  const found = [];
  for (const check of checks) found.push(...(await check(tab)));
  await tab.close();
  return found;
}

async function everything(browser) {
  const found = [];
  for (const [i, { name }] of pages.entries()) {
    const faults = await look(browser, i, (tab) => onScreen(tab, axe), byKeyboard, onPaper);
    found.push(...faults.map((fault) => `${name}: ${fault}`));
  }
  for (const [i, file] of frames.entries()) {
    const pair = [`/frame-${i}.svg`, `/frame-${i}.png`];
    const faults = await look(browser, 0, (tab) => same(tab, pair));
    found.push(...faults.map((fault) => `${basename(file)}: ${fault}`));
  }
  for (const [i, [style, ...wanted]] of (charted ? SPOILT : []).entries()) {
    const faults = await look(browser, `spoilt-${i}`, onPaper);
    for (const one of wanted.filter((one) => !faults.some((fault) => one.test(fault)))) {
      found.push(`the check is blind: with ${style} nothing is ${one}`);
    }
  }
  return found;
}

let browser;
let found;
try {
  browser = await start(process.env.CHROMIUM ? [process.env.CHROMIUM] : ["chromium", "chromium-browser", "google-chrome"]);
  found = await everything(browser);
} catch (error) {
  found = [`harness: ${error.stack ?? error}`];
}
clearTimeout(late);
for (const sentence of found) console.error(sentence);
console.log(`${pages.length} pages and ${frames.length} frames looked at, ${found.length} faults`);
process.exitCode = found.length === 0 ? 0 : 1;
server.closeAllConnections();
server.close();
await browser?.end();
