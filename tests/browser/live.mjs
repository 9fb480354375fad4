// Uses the live page in a headless browser, as a user would:
//
//   node live.mjs PROGRAM DEMO.yaml [NAME ...]
//
// Types, drags, uses the keyboard alone, undoes, has two tabs, reloads, changes the
// file under it, ends the program and starts it again, makes the claim wrong and
// right again, slows the machine down, and looks at the page by the accessibility
// rules in three widths. Prints how long the numbers take from the key to the
// screen. With names only the tests whose names hold one of them.

import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { start } from "./browser.mjs";
import { broken } from "./live_laws.mjs";
import { Page, Served } from "./live_page.mjs";
import { tests } from "./live_tests.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const [program, demo, ...names] = process.argv.slice(2);
if (!demo) {
  console.error("name the program and a scenario");
  process.exit(2);
}
const late = setTimeout(() => {
  console.error("the browser gave no answer in ten minutes");
  process.exit(1);
}, 600_000);

const faults = [];
let tried = 0;

async function one(browser, [name, test]) {
  const served = await Served.start(resolve(program), resolve(demo));
  const pages = [];
  const open = async (size) => {
    const page = await Page.open(browser, served.address, size);
    pages.push(page);
    return page;
  };
  const holds = (is, what) => is || faults.push(`${name}: ${what}`);
  try {
    await test({ served, open, holds, axe });
    for (const page of pages) for (const what of await page.violations()) holds(false, what);
  } catch (error) {
    faults.push(`${name}: ${error.stack ?? error}`);
  }
  for (const page of pages) await page.close().catch(() => {});
  await served.end();
  tried += 1;
}

const axe = readFileSync(join(here, "node_modules/axe-core/axe.min.js"), "utf8");
let browser;
try {
  const types = spawnSync(process.execPath, [join(here, "node_modules/typescript/bin/tsc"), "-p", here], { encoding: "utf8" });
  if (types.status !== 0) faults.push(`types: ${types.stdout}${types.stderr}`);
  faults.push(...broken());
  browser = await start(process.env.CHROMIUM ? [process.env.CHROMIUM] : ["chromium", "chromium-browser", "google-chrome"]);
  const chosen = Object.entries(tests).filter(([name]) => names.length === 0 || names.some((part) => name.includes(part)));
  for (const test of chosen) await one(browser, test);
} catch (error) {
  faults.push(`harness: ${error.stack ?? error}`);
}
clearTimeout(late);
for (const sentence of faults) console.error(sentence);
console.log(`the live page used in ${tried} ways, ${faults.length} faults`);
process.exitCode = faults.length === 0 && tried > 0 ? 0 : 1;
await browser?.end();
