// The page stands, by itself and undisturbed, and says so when it cannot.
import { test } from "node:test";
import assert from "node:assert/strict";
import { assertAccessible } from "./lib/axe.mjs";
import { siteUrl, withPage } from "./lib/browser.mjs";

test("the page loads from a sub-folder without a word in the console or a request elsewhere", () =>
  withPage(async (page) => {
    await page.goto(siteUrl);
    await page.getByRole("heading", { level: 1, name: "Leastcatch" }).waitFor();
    await page.locator("#boot-message").waitFor({ state: "hidden" });
    assert.equal(await page.locator("html").getAttribute("lang"), "en");
    assert.match(await page.title(), /^Leastcatch/);
  }));

test("the page has no barriers that axe knows of", () =>
  withPage(async (page) => {
    await page.goto(siteUrl);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await assertAccessible(page);
  }));

test("a page that cannot be loaded says so", () =>
  withPage(async (page, watch) => {
    watch.expect(/page_bg\.wasm/);
    watch.expect(/console error/);
    await page.route("**/page_bg.wasm", (route) => route.fulfill({ status: 404 }));
    await page.goto(siteUrl);
    await page.getByRole("alert").filter({ hasText: "could not be started" }).waitFor();
  }));

test("a browser without WebAssembly is told what it needs", () =>
  withPage(async (page) => {
    await page.addInitScript("delete globalThis.WebAssembly");
    await page.goto(siteUrl);
    await page.getByRole("alert").filter({ hasText: "needs WebAssembly" }).waitFor();
  }));

test("a browser without module workers is told what it needs", () =>
  withPage(async (page, watch) => {
    watch.expect(/worker-check\.js|request failed/);
    watch.expect(/console error/);
    await page.route("**/worker-check.js", (route) => route.abort());
    await page.goto(siteUrl);
    await page.getByRole("alert").filter({ hasText: "module workers" }).waitFor();
  }));

test("without JavaScript the page says what it needs", () =>
  withPage(
    async (page) => {
      await page.goto(siteUrl);
      await page.locator("noscript p").waitFor();
      assert.equal(await page.locator("#boot-message").isVisible(), false);
    },
    {},
    ["--blink-settings=scriptEnabled=false"],
  ));
