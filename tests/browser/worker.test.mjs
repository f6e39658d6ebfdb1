// The compiled program as a worker, without the page: it speaks first, it answers, and its end is seen.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { answer } from "./lib/command_line.mjs";
import { FEW, Planner } from "./lib/planner.mjs";
import { whenWorkersAsk } from "./lib/program.mjs";

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
    watch.expect(/page_bg\.wasm|console error|exception/);
    await whenWorkersAsk(page, (route) => route.fulfill({ status: 404 }));
    await page.goto(siteUrl);
    const { error } = await firstHeard(page);
    assert.notEqual(error, undefined);
  }));

/** What the page answers, and which programs it and its workers loaded. */
async function answered(prepare) {
  const loaded = new Set();
  let digest;
  await withPage(async (page) => {
    page.context().on("request", (request) => {
      const [, name] = /pkg\/(.*\.wasm)$/.exec(request.url()) ?? [];
      if (name) loaded.add(name.replace(/-\w+\./, "."));
    });
    await prepare(page);
    const planner = new Planner(page);
    await planner.open();
    digest = await planner.digest();
    await planner.at("season-figure").waitFor();
  });
  return { loaded: [...loaded].sort(), digest };
}

test("a browser without vector instructions gets another program and the same digits", async () => {
  const usual = await answered(async () => {});
  assert.deepEqual(usual.loaded, ["apart.wasm", "page_bg.wasm"]);
  const without = await answered((page) =>
    page.route("**/vectors.js", async (route) => {
      const response = await route.fetch();
      await route.fulfill({ response, body: `WebAssembly.validate = () => false;\n${await response.text()}` });
    }),
  );
  assert.deepEqual(without.loaded, ["plain/apart.wasm", "plain/page_bg.wasm"]);
  assert.equal(without.digest, usual.digest);
  const told = await answer("meadow-beetles.json", FEW, 1);
  assert.equal(usual.digest, told.result_digest);
});
