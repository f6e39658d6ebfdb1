// The compiled worker, without the page: it speaks first, it answers, and its end is seen.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";

/** Starts a worker in the page and returns the first thing heard of it. */
function firstHeard(page) {
  return page.evaluate(
    () =>
      new Promise((resolve) => {
        const worker = new Worker("worker.js", { type: "module" });
        globalThis.workerUnderTest = worker;
        worker.onmessage = ({ data }) => resolve({ bytes: data instanceof Uint8Array });
        worker.onerror = (event) => resolve({ error: event.message ?? "" });
      }),
  );
}

test("a worker speaks first, in bytes", () =>
  withPage(async (page) => {
    await page.goto(siteUrl);
    assert.deepEqual(await firstHeard(page), { bytes: true });
  }));

test("a worker that is sent something else than bytes ends with the reason", () =>
  withPage(async (page, watch) => {
    watch.expect(/not a Uint8Array/);
    await page.goto(siteUrl);
    await firstHeard(page);
    const reason = await page.evaluate(
      () =>
        new Promise((resolve) => {
          globalThis.workerUnderTest.onerror = (event) => resolve(event.message);
          globalThis.workerUnderTest.postMessage("no bytes");
        }),
    );
    assert.match(reason, /not a Uint8Array/);
  }));

test("a worker that cannot be loaded is seen to end", () =>
  withPage(async (page, watch) => {
    watch.expect(/worker\w*_bg\.wasm|console error|exception/);
    await page.route("**/worker*_bg.wasm", (route) => route.fulfill({ status: 404 }));
    await page.goto(siteUrl);
    const { error } = await firstHeard(page);
    assert.notEqual(error, undefined);
  }));
