// After the first visit the page needs no network, and it never shows a stale version of itself.
import { test } from "node:test";
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { withPage } from "./lib/browser.mjs";
import { FEW, Planner } from "./lib/planner.mjs";
import { withHost } from "./lib/host.mjs";

const VERSION = "meta[name=leastcatch-version]";

/** A page on a host of its own, with a service worker. */
function withOffline(use) {
  return withHost((host) =>
    withPage((page, watch) => use({ host, page, watch, planner: new Planner(page, host.url) }), { serviceWorkers: "allow" }, [], host.url),
  );
}

/** The versions that are kept whole. */
function versions(page) {
  return page.evaluate(async () => {
    const found = [];
    for (const name of await caches.keys()) {
      const list = await (await caches.open(name)).match(new URL("site-files.json", location.href));
      if (list) found.push((await list.json()).version);
    }
    return found;
  });
}

/** Waits until one version is kept whole, or the one named, and no other; gives it. */
async function kept(page, version) {
  for (let tries = 0; tries < 300; tries++) {
    const found = await versions(page);
    if (found.length === 1 && (!version || found[0] === version)) return found[0];
    await page.waitForTimeout(200);
  }
  throw new Error("the site was not kept");
}

/** Has the host serve a newer version: another page, in the list too. */
function renew(host) {
  let page;
  host.change("index.html", (text) => {
    page = text.replace(/(leastcatch-version" content=")[^"]*/, "$1newer").replace("</head>", "<!-- newer --></head>");
    return page;
  });
  host.change("site-files.json", (text) => {
    const list = JSON.parse(text);
    list.version = "newer";
    list.files["index.html"] = createHash("sha256").update(page).digest("hex");
    return JSON.stringify(list);
  });
  return fetch(host.url);
}

test("the page works without a network after the first visit", () =>
  withOffline(async ({ host, page, watch, planner }) => {
    await planner.open();
    await planner.type("plan.sites", "13");
    await planner.answered();
    const digest = await planner.digest();
    await kept(page);
    const programs = await page.evaluate(async () => {
      const [name] = await caches.keys();
      const files = (await (await caches.open(name)).keys()).map(({ url }) => new URL(url).pathname);
      return files.filter((file) => /\/pkg\/.*\.wasm$/.test(file)).map((file) => file.replace(/^.*\/pkg\/|-\w+(?=\.)/g, ""));
    });
    assert.deepEqual(programs.sort(), ["apart.wasm", "page_bg.wasm"], "the one without vector instructions is not kept");
    // Not even what the browser itself keeps of files is needed.
    host.off();
    watch.expect(/site-files\.json|service-worker\.js|ERR_|console error/);
    planner.replicates = FEW;
    await page.goto("about:blank");
    await page.goto(host.url);
    await planner.answered();
    assert.equal(await planner.at("plan.sites").inputValue(), "13");
    assert.equal(await planner.digest(), digest);
    await planner.type("plan.sites", "14");
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
  }));

test("a newer version is told of, is never hidden by the older, and takes its place", () =>
  withOffline(async ({ host, page, planner }) => {
    await planner.open();
    const first = await kept(page);
    assert.equal(await page.locator(VERSION).getAttribute("content"), first);
    await planner.type("plan.sites", "13");
    const look = () => page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
    await look();
    await page.waitForTimeout(300);
    assert.equal(await planner.at("newer").count(), 0);

    await renew(host);
    await look();
    await planner.at("newer").getByText("A newer version is ready: reload").waitFor();
    await planner.at("reload").click();
    await page.locator(`${VERSION}[content=newer]`).waitFor({ state: "attached" });
    await page.waitForFunction(() => document.getElementById("plan.sites")?.value === "13");
    assert.equal(await planner.at("newer").count(), 0);
    assert.equal(await kept(page, "newer"), "newer");
  }));

test("a version that is only half there is not kept", () =>
  withOffline(async ({ host, page, watch, planner }) => {
    await planner.open();
    const first = await kept(page);
    await renew(host);
    host.change("styles/steps.css", (text) => `${text}\n/* of yet another version */`);
    // The file is the same in both lists, so the former one would be taken; it must be asked for to be seen.
    host.change("site-files.json", (text) => {
      const list = JSON.parse(text);
      list.version = "half";
      list.files["styles/steps.css"] = "0".repeat(64);
      return JSON.stringify(list);
    });
    await page.goto("about:blank");
    await page.goto(host.url);
    await page.locator(`${VERSION}[content=newer]`).waitFor({ state: "attached" });
    await page.waitForTimeout(2000);
    assert.deepEqual(await versions(page), [first]);
    host.off();
    watch.expect(/site-files\.json|service-worker\.js|ERR_|console error/);
    await page.goto("about:blank");
    await page.goto(host.url);
    await page.locator(`${VERSION}[content="${first}"]`).waitFor({ state: "attached" });
  }));
