// A headless browser, spoken to in its own protocol (the Chrome DevTools
// Protocol) over a pipe: messages of JSON, each ended by a zero byte.

import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const FLAGS = [
  "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
  "--no-proxy-server", "--remote-debugging-pipe", "--window-size=1600,1200",
];

// Starts the first of the names that there is.
export async function start(names) {
  for (const name of names) {
    const browser = await tried(name);
    if (browser) return browser;
  }
  throw new Error("no Chromium was found: install one, or name it in CHROMIUM");
}

function tried(name) {
  const profile = mkdtempSync(join(tmpdir(), "longodds-browser-"));
  const flags = [...FLAGS, `--user-data-dir=${profile}`, "about:blank"];
  const process = spawn(name, flags, { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] });
  return new Promise((done) => {
    process.on("error", () => {
      rmSync(profile, { recursive: true, force: true });
      done(undefined);
    });
    process.on("spawn", () => done(new Browser(process, profile)));
  });
}

class Browser {
  #process;
  #profile;
  #last = 0;
  #waiting = new Map();
  #heard = [];

  constructor(process, profile) {
    this.#process = process;
    this.#profile = profile;
    // Writing to a browser that has gone fails here; its end is told below.
    process.stdio[3].on("error", () => {});
    let rest = "";
    process.stdio[4].setEncoding("utf8").on("data", (part) => {
      const messages = (rest + part).split("\0");
      rest = messages.pop();
      messages.forEach((message) => this.#take(JSON.parse(message)));
    });
    process.on("exit", (code) => {
      for (const { failed } of this.#waiting.values()) failed(new Error(`the browser ended with ${code}`));
    });
  }

  #take({ id, result, error, method, params, sessionId }) {
    if (id === undefined) {
      this.#heard = this.#heard.filter((one) => !one(method, params, sessionId));
      return;
    }
    const { done, failed } = this.#waiting.get(id);
    this.#waiting.delete(id);
    if (error) failed(new Error(error.message));
    else done(result);
  }

  // Sends a command and gives its answer.
  send(method, params = {}, sessionId = undefined) {
    const id = ++this.#last;
    const answer = new Promise((done, failed) => this.#waiting.set(id, { done, failed }));
    this.#process.stdio[3].write(`${JSON.stringify({ id, method, params, sessionId })}\0`);
    return answer;
  }

  // A tab at an address, once it has loaded.
  async open(url) {
    const { targetId } = await this.send("Target.createTarget", { url: "about:blank" });
    const { sessionId } = await this.send("Target.attachToTarget", { targetId, flatten: true });
    const send = (method, params) => this.send(method, params, sessionId);
    await send("Page.enable");
    const loaded = new Promise((done) =>
      this.#heard.push((method, _, session) => {
        const mine = method === "Page.loadEventFired" && session === sessionId;
        if (mine) done();
        return mine;
      }));
    await send("Page.navigate", { url });
    await loaded;
    return { send, close: () => this.send("Target.closeTarget", { targetId }) };
  }

  // Ends it and clears up after it; its helpers write a moment longer than it
  // lives itself.
  async end() {
    if (this.#process.exitCode === null) {
      const gone = new Promise((done) => this.#process.on("exit", done));
      this.#process.kill();
      await gone;
      await new Promise((done) => setTimeout(done, 500));
    }
    rmSync(this.#profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}

// What an expression comes to in a tab; promises are waited for.
export async function evaluated(tab, expression) {
  const asked = { expression, awaitPromise: true, returnByValue: true };
  const { result, exceptionDetails } = await tab.send("Runtime.evaluate", asked);
  if (exceptionDetails) {
    throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
  }
  return result.value;
}
