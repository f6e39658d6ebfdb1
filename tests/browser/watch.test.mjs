// The watch over the pages must itself be able to fail, or its silence would mean nothing.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";

/** Does something that must not happen and checks that the watch reports it. */
function assertNoticed(what, pattern) {
  return withPage(async (page, watch) => {
    await page.goto(new URL("icon.svg", siteUrl).href);
    await page.evaluate(what);
    assert.throws(() => watch.assertQuiet(), pattern);
    watch.expect(/./);
  });
}

test("a request that leaves the site is noticed", () =>
  assertNoticed(
    () => fetch("http://127.0.0.1:9/", { mode: "no-cors" }).catch(() => {}),
    /request that leaves the site: http:\/\/127\.0\.0\.1:9\//,
  ));

test("an error in the console is noticed", () =>
  assertNoticed(() => console.error("made up"), /console error: made up/));

test("an exception is noticed", () =>
  assertNoticed(async () => {
    setTimeout(() => {
      throw new Error("made up");
    });
    await new Promise((resolve) => setTimeout(resolve, 100));
  }, /exception: made up/));

test("a file that is not there is noticed", () =>
  assertNoticed(() => fetch("no-such-file"), /answer 404: .*no-such-file/));

test("the page's own policy stops a request that leaves the site", () =>
  withPage(async (page, watch) => {
    watch.expect(/console error: .*violates .*Content Security Policy/);
    watch.expect(/request failed: http:\/\/127\.0\.0\.1:9\//);
    await page.goto(siteUrl);
    const stopped = await page.evaluate(() =>
      fetch("http://127.0.0.1:9/").then(
        () => false,
        () => true,
      ),
    );
    assert.ok(stopped);
  }));
