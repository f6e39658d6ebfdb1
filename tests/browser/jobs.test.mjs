// Long jobs: cancelled, overtaken, and finished in spite of workers that break down.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { whenWorkersAsk } from "./lib/program.mjs";
import { FEW, Planner, withPlanner } from "./lib/planner.mjs";

const LONG = 20_000;

/** The digest of a page on which nothing went wrong. */
async function undisturbed(edit, replicates = FEW) {
  let digest;
  await withPlanner(async (planner) => {
    await edit?.(planner);
    await planner.simulate(replicates);
    await planner.answered();
    digest = await planner.digest();
  });
  return digest;
}

test("a long run can be cancelled, and begun again", () =>
  withPlanner(async (planner) => {
    await planner.simulate(LONG);
    await planner.state("running").waitFor();
    await planner.page.locator("#progress", { hasText: /answer: [1-9]\d* of 40000/ }).waitFor();
    await planner.at("cancel").click();
    await planner.state("cancelled").waitFor();
    const text = await planner.text("progress");
    assert.match(text, /^Cancelled after [1-9]\d* of 40000 simulated surveys of the answer/);
    // Cancelled is cancelled: nothing goes on counting.
    const note = await planner.page.locator("#strip-power .note").textContent();
    await planner.page.waitForTimeout(600);
    assert.equal(await planner.text("progress"), text);
    assert.equal(await planner.page.locator("#strip-power .note").textContent(), note);

    await planner.page.getByRole("button", { name: "Compute again" }).click();
    await planner.state("running").waitFor();
    await planner.simulate(FEW);
    await planner.answered();
  }));

test("a long run can be paused and resumed, and the digits stay the same", async () => {
  const replicates = 1000;
  const wanted = await undisturbed(undefined, replicates);
  await withPlanner(async (planner) => {
    await planner.simulate(replicates);
    await planner.page.locator("#progress", { hasText: /answer: [1-9]\d* of 2000/ }).waitFor();
    await planner.at("pause").click();
    await planner.state("paused").waitFor();
    // What was under way is finished and counted; then nothing goes on.
    await planner.page.waitForTimeout(1500);
    const text = await planner.text("progress");
    assert.match(text, /paused after [1-9]\d* of 2000 simulated surveys; what is computed so far stays/);
    const note = await planner.page.locator("#strip-power .note").textContent();
    assert.match(note, /[1-9]\d* surveys/);
    await planner.page.waitForTimeout(800);
    assert.equal(await planner.text("progress"), text);
    assert.equal(await planner.page.locator("#strip-power .note").textContent(), note);
    await planner.at("resume").click();
    await planner.answered();
    assert.equal(await planner.digest(), wanted);
  });
});

test("a paused run is dropped by a newer edit, which is computed", () =>
  withPlanner(async (planner) => {
    await planner.simulate(LONG);
    await planner.at("pause").click();
    await planner.state("paused").waitFor();
    await planner.simulate(FEW);
    await planner.answered();
    await planner.finished();
  }));

test("a page in the background goes on", () =>
  withPage(async (page) => {
    const planner = new Planner(page);
    await page.goto(planner.url);
    await planner.simulate(300);
    const other = await page.context().newPage();
    await other.bringToFront();
    await planner.answered();
  }));

test("a newer edit drops the older job", async () => {
  const wanted = await undisturbed((planner) => planner.type("plan.sites", "14"));
  await withPlanner(async (planner) => {
    await planner.simulate(LONG);
    for (const sites of ["30", "22", "18", "14"]) {
      await planner.type("plan.sites", sites);
      await planner.page.waitForTimeout(150);
    }
    await planner.simulate(FEW);
    await planner.answered();
    assert.equal(await planner.digest(), wanted);
  });
});

test("a worker that breaks down is replaced, and the digits stay the same", async () => {
  const replicates = 1000;
  const wanted = await undisturbed(undefined, replicates);
  await withPlanner(async (planner, watch) => {
    watch.expect(/made up/);
    await planner.simulate(replicates);
    await planner.page.locator("#progress", { hasText: /answer: [1-9]\d* of 2000/ }).waitFor();
    for (const worker of planner.page.workers()) {
      await worker.evaluate(() => {
        setTimeout(() => {
          throw new Error("made up");
        });
      });
    }
    await planner.page.getByRole("alert").filter({ hasText: "stopped" }).waitFor();
    assert.match(await planner.page.getByRole("alert").textContent(), /made up.*nothing is lost/);
    await planner.answered();
    assert.equal(await planner.digest(), wanted);
  });
});

test("a worker that cannot be loaded at first is tried again", async () => {
  const wanted = await undisturbed();
  await withPage(async (page, watch) => {
    watch.expect(/page_bg\.wasm|console error|exception/);
    let asked = 0;
    await whenWorkersAsk(page, (route) =>
      asked++ === 0 ? route.fulfill({ status: 503 }) : route.fallback(),
    );
    const planner = new Planner(page);
    await planner.open();
    assert.ok(asked > 1);
    assert.equal(await planner.digest(), wanted);
  });
});

test("workers that cannot be loaded are not tried for ever, but again when asked", async () => {
  const wanted = await undisturbed();
  await withPage(async (page, watch) => {
    watch.expect(/page_bg\.wasm|console error|exception/);
    let [asked, broken] = [0, true];
    await whenWorkersAsk(page, (route) => {
      asked++;
      return broken ? route.fulfill({ status: 404 }) : route.fallback();
    });
    const planner = new Planner(page);
    await page.goto(siteUrl);
    await page.getByRole("alert").filter({ hasText: "could not be started" }).waitFor();
    await planner.state("cancelled").waitFor();
    const then = asked;
    await page.waitForTimeout(500);
    assert.equal(asked, then);

    broken = false;
    await page.getByRole("button", { name: "Compute again" }).click();
    await planner.simulate(FEW);
    await planner.answered();
    assert.equal(await planner.digest(), wanted);
  });
});
