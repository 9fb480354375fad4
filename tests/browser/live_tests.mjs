// The live page used in every way that it promises. Each test has a program of its
// own with a copy of `live.yaml`.

import { evaluated } from "./browser.mjs";
import { input } from "./live_page.mjs";

const pause = (ms) => new Promise((done) => setTimeout(done, ms));
const GAP = "target.stands.at";
const WIND = "air.wind.speed";
const TOWARDS = "air.wind.towards";
const low = `.field[data-key="${WIND}"] g.end[data-part="between.x"]`;
const changes = "document.getElementById('changes').textContent";
const CONTROL = 2;
const CONTROL_SHIFT = 10;

export const tests = {
  async "what is typed is flown"({ open, holds }) {
    const page = await open();
    const before = await page.number();
    await page.after(() => page.type(GAP, "", "4 m"));
    await page.settled();
    holds((await page.number()) !== before, `the number stays ${before}`);
    holds((await page.is(changes)).includes("4 m"), "the change is not said");
    holds((await page.value(GAP)) === "4 m", "the field lost what was typed");
    holds(await page.is(`document.activeElement === ${input(GAP)}`), "the field lost the focus");
  },

  async "every way to tell a number"({ open, holds }) {
    const page = await open();
    const form = `document.querySelector('.field[data-key="${TOWARDS}"] select.form')`;
    for (const [way, parts] of [["", 1], ["between", 2], ["triangle", 3], ["normal", 2], ["range", 2]]) {
      await page.after(() => page.is(`{ const at = ${form}; at.focus(); at.value = ${JSON.stringify(way)}; at.dispatchEvent(new Event("input", { bubbles: true })); }`));
      const fields = `document.querySelectorAll('.field[data-key="${TOWARDS}"] input.value').length`;
      await page.until(`${fields} === ${parts} && ${form}.value === "${way}"`, `${parts} fields of ${way || "exactly"}`);
      holds((await page.is(`${form}.value`)) === way, `${way} is not shown`);
      holds(await page.is(`${form} === document.activeElement`), `${way}: the focus is lost`);
    }
    await page.after(() => page.click(`.field[data-key="${TOWARDS}"] .unknown`));
    await page.until(`document.querySelector('.field[data-key="${TOWARDS}"]').dataset.kind === "unknown"`, "an unknown told apart");
    await page.until(`!document.querySelector("#wrong").textContent`, "no error");
  },

  async "an end is dragged"({ open, holds }) {
    const page = await open();
    const puts = await page.is("window.puts");
    let during;
    await page.drag(low, [-25, 0], async () => { during = await page.is("window.puts"); });
    holds(during > puts, "no number came while it was dragged");
    await page.settled();
    const value = await page.value(WIND, "between.x");
    holds(parseFloat(value) < 14 && value.endsWith(" m/s"), `the end is at ${value}`);
    holds((await page.value(WIND, "between.y")) === "24 m/s", "the other end has moved");
    await page.press("z", CONTROL);
    await page.until(`${input(WIND, "between.x")}.value === "14 m/s"`, "the drag undone in one");
  },

  async "a handle of the picture is dragged, and moved by key"({ open, holds }) {
    const page = await open();
    const handle = `#handles [id="handle-side-${GAP}"]`;
    const apart = () => page.is(`(() => { const [a, b] = ["setup", "handles"].map((id) => document.getElementById(id)); const [p, q] = [a.querySelector("svg"), b].map((at) => at.getBoundingClientRect()); return Math.hypot(p.left - q.left, p.top - q.top) + Math.abs(p.width - q.width); })()`);
    await page.click("#room");
    await pause(300);
    holds((await apart()) < 2, "for the room the handles are not over the picture");
    await page.press("Escape");
    await pause(300);
    holds((await apart()) < 2, "the handles are not over the picture");
    const at = () => page.is(`(() => { const { left, width } = document.querySelector('${handle}').getBoundingClientRect(); return left + width / 2; })()`);
    const before = await at();
    let there;
    await page.drag(handle, [-30, 0], async () => {
      await page.until("window.puts > 2", "numbers");
      there = await at();
    });
    holds(Math.abs(there - before + 30) < 4, `dragged by -30 px it went by ${(there - before).toFixed(1)}`);
    await page.settled();
    const gap = parseFloat(await page.value(GAP));
    holds(gap < 14 && gap > 2, `the gap is ${gap} m`);
    await page.is(`document.querySelector('${handle}').focus()`);
    await page.after(() => page.press("ArrowRight"));
    await page.until(`parseFloat(${input(GAP)}.value) > ${gap}`, "a step by key");
    holds((await page.is(`document.querySelector('${handle}').getAttribute("aria-valuetext")`)) !== "", "nothing is said of it");
    await page.press("z", CONTROL);
    await page.press("z", CONTROL);
    await page.until(`${input(GAP)}.value === "14 m"`, "undone in two");
    const height = `#handles [id="handle-side-release.blown.height"]`;
    await page.drag(height, [0, -12]);
    await page.until(`parseFloat(${input("release.blown.height", "triangle.x")}.value) > 6 && parseFloat(${input("release.blown.height", "triangle.z")}.value) > 10`, "a spread moved as a whole");
  },

  async "ends do not pass each other"({ open, holds }) {
    const page = await open();
    await page.drag(low, [190, 0]);
    await page.until(`!document.querySelector("#wrong").textContent`, "no error");
    const [a, b] = [await page.value(WIND, "between.x"), await page.value(WIND, "between.y")].map(parseFloat);
    holds(a < b, `${a} is not below ${b}`);
  },

  async "the keyboard alone"({ open, holds }) {
    const page = await open();
    await page.is("document.body.focus()");
    let found = false;
    for (let i = 0; i < 120 && !found; i++) {
      await page.press("Tab");
      const { seen, end } = await page.is(`(() => { const at = document.activeElement; const touch = at.querySelector?.(".touch");
        const style = getComputedStyle(touch ?? at); const shown = touch ? style.stroke !== "none" : style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
        return { seen: shown, end: at.matches('${low}') }; })()`);
      if (!seen) holds(false, `nobody sees the focus at ${await page.is("document.activeElement.outerHTML.slice(0, 90)")}`);
      found = end;
    }
    holds(found, "Tab does not come to the end of the wind");
    await page.after(() => page.press("ArrowLeft"));
    const one = parseFloat(await page.value(WIND, "between.x"));
    await page.after(() => page.press("PageDown"));
    const ten = parseFloat(await page.value(WIND, "between.x"));
    holds(one < 14 && Math.abs(14 - ten - 11 * (14 - one)) < 1e-6, `one step to ${one}, ten more to ${ten}`);
    const said = await page.is("document.activeElement.getAttribute('aria-valuetext')");
    holds(said === (await page.value(WIND, "between.x")), `${said} is said`);
    await page.is(`${input(GAP)}.focus()`);
    await page.after(() => page.press("ArrowUp"));
    holds(parseFloat(await page.value(GAP)) > 14, "an arrow in a field does nothing");
  },

  async "undo and redo"({ open, holds }) {
    const page = await open();
    const before = await page.number();
    await page.after(() => page.type(GAP, "", "4 m"));
    await page.after(() => page.type("object.mass", "normal.mean", "60 lb"));
    await page.press("z", CONTROL);
    await page.until(`${input("object.mass", "normal.mean")}.value === "46 lb"`, "the mass undone");
    holds((await page.value(GAP)) === "4 m", "the first change went with the last");
    await page.press("z", CONTROL);
    await page.until(`${input(GAP)}.value === "14 m"`, "the gap undone");
    await page.settled();
    holds((await page.number()) === before, "the number is another than at first");
    await page.press("Z", CONTROL_SHIFT);
    await page.press("Z", CONTROL_SHIFT);
    await page.until(`${input("object.mass", "normal.mean")}.value === "60 lb"`, "both done again");
    holds(await page.is("document.getElementById('redo').disabled"), "there is more to do again");
  },

  async "what-ifs are kept, named, compared, shown and taken back"({ open, holds }) {
    const page = await open();
    for (const gap of ["4 m", "6 m", "8 m"]) {
      await page.after(() => page.type(GAP, "", gap));
      await page.settled();
      await page.click("#pin");
    }
    holds((await page.is("document.querySelectorAll('.row').length")) === 3, "not three rows");
    const name = "document.querySelector('[data-row=\"0\"] .row-name')";
    await page.is(`{ ${name}.focus(); ${name}.select(); }`);
    await page.tab.send("Input.insertText", { text: "Close by" });
    await page.after(() => page.click("[data-row='0'] [data-deed=show]"));
    await page.until(`${input(GAP)}.value === "4 m"`, "the first version shown");
    await page.after(() => page.click("[data-row='1'] [data-deed=against]"));
    await page.until("document.getElementById('difference').textContent.trim() !== ''", "the difference");
    await page.settled();
    const rows = await page.is("[...document.querySelectorAll('.row')].map((row) => [row.querySelector('.row-name').value, row.querySelector('.row-before').textContent, row.querySelector('.row-after').textContent])");
    holds(rows[0][0] === "Close by", "the name is lost");
    holds(rows.every(([, before, after]) => before === rows[0][1] && before !== "" && after !== ""), `before and after: ${JSON.stringify(rows)}`);
    await page.click("[data-row='2'] [data-deed=drop]");
    holds((await page.is("document.querySelectorAll('.row').length")) === 2, "a row is not taken back");
  },

  async "what is printed is the page, with the what-ifs"({ open, holds }) {
    const page = await open();
    await page.after(() => page.type(GAP, "", "6 m"));
    await page.settled();
    await page.click("#pin");
    await page.is("window.print = () => { const paper = document.getElementById('paper'); window.printed = [paper.innerHTML.length, paper.textContent, document.adoptedStyleSheets.length, document.body.className]; }");
    await page.click("#print");
    await page.until("window.printed", "the page");
    const [length, words, sheets, how] = await page.is("window.printed");
    holds(length > 20_000 && words.includes("Where the claim breaks"), "the page is not whole");
    holds(words.includes("at 6 m"), "the what-if is not on it");
    holds(sheets === 1 && how.includes("on-paper"), "the page has no style of its own");
    await page.is("dispatchEvent(new Event('afterprint'))");
    holds((await page.is("document.getElementById('paper').innerHTML")) === "", "the page stays");
  },

  async "a reload finds everything again"({ open, holds }) {
    const page = await open();
    await page.after(() => page.type(GAP, "", "6 m"));
    await page.settled();
    await page.click("#pin");
    const before = await page.number();
    holds((await page.is("location.hash")) === "", "the token stays in the address");
    await page.go(await page.is("location.href"));
    await page.until(`${input(GAP)}.value === "6 m"`, "what was typed");
    await page.settled();
    holds((await page.number()) === before, "another number");
    holds((await page.is("document.querySelectorAll('.row').length")) === 1, "the row is lost");
    await page.press("z", CONTROL);
    await page.until(`${input(GAP)}.value === "14 m"`, "undone after a reload");
  },

  async "saving changes one value of the file, and can be undone"({ served, open, holds }) {
    const page = await open();
    await page.after(() => page.type(GAP, "", "9 m"));
    await page.press("s", CONTROL);
    await page.until("document.getElementById('said').textContent.startsWith('Saved')", "that it was saved");
    holds(served.text() === served.original.replace("stands: {at: 14 m}", "stands: {at: 9 m}"), `the file holds ${served.text()}`);
    holds((await page.is(changes)) === "", "it still says that something is changed");
    await page.press("z", CONTROL);
    await page.until(`${input(GAP)}.value === "14 m"`, "undone after saving");
    holds((await page.is(changes)).includes("14 m"), "the undone change is not said");
  },

  async "a key that was not written is added"({ served, open, holds }) {
    const page = await open();
    const key = "target.stands.left";
    await page.after(() => page.type(key, "", "2 m"));
    await page.press("s", CONTROL);
    await page.until("document.getElementById('said').textContent.startsWith('Saved')", "that it was saved");
    holds(served.text().includes("left: 2 m"), `the file holds ${served.text()}`);
    holds((await page.value(key)) === "2 m", "the form does not have it");
  },

  async "two tabs"({ open, holds }) {
    const [one, other] = [await open(), await open()];
    await one.front();
    await one.after(() => one.type(GAP, "", "5 m"));
    await other.front();
    await other.after(() => other.type("object.mass", "normal.mean", "60 lb"));
    holds((await other.value(GAP)) === "14 m", "one tab writes in the other");
    await one.front();
    await one.press("s", CONTROL);
    await one.until("document.getElementById('said').textContent.startsWith('Saved')", "that it was saved");
    await other.front();
    await other.until(`${input(GAP)}.value === "5 m"`, "what the other tab saved");
    await other.until(`${input("object.mass", "normal.mean")}.value === "60 lb"`, "its own change");
  },

  async "the file is changed outside"({ served, open, holds }) {
    const page = await open();
    await page.after(() => page.type("object.mass", "normal.mean", "60 lb"));
    served.write(served.text().replace("at: 14 m", "at: 7 m"));
    await page.until(`${input(GAP)}.value === "7 m"`, "the file's gap");
    await page.until(`${input("object.mass", "normal.mean")}.value === "60 lb"`, "what was typed");
    holds(!(await page.is("document.getElementById('question').open")), "asks without need");
  },

  async "a clash is asked about"({ served, open, holds }) {
    for (const [answer, left] of [["ours", "5 m"], ["theirs", "8 m"]]) {
      served.write(served.original);
      const page = await open();
      await page.after(() => page.type(GAP, "", "5 m"));
      served.write(served.text().replace("at: 14 m", "at: 8 m"));
      await page.until("document.getElementById('question').open", "the question");
      const asked = await page.is("document.querySelector('#question .sides').innerText");
      holds(asked.includes("8 m") && asked.includes("5 m"), `asks about ${asked}`);
      await page.click(`#question button[value=${answer}]`);
      await page.until(`${input(GAP)}.value === "${left}"`, `${answer} kept`);
      holds(served.text().includes("at: 8 m"), "the file was written");
    }
  },

  async "saving over another's change is refused"({ served, open, holds }) {
    const page = await open();
    await page.after(() => page.type(GAP, "", "5 m"));
    const theirs = served.text().replace("mean: 46 lb", "mean: 50 lb");
    served.write(theirs);
    await page.press("s", CONTROL);
    await pause(3500);
    holds(served.text() === theirs, "the other's change was written over");
    holds((await page.value(GAP)) === "5 m", "what was typed is lost");
  },

  async "wrong, and right again"({ open, holds }) {
    const page = await open();
    await page.type(GAP, "", "14 furlongs");
    await page.until(`!document.querySelector('.field[data-key="${GAP}"] .problem').hidden`, "the error at its field");
    holds(/\d/.test(await page.number()), "the last good number is gone");
    await page.until("parseFloat(getComputedStyle(document.getElementById('chance')).opacity) < 0.6", "the old number grey");
    holds((await page.is(`${input(GAP)}.getAttribute("aria-invalid")`)) === "true", "the field is not marked for those who listen");
    await page.after(() => page.type(GAP, "", "12 m"));
    await page.until(`document.querySelector('.field[data-key="${GAP}"] .problem').hidden && !document.body.classList.contains("wrong")`, "right again");
  },

  async "a broken file is said, and taken up once it is mended"({ served, open, holds }) {
    const page = await open();
    served.write(served.original.replace("at: 14 m", "at: far"));
    await page.until("document.body.classList.contains('wrong')", "that the file is wrong");
    holds((await page.is("document.getElementById('wrong').textContent")) !== "", "not said why");
    served.write(served.original.replace("at: 14 m", "at: 6 m"));
    await page.until(`${input(GAP)}.value === "6 m" && !document.body.classList.contains("wrong")`, "the mended file");
  },

  async "the program ends and is started again"({ served, open, holds }) {
    const page = await open();
    await page.after(() => page.type(GAP, "", "5 m"));
    await served.kill();
    await page.until("document.body.classList.contains('gone')", "that the program is gone");
    await page.type("object.mass", "normal.mean", "60 lb");
    await served.begin();
    await page.until("/started anew/.test(document.getElementById('said').textContent)", "that it was started anew");
    await page.tab.send("Page.navigate", { url: served.address });
    await page.until(`!document.body.classList.contains("gone") && ${input(GAP)}?.value === "5 m"`, "it goes on");
    await page.until(`${input("object.mass", "normal.mean")}.value === "60 lb"`, "what was typed while it was gone");
    await page.settled();
    const { code, after } = await served.kill("SIGINT");
    holds(after < 2000, `Ctrl-C took ${after.toFixed(0)} ms with a page open, and ended with ${code}`);
  },

  async "a slow machine"({ open, holds }) {
    const page = await open();
    await page.tab.send("Emulation.setCPUThrottlingRate", { rate: 6 });
    await page.type(GAP, "", "11.25 m");
    await page.drag(low, [-20, 0]);
    await page.tab.send("Emulation.setCPUThrottlingRate", { rate: 1 });
    await page.settled();
    const slow = await page.number();
    await page.go(await page.is("location.href"));
    await page.settled();
    holds((await page.number()) === slow, "the number is not that of what was typed last");
  },

  async "everybody can use it, at every width"({ open, holds, axe }) {
    for (const size of [[390, 844], [1280, 800], [1920, 1080]]) {
      const page = await open(size);
      await page.after(() => page.type(GAP, "", "6 m"));
      await page.settled();
      await page.click("#pin");
      for (const room of [false, true]) {
        if (room) await page.click("#room");
        const where = `${size[0]} px${room ? ", for the room" : ""}`;
        const wide = await page.is("document.documentElement.scrollWidth");
        holds(wide <= size[0], `${wide} px wide at ${where}`);
        await evaluated(page.tab, `${axe};0`);
        const found = await page.is(`axe.run().then(({ violations, passes }) => [passes.length, violations.map(({ id, help, nodes }) => id + ": " + help + ": " + nodes.slice(0, 3).map((node) => node.html.slice(0, 140)).join(" | "))])`);
        holds(found[0] >= 10, "axe had nothing to look at");
        for (const what of found[1]) holds(false, `${where}: ${what}`);
        if (room) {
          const size = await page.is("parseFloat(getComputedStyle(document.querySelector('#chance .number')).fontSize)");
          holds(size >= 60, `the number is ${size} px high at ${where}`);
        }
      }
    }
  },

  async "targets are large enough"({ open, holds }) {
    const page = await open();
    await page.settled();
    const small = await page.is(`[...document.querySelectorAll("button, select, input:not([type=checkbox]), g.end .touch, .handle .touch")].filter((at) => at.getClientRects().length > 0).map((at) => [at.outerHTML.slice(0, 80), at.getBoundingClientRect()]).filter(([, { width, height }]) => width < 23.5 || height < 23.5).map(([html, { width, height }]) => html + " " + width + " by " + height)`);
    for (const one of small) holds(false, one);
  },

  async "how long it takes"({ open, holds }) {
    const page = await open();
    await page.settled();
    await page.is("performance.clearMeasures()");
    const texts = Array.from({ length: 30 }, (_, i) => `${10 + (i % 9)}.${i % 7} m/s`);
    for (const text of texts) {
      await page.is(`{ const at = ${input(WIND, "between.x")}; at.focus(); at.select(); }`);
      await page.after(() => page.tab.send("Input.insertText", { text }));
      await pause(350);
    }
    const of = (name) => times.filter(([other]) => other === `longodds ${name}`).map(([, ms]) => ms).sort((a, b) => a - b);
    for (const gap of ["13 m", "12 m", "11 m", "10 m", "9 m"]) {
      await page.after(() => page.type(GAP, "", gap));
      await page.settled();
    }
    const times = await page.is(`performance.getEntriesByType("measure").map(({ name, duration }) => [name, duration])`);
    for (const name of ["chance first", "flights first", "chance settled", "done"]) {
      const all = of(name);
      const at = (share) => all[Math.min(all.length - 1, Math.floor(share * all.length))]?.toFixed(0);
      console.log(`from the key to the screen, ${name}: ${at(0.5)} ms in the median, ${at(0.95)} ms at 95 % (${all.length} keys)`);
    }
    holds(of("chance first").length >= 25, "too few first numbers");
  },
};
