// Looks at pages in a headless browser, all in one go:
//
//   node check.mjs PAGE.html ...
//
// No violation of the accessibility rules (axe-core: WCAG 2.2 A and AA, and
// the common practices); nothing wider than the window on a desk or a phone;
// and no chart that a sheet of A4 or Letter would cut.
//
// CHROMIUM names the browser, if it is not found by itself.

import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = fileURLToPath(new URL(".", import.meta.url));
const files = process.argv.slice(2);
if (files.length === 0) {
  console.error("name the pages to look at");
  process.exit(2);
}

// Runs inside the browser; tells what it finds as a list of sentences.
async function look(pages, axe) {
  const frame = (html, width) =>
    new Promise((done) => {
      const iframe = document.createElement("iframe");
      iframe.style.width = width;
      iframe.style.height = "1000px";
      iframe.onload = () => done(iframe);
      iframe.srcdoc = html;
      document.body.append(iframe);
    });
  const found = [];
  for (const { name, html } of pages) {
    const screen = await frame(html.replace("</head>", () => `<script>${axe}</script></head>`), "1280px");
    const { violations, passes } = await screen.contentWindow.axe.run();
    for (const { id, help, nodes } of violations) {
      found.push(`${name}: ${id}: ${help}: ${nodes.map((n) => n.html.slice(0, 120)).slice(0, 3).join(" | ")}`);
    }
    if (passes.length < 10) found.push(`${name}: only ${passes.length} rules had anything to look at`);
    screen.remove();
    for (const width of [1280, 360]) {
      const window = await frame(html, `${width}px`);
      const wide = window.contentDocument.documentElement.scrollWidth;
      if (wide > width) found.push(`${name}: ${wide} px wide in a window of ${width} px`);
      window.remove();
    }
    // The printed page: as wide as the sheet less its margins, with the rules
    // for print made those for all.
    const printed = html.replace("@media print", "@media all");
    for (const [sheet, width, height] of [["A4", 210, 297], ["Letter", 215.9, 279.4]]) {
      const paper = await frame(printed, `${width - 28}mm`);
      const millimetre = paper.getBoundingClientRect().width / (width - 28);
      for (const figure of paper.contentDocument.querySelectorAll("figure")) {
        const high = figure.getBoundingClientRect().height / millimetre;
        const whole = paper.contentWindow.getComputedStyle(figure).breakInside;
        const title = figure.querySelector("title")?.textContent;
        if (high > height - 28) found.push(`${name}: ${high.toFixed(0)} mm high on ${sheet}: ${title}`);
        if (whole !== "avoid") found.push(`${name}: may be cut on ${sheet}: ${title}`);
      }
      paper.remove();
    }
  }
  return found;
}

const pages = files.map((file) => ({ name: basename(file), html: readFileSync(file, "utf8") }));
const axe = readFileSync(join(here, "node_modules/axe-core/axe.min.js"), "utf8");
const data = (value) => JSON.stringify(value).replaceAll("<", "\\u003c");
// No end of an element may stand in a script's own text.
const source = String(look).replaceAll("</", "<\\/");
const harness = `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>harness</title><body><script>
const look = ${source};
const tell = (found) => fetch("/found", { method: "POST", body: JSON.stringify(found) });
look(${data(pages)}, ${data(axe)}).then(tell, (error) => tell(["harness: " + error]));
</script></body></html>`;

// The browser asks this program for the harness and tells it what it found.
const profile = mkdtempSync(join(tmpdir(), "longodds-browser-"));
const server = createServer((request, response) => {
  if (request.method !== "POST") {
    response.writeHead(200, { "content-type": "text/html; charset=utf-8" }).end(harness);
    return;
  }
  let body = "";
  request.on("data", (part) => (body += part));
  request.on("end", () => {
    response.end();
    finish(JSON.parse(body));
  });
});
server.listen(0, "127.0.0.1", () => start(browsers()));

function browsers() {
  return process.env.CHROMIUM ? [process.env.CHROMIUM] : ["chromium", "chromium-browser", "google-chrome"];
}

let browser;
function start([name, ...others]) {
  if (!name) {
    finish(["no Chromium was found: install one, or name it in CHROMIUM"]);
    return;
  }
  const address = `http://127.0.0.1:${server.address().port}/`;
  const flags = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--no-proxy-server", "--remote-debugging-port=0",
    `--user-data-dir=${profile}`, "--window-size=1600,1200", address,
  ];
  browser = spawn(name, flags, { stdio: "ignore" });
  browser.on("error", () => start(others));
  browser.on("exit", (code) => {
    if (code) finish([`${name} ended with ${code} before it had looked`]);
  });
}
const late = setTimeout(() => finish(["the browser gave no answer in five minutes"]), 300_000);

function finish(found) {
  clearTimeout(late);
  for (const sentence of found) console.error(sentence);
  console.log(`${pages.length} pages looked at, ${found.length} faults`);
  process.exitCode = found.length === 0 ? 0 : 1;
  server.closeAllConnections();
  server.close();
  const tidy = () => rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  if (!browser || browser.exitCode !== null) {
    tidy();
    return;
  }
  browser.removeAllListeners("exit");
  // Its helpers write a moment longer than it lives itself.
  browser.on("exit", () => setTimeout(tidy, 500));
  browser.kill();
}
