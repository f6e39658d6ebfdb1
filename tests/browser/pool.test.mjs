// The pool of workers in the page, with a worker made for the purpose.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";

/** Opens the page that holds a pool of two and hands `use` the means to drive it. */
function withPool(use, worker = "test-worker.js") {
  return withPage(async (page, watch) => {
    await page.goto(new URL(`check/pool.html?${worker}`, siteUrl).href);
    await page.locator("body[data-ready]").waitFor();
    await use({
      watch,
      tell: (command) =>
        page.evaluate(
          (detail) => window.dispatchEvent(new CustomEvent("pool", { detail })),
          command,
        ),
      heard: async (count) => {
        await page.locator("li").nth(count - 1).waitFor();
        // What must not come would come now.
        await page.waitForTimeout(200);
        return page.locator("li").allTextContents();
      },
    });
  });
}

const READY = ["message 0 [0]", "message 1 [0]"];

test("every worker is heard, and answers", () =>
  withPool(async ({ heard, tell }) => {
    assert.deepEqual((await heard(2)).sort(), READY);
    await tell("post 1 7");
    assert.deepEqual((await heard(3)).slice(2), ["message 1 [7]"]);
  }));

test("a worker that breaks down is reported once, stays silent, and can be restarted", () =>
  withPool(async ({ heard, tell, watch }) => {
    watch.expect(/made up/);
    await heard(2);
    await tell("post 0 2");
    const [died, ...more] = (await heard(3)).slice(2);
    assert.match(died, /^died 0 .*made up/);
    assert.deepEqual(more, []);

    await tell("post 0 7");
    assert.match((await heard(4))[3], /^died 0 .*after it had died/);

    await tell("restart 0");
    assert.deepEqual((await heard(5)).slice(4), ["message 0 [0]"]);
    await tell("post 0 7");
    assert.deepEqual((await heard(6)).slice(5), ["message 0 [7]"]);
  }));

test("what a worker had on the way when it was restarted is dropped", () =>
  withPool(async ({ heard, tell }) => {
    await heard(2);
    await tell("post 0 3");
    assert.deepEqual((await heard(4)).slice(2), ["message 0 [9]", "message 0 [0]"]);
  }));

test("a worker that posts something else than bytes is thrown away", () =>
  withPool(async ({ heard, tell }) => {
    await heard(2);
    await tell("post 1 4");
    assert.deepEqual((await heard(3)).slice(2), ["died 1 it posted something that is not bytes"]);
  }));

test("workers that cannot be loaded are reported, each once", () =>
  withPool(async ({ heard, watch }) => {
    watch.expect(/no-such-worker|console error/);
    const lines = (await heard(2)).sort();
    assert.equal(lines.length, 2);
    assert.match(lines[0], /^died 0 its script could not be loaded/);
    assert.match(lines[1], /^died 1 its script could not be loaded/);
  }, "no-such-worker.js"));
