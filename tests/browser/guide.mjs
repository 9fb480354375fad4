// Takes the pictures of the guide to the live page (scenarios/LIVE.md) by doing what
// it says, from a new claim to three what-ifs compared:
//
//   node guide.mjs PROGRAM FOLDER

import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { start } from "./browser.mjs";
import { Page, Served } from "./live_page.mjs";

const [program, folder] = process.argv.slice(2);
if (!folder) {
  console.error("name the program and a folder for the pictures");
  process.exit(2);
}
mkdirSync(folder, { recursive: true });
const shot = (page, name, scale = 0.75) => page.picture(join(folder, `${name}.png`), scale);

const place = mkdtempSync(join(tmpdir(), "longodds-guide-"));
const claim = join(place, "claim.yaml");
spawnSync(resolve(program), ["new", claim], { stdio: "ignore" });
const browser = await start(process.env.CHROMIUM ? [process.env.CHROMIUM] : ["chromium", "chromium-browser", "google-chrome"]);
const served = await Served.start(resolve(program), claim);
const from = performance.now();
try {
  const page = await Page.open(browser, served.address, [1280, 760]);
  await shot(page, "opened");
  // Three what-ifs, each kept.
  const kept = async (name, deed) => {
    await page.after(deed);
    await page.settled();
    await page.click("#pin");
    const row = (await page.is("document.querySelectorAll('.row').length")) - 1;
    await page.is(`{ const at = document.querySelector('[data-row="${row}"] .row-name'); at.focus(); at.select(); }`);
    await page.tab.send("Input.insertText", { text: name });
  };
  await kept("From the second lift", () => page.drag(`#handles [id="handle-side-release.dropped.height"]`, [0, -30]));
  await page.after(() => page.press("z", 2));
  await kept("Half the plaster", async () => {
    await page.type("object.mass", "between.x", "4 kg");
    await page.type("object.mass", "between.y", "6 kg");
  });
  await page.after(() => page.click("#undo"));
  await page.after(() => page.click("#undo"));
  await kept("Farther from the wall", () => page.type("target.stands.at", "", "1.5 m"));
  await page.is("scrollTo(0, 0); document.activeElement.blur()");
  await shot(page, "changed");
  await page.after(() => page.click("[data-row='0'] [data-deed=against]"));
  await page.settled();
  await page.is("document.activeElement.blur(); document.getElementById('what-ifs').scrollIntoView()");
  await shot(page, "what-ifs");
  await page.sized(1600, 900);
  await page.is("scrollTo(0, 0)");
  await page.click("#room");
  await new Promise((done) => setTimeout(done, 500));
  await page.is("document.activeElement.blur(); scrollTo(0, 0)");
  await shot(page, "room", 0.6);
  console.log(`the steps of the guide, done by a program, took ${((performance.now() - from) / 1000).toFixed(0)} s`);
} finally {
  await browser.end();
  await served.end();
  rmSync(place, { recursive: true, force: true });
}
