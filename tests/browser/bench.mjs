// What a person waits for, measured in Chromium: `cargo xtask bench browser`. Nothing here passes or fails; the numbers
// are for people to read, and differ from computer to computer and with what else it does.
import { execFileSync } from "node:child_process";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { Planner } from "./lib/planner.mjs";
import { compiledMemory } from "./lib/memory.mjs";
import { setting } from "./lib/settings.mjs";
import { watchTasks } from "./lib/tasks.mjs";

/** The tasks, as bytes in hexadecimal, with what the same engine needs for them outside of a browser. */
function native() {
  return JSON.parse(execFileSync(setting("SPEED"), { encoding: "utf8" }));
}

/** Milliseconds a survey in a worker, the best of some rounds, and whether its answers are the native ones. */
function inWorker(page, { begin, tasks, surveys }, vectors) {
  return page.evaluate(
    async ({ begin, tasks, surveys, vectors }) => {
      const bytes = (hex) => Uint8Array.from(hex.match(/../g), (two) => parseInt(two, 16));
      const worker = new Worker(vectors ? "worker.js" : "check/worker-plain.js", { type: "module" });
      const heard = () =>
        new Promise((resolve, reject) => {
          worker.onmessage = ({ data }) => resolve(data);
          worker.onerror = ({ message }) => reject(new Error(message));
        });
      const ask = (message) => {
        const answer = heard();
        worker.postMessage(message);
        return answer;
      };
      await heard();
      await ask(bytes(begin));
      let best = Infinity;
      const digests = [];
      for (let round = 0; round < 8; round += 1) {
        const from = performance.now();
        const answers = [];
        for (const task of tasks) answers.push(await ask(bytes(task)));
        best = Math.min(best, (performance.now() - from) / surveys);
        if (round === 0) {
          for (const answer of answers) {
            const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", answer));
            digests.push([...hash].map((b) => b.toString(16).padStart(2, "0")).join(""));
          }
        }
      }
      worker.terminate();
      return { best, digests };
    },
    { begin, tasks, surveys, vectors },
  );
}

/** That task in words. */
const busy = ({ longest }) => `longest the page was busy: ${longest < 50 ? "below 50" : longest.toFixed(0)} ms`;

async function speeds() {
  await withPage(async (page, watch) => {
    // A picture opened by itself has the browser ask for an icon that no page of ours names.
    watch.expect(/favicon\.ico/);
    await page.goto(new URL("icon.svg", siteUrl).href);
    const told = native();
    for (const [name, job] of Object.entries(told)) {
      const plain = await inWorker(page, job, false);
      const simd = await inWorker(page, job, true);
      const same = [plain, simd].every(({ digests }) => digests.join() === job.digests.join());
      const line = [
        `native ${job.native.toFixed(3)} ms`,
        `WebAssembly ${plain.best.toFixed(3)} ms (x ${(plain.best / job.native).toFixed(2)})`,
        `with vector instructions ${simd.best.toFixed(3)} ms (x ${(simd.best / job.native).toFixed(2)})`,
      ];
      console.log(`${name}: ${line.join(", ")}; ${same ? "the same bits" : "BITS DIFFER"}`);
    }
  });
}

/** Milliseconds from a key in a field to the first power simulated for it. */
function firstNumber(page) {
  return page.evaluate(
    () =>
      new Promise((resolve) => {
        const field = document.getElementById("question.effect.decline.change_percent");
        const note = document.querySelector("#strip-power .note");
        const from = performance.now();
        const look = () => {
          const text = document.querySelector("#strip-power .note")?.textContent ?? "";
          const surveys = Number(/, (\d+) surveys/.exec(text)?.[1] ?? NaN);
          if (surveys > 0 && surveys < 1000) resolve(performance.now() - from);
          else requestAnimationFrame(look);
        };
        field.value = String(Number(field.value) + 1);
        field.dispatchEvent(new InputEvent("input", { bubbles: true }));
        requestAnimationFrame(look);
      }),
  );
}

/** Has the page compute its curve over an axis: the seconds that took, and its longest task of 50 ms or more. */
function curve(over) {
  return new Promise((resolve) => {
    globalThis.longestTask = 0;
    let started = false;
    const from = performance.now();
    const tick = setInterval(() => {
      const { state } = document.getElementById("progress").dataset;
      started ||= state === "running";
      if (!started || state !== "idle") return;
      const seconds = (performance.now() - from) / 1000;
      clearInterval(tick);
      setTimeout(() => resolve({ seconds, longest: globalThis.longestTask }), 100);
    }, 20);
    const axis = document.getElementById("axis");
    axis.value = over;
    axis.dispatchEvent(new Event("change", { bubbles: true }));
  });
}

