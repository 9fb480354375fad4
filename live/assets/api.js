// Speaks with the program: one POST a question, its answer as JSON or as lines of
// JSON that come while flights are flown.

const HEADER = "x-longodds-token";
const KEPT = "longodds token";

// The program is not there, or does not know this page any more.
export class Gone extends Error {
  /** @param {string} message @param {boolean} anew */
  constructor(message, anew) {
    super(message);
    this.anew = anew;
  }
}

// Takes the token out of the address, where it came with, and keeps it for this
// tab alone. Says whether there was one.
export function takeToken() {
  const token = location.hash.slice(1).replace(/^token=/, "");
  if (token === "") return false;
  sessionStorage.setItem(KEPT, token);
  history.replaceState(null, "", location.pathname);
  return true;
}

/**
 * The answer to a question.
 * @param {string} path @param {unknown} question @param {AbortSignal} [signal]
 */
export async function ask(path, question, signal) {
  const headers = { "content-type": "application/json", [HEADER]: sessionStorage.getItem(KEPT) ?? "" };
  const body = JSON.stringify(question);
  /** @type {Response} */
  let answer;
  try {
    answer = await fetch(path, { method: "POST", headers, body, cache: "no-store", ...(signal ? { signal } : {}) });
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new Gone("The program does not answer.", false);
  }
  if (answer.status === 401) throw new Gone("The program was started anew: open the address that it printed.", true);
  return answer;
}

/**
 * The answer to a question as JSON.
 * @param {string} path @param {unknown} question
 */
export async function asked(path, question) {
  const answer = await ask(path, question);
  if (!answer.ok && ![409, 422].includes(answer.status)) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return { status: answer.status, said: await answer.json() };
}

/**
 * The lines of an answer as they come.
 * @param {string} path @param {unknown} question @param {AbortSignal} signal
 * @returns {AsyncGenerator<import("./types").Line>}
 */
export async function* lines(path, question, signal) {
  const answer = await ask(path, question, signal);
  if (!answer.ok || !answer.body) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  const reader = answer.body.getReader();
  const decoder = new TextDecoder();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read().catch((error) => {
      if (signal.aborted) throw error;
      throw new Gone("The program does not answer.", false);
    });
    if (done) break;
    const parts = (rest + decoder.decode(value, { stream: true })).split("\n");
    rest = parts.pop() ?? "";
    for (const part of parts) if (part !== "") yield JSON.parse(part);
  }
}
