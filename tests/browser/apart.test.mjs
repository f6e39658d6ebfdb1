// What is not needed at first comes in a file of its own: after the answer, or when it is asked for; and where it does
// not come, that is said and it is tried again.
import { test } from "node:test";
import assert from "node:assert/strict";
import { brotliCompressSync } from "node:zlib";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { withHost } from "./lib/host.mjs";
import { Planner, demo, withPlanner } from "./lib/planner.mjs";

const APART = /\/pkg\/apart[^/]*\.wasm$/;

/** Holds the file back until the function given is called. */
async function hold(page) {
  let release;
  const held = new Promise((done) => (release = done));
  await page.route(APART, async (route) => {
    await held;
    await route.continue();
  });
  return release;
}

test("the first answer does not wait for what is apart", () =>
  withPage(async (page) => {
    const asked = [];
    page.on("request", (request) => asked.push(new URL(request.url()).pathname));
    const release = await hold(page);
    const planner = new Planner(page);
    await planner.begin();
    await planner.finished();
    assert.ok(asked.some((path) => APART.test(path)), "nobody asked for it");
    assert.equal(await planner.at("part-season").getAttribute("open"), null);
    await page.locator("#part-season > summary").click();
    await page.locator("#part-season").getByText("Loading this part").waitFor();
    release();
    await planner.at("season-figure").waitFor();
  }));

test("where it does not come the page says so, loses nothing, and tries again", () =>
  withPage(async (page, watch) => {
    watch.expect(/ERR_FAILED|Failed to fetch/);
    let fails = true;
    await page.route(APART, (route) => (fails ? route.abort() : route.continue()));
    const planner = new Planner(page);
    await planner.begin();
    await planner.finished();
    await planner.type("plan.sites", "13");
    await page.locator("#part-season > summary").click();
    const season = page.locator("#part-season");
    await season.getByText("could not be loaded").waitFor();
    await season.getByRole("button", { name: "Try again" }).click();
    await season.getByText("could not be loaded").waitFor();
    // A search needs it too.
    await planner.at("find-least").click();
    await page.locator(".notice-bad", { hasText: "could not be loaded" }).waitFor();
    assert.equal(await planner.at("plan.sites").inputValue(), "13");
    fails = false;
    await season.getByRole("button", { name: "Try again" }).click();
    await planner.at("season-figure").waitFor();
    await planner.at("find-least").click();
    await planner.at("least-plan").waitFor({ timeout: 120_000 });
  }));

test("a host that does not know the type of compiled programs gives all of it", () =>
  withHost((host) => {
    const use = async (page, watch) => {
      watch.expect(/does not serve Wasm with `application\/wasm`/);
      host.forget("application/wasm");
      const planner = new Planner(page, host.url);
      await planner.begin();
      await planner.finished();
      await page.locator("#part-season > summary").click();
      await planner.at("season-figure").waitFor();
    };
    return withPage(use, {}, [], host.url);
  }));

for (const [what, ask, answer] of [
  [
    "a pilot's table",
    async (planner) => planner.openFile("pilot.csv", await demo("meadow-beetles-pilot.csv"), "open-pilot"),
    ".notice:has-text('pilot.csv')",
  ],
  ["a demo with a list of species", (planner) => planner.choose("demo", { index: 10 }), "#list-verdict"],
  ["another question", (planner) => planner.choose("question-kind", "absence"), "#question\\.effect\\.absence\\.catch_per_trap_week"],
]) {
  test(`${what} waits for it`, () =>
    withPage(async (page) => {
      const release = await hold(page);
      const planner = new Planner(page);
      await planner.begin();
      await planner.finished();
      await ask(planner);
      assert.equal(await page.locator(answer).count(), 0);
      release();
      await page.locator(answer).first().waitFor({ timeout: 60_000 });
    }));
}

test("a part that was open at the last visit is drawn with what was refused in it", () =>
  withPlanner(async (planner) => {
    await planner.enter("limits.years", "many");
    await planner.problem("limits.years").waitFor();
    await planner.page.reload();
    await planner.unfold("limits.years");
    assert.equal(await planner.at("limits.years").inputValue(), "many");
  }));

/** Most kB of all that is loaded before the first answer, packed by brotli as hosts do. */
const MOST = 720;

test("what the first answer waits for weighs no more than it did", () =>
  withPage(async (page) => {
    const asked = new Set();
    page.context().on("request", (request) => asked.add(request.url()));
    await page.goto(siteUrl);
    await page.locator("#strip-power .note", { hasText: "surveys" }).waitFor();
    const files = [...asked].filter((url) => !APART.test(url));
    assert.ok(files.some((url) => url.endsWith("/pkg/page_bg.wasm")), files.join("\n"));
    const packed = await Promise.all(
      files.map(async (url) => brotliCompressSync(Buffer.from(await (await fetch(url)).arrayBuffer())).length),
    );
    const sum = packed.reduce((all, one) => all + one, 0) / 1000;
    assert.ok(sum < MOST, `${sum.toFixed(0)} kB:\n${files.map((url, i) => `${packed[i]} ${url}`).join("\n")}`);
    console.log(`first load: ${sum.toFixed(0)} kB`);
  }));
