// The live page as a user has it: a program that serves a claim of its own, and a
// tab to type, drag and press keys in.

import { spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { evaluated } from "./browser.mjs";

const PATIENCE = 30_000;
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

// A program serving a copy of a demo.
export class Served {
  static async start(program, demo) {
    const folder = mkdtempSync(join(tmpdir(), "longodds-live-"));
    const file = join(folder, basename(demo));
    copyFileSync(demo, file);
    const served = Object.assign(new Served(), { program, folder, file, original: readFileSync(file, "utf8"), port: "0" });
    await served.begin();
    return served;
  }

  // Starts it, at the port that it had before.
  async begin() {
    const flags = ["live", this.file, "--port", this.port];
    this.process = spawn(this.program, flags, { stdio: ["ignore", "pipe", "pipe"], cwd: dirname(this.file) });
    let said = "";
    const address = await new Promise((done, failed) => {
      const hear = (part) => {
        said += part;
        const found = said.match(/http:\/\/(127\.0\.0\.1|localhost):(\d+)\/\S*/);
        if (found) done(found[0]);
      };
      this.process.stdout.setEncoding("utf8").on("data", hear);
      this.process.stderr.setEncoding("utf8").on("data", hear);
      this.process.on("exit", (code) => failed(new Error(`the program ended with ${code}: ${said}`)));
    });
    this.address = address;
    this.port = new URL(address).port;
  }

  text() {
    return readFileSync(this.file, "utf8");
  }

  write(text) {
    writeFileSync(this.file, text);
  }

  // Ends it without asking.
  async kill(signal = "SIGKILL") {
    if (this.process.exitCode !== null || this.process.signalCode !== null) return undefined;
    const gone = new Promise((done) => this.process.on("exit", (code, by) => done(code ?? by)));
    const from = performance.now();
    this.process.kill(signal);
    const code = await gone;
    return { code, after: performance.now() - from };
  }

  async end() {
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

// A tab with the page in it.
export class Page {
  static async open(browser, address, size = [1280, 900]) {
    const page = new Page();
    page.tab = await browser.open("about:blank");
    await page.sized(...size);
    await page.tab.send("Page.addScriptToEvaluateOnNewDocument", { source: `(${watched})()` });
    await page.go(address);
    return page;
  }

  async go(address) {
    await this.tab.send("Page.navigate", { url: address });
    await this.until("document.querySelector('#form .field') !== null", "the form");
    await this.settled();
  }

  sized(width, height) {
    const metrics = { width, height, deviceScaleFactor: 1, mobile: false };
    return this.tab.send("Emulation.setDeviceMetricsOverride", metrics);
  }

  is(expression) {
    return evaluated(this.tab, expression);
  }

  // Waits until something holds.
  async until(expression, what = expression, patience = PATIENCE) {
    const from = performance.now();
    while (performance.now() - from < patience) {
      const holds = await this.is(`Boolean(${expression})`).catch(() => false);
      if (holds) return performance.now() - from;
      await pause(15);
    }
    const page = await this.is("['said', 'wrong', 'changes'].map((id) => document.getElementById(id).textContent).join('; ')").catch(() => "");
    throw new Error(`waited in vain for ${what}; the page says: ${page}`);
  }

  // Waits for a number that has settled.
  settled() {
    return this.until("document.body.dataset.phase === 'done'", "the last number");
  }

  // Waits for the first number after something was done.
  async after(deed) {
    const before = await this.is("window.puts");
    await deed();
    await this.until(`window.puts > ${before}`, "a number");
  }

  number() {
    return this.is("document.querySelector('#chance .number').textContent.trim()");
  }

  // Types into a field from its beginning.
  async type(key, part, text) {
    await this.is(`{ const at = ${input(key, part)}; for (let up = at; up; up = up.parentElement) if (up.matches("details")) up.open = true; at.focus(); at.select(); }`);
    for (const letter of text) await this.tab.send("Input.insertText", { text: letter });
  }

  value(key, part = "") {
    return this.is(`${input(key, part)}.value`);
  }

  async press(key, modifiers = 0, code = key) {
    const codes = { Tab: 9, Escape: 27, Enter: 13, End: 35, Home: 36, ArrowLeft: 37, ArrowUp: 38, ArrowRight: 39, ArrowDown: 40, PageUp: 33, PageDown: 34, z: 90, Z: 90, s: 83 };
    const text = key === "Enter" ? { text: "\r" } : {};
    for (const type of ["keyDown", "keyUp"]) {
      await this.tab.send("Input.dispatchKeyEvent", { type, key, code, modifiers, windowsVirtualKeyCode: codes[key], ...(type === "keyDown" ? text : {}) });
    }
  }

  async click(selector) {
    const [x, y] = await this.is(`(${middle})(${JSON.stringify(selector)})`);
    for (const type of ["mousePressed", "mouseReleased"]) {
      await this.tab.send("Input.dispatchMouseEvent", { type, x, y, button: "left", clickCount: 1 });
    }
  }

  // Drags an element by so many px, in steps.
  async drag(selector, by, between = async () => {}) {
    const [x, y] = await this.is(`(${middle})(${JSON.stringify(selector)})`);
    const mouse = (type, at) => this.tab.send("Input.dispatchMouseEvent", { type, x: x + at[0], y: y + at[1], button: "left", buttons: 1, clickCount: 1 });
    await mouse("mousePressed", [0, 0]);
    for (let i = 1; i <= 20; i++) {
      await mouse("mouseMoved", [(by[0] * i) / 20, (by[1] * i) / 20]);
      await pause(16);
    }
    await between();
    await mouse("mouseReleased", by);
  }

  // Before all other tabs.
  front() {
    return this.tab.send("Page.bringToFront");
  }

  violations() {
    return this.is("window.violated");
  }

  // A picture of the window as PNG, so many times its size.
  async picture(file, scale = 1) {
    const [x, y, width, height] = await this.is("[scrollX, scrollY, innerWidth, innerHeight]");
    const { data } = await this.tab.send("Page.captureScreenshot", { format: "png", clip: { x, y, width, height, scale } });
    writeFileSync(file, Buffer.from(data, "base64"));
  }

  close() {
    return this.tab.close();
  }
}

export const input = (key, part = "") =>
  `document.querySelector('.field[data-key="${key}"] .value[data-part="${part}"]')`;

// Runs inside the browser before the page: what breaks its policy, what fails, and
// how many numbers were put on it.
function watched() {
  window.violated = [];
  window.puts = 0;
  addEventListener("securitypolicyviolation", (event) => window.violated.push(`${event.violatedDirective}: ${event.blockedURI} ${event.sample}`));
  addEventListener("error", (event) => window.violated.push(`error: ${event.message}`));
  addEventListener("unhandledrejection", (event) => window.violated.push(`rejected: ${event.reason}`));
  addEventListener("DOMContentLoaded", () => {
    const chance = document.getElementById("chance");
    if (chance) new MutationObserver(() => window.puts++).observe(chance, { childList: true });
  });
}

// Runs inside the browser: where an element's middle is, once it can be seen.
function middle(selector) {
  const element = document.querySelector(selector);
  if (!element) throw new Error(`no ${selector}`);
  for (let part = element; part; part = part.parentElement) if (part.matches("details")) part.open = true;
  element.scrollIntoView({ block: "center" });
  const { left, top, width, height } = element.getBoundingClientRect();
  return [left + width / 2, top + height / 2];
}