async function waits() {
  await withPage(async (page) => {
    await watchTasks(page);
    const planner = new Planner(page);
    await planner.open();
    await planner.simulate(1000);
    await planner.finished();
    const first = [];
    for (let round = 0; round < 5; round += 1) {
      first.push(await firstNumber(page));
      await planner.finished();
    }
    console.log(`first simulated number after an edit: ${first.map((ms) => ms.toFixed(0)).join(", ")} ms`);
    // Plans of 10, 15, ... 60 sites: 385 in all, as many as in twelve plans of 5 to 60 less 5.
    await planner.type("plan.sites", "30");
    await planner.finished();
    for (const axis of ["sites", "sites", "traps", "weeks", "years"]) {
      const took = await page.evaluate(curve, axis);
      const points = await page.evaluate(() => document.querySelectorAll("#part-curve details tbody tr").length);
      console.log(
        `curve of ${points} plans over ${axis}, 1000 surveys in each of two worlds: ${took.seconds.toFixed(2)} s; ` +
          busy(took),
      );
    }
    const used = await compiledMemory(page);
    console.log(`compiled memory: page ${used.page / 1e6} MB, workers ${used.workers.map((b) => b / 1e6)} MB`);
  });
}

/** Has the page load a demo as a person would: seconds to its whole answer, and its longest task of 50 ms or more. */
function asked(label) {
  return new Promise((resolve) => {
    globalThis.longestTask = 0;
    const demos = document.getElementById("demo");
    demos.value = [...demos.options].find(({ text }) => text === label).value;
    const from = performance.now();
    let started = false;
    const look = () => {
      const { state } = document.getElementById("progress").dataset;
      started ||= state === "running";
      const whole = ["power", "alarm"].every((name) =>
        / 1000 surveys$/.test(document.querySelector(`#strip-${name} .note`)?.textContent ?? ""),
      );
      if (!started || !whole) return requestAnimationFrame(look);
      const seconds = (performance.now() - from) / 1000;
      setTimeout(() => resolve({ seconds, longest: globalThis.longestTask }), 200);
    };
    demos.dispatchEvent(new Event("change", { bubbles: true }));
    requestAnimationFrame(look);
  });
}

/** Each demo answered by 1000 surveys of each of its worlds, on the page as it is first seen. */
async function questions() {
  await withPage(async (page) => {
    await watchTasks(page);
    await page.goto(siteUrl);
    const planner = new Planner(page);
    await planner.answered();
    await planner.state("idle").waitFor();
    const labels = await page.evaluate(() => [...document.querySelectorAll("#demo optgroup:first-of-type option")].map((o) => o.text));
    // The first is shown already, so that it comes last.
    for (const label of [...labels.slice(1), labels[0]]) {
      const took = await page.evaluate(asked, label);
      console.log(`${label}: ${took.seconds.toFixed(2)} s; ${busy(took)}`);
      await planner.state("idle").waitFor({ timeout: 120_000 });
    }
  });
}

/** Has the page find the least plan: seconds to the first points of the frontier, and to all of them confirmed. */
function searched() {
  return new Promise((resolve) => {
    globalThis.longestTask = 0;
    const from = performance.now();
    let first;
    const look = () => {
      const now = (performance.now() - from) / 1000;
      if (document.querySelector("#least-figure svg")) first ??= now;
      const whole = document.querySelector("#least-plan[data-complete='true'], #least-none");
      if (!whole) return requestAnimationFrame(look);
      setTimeout(() => resolve({ first, whole: now, longest: globalThis.longestTask }), 200);
    };
    document.getElementById("find-least").click();
    requestAnimationFrame(look);
  });
}

/** The frontier of the first demo by 1000 surveys of each world of each plan. */
async function frontier() {
  await withPage(async (page) => {
    await watchTasks(page);
    await page.goto(siteUrl);
    const planner = new Planner(page);
    await planner.answered();
    await planner.unfold("find-least");
    await planner.state("idle").waitFor({ timeout: 120_000 });
    const took = await page.evaluate(searched);
    console.log(
      `least plan of the first demo: first points ${took.first.toFixed(2)} s, frontier confirmed ` +
        `${took.whole.toFixed(2)} s; ${busy(took)}`,
    );
  });
}

const parts = { speeds, questions, frontier, waits };
const wanted = (process.env.PARTS ?? Object.keys(parts).join()).split(",");
for (const name of wanted) await parts[name]();
