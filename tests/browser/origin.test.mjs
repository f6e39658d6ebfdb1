// Nothing leaves the site. All traffic of the browser, with its workers, goes through a proxy that writes it down.
import { test } from "node:test";
import assert from "node:assert/strict";
import { createServer } from "node:http";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { FEW, Planner, demo } from "./lib/planner.mjs";

/** Runs `use({ server, seen })` with a proxy that answers for the site alone and lists every request made of it. */
async function withProxy(use) {
  const seen = [];
  const { origin } = new URL(siteUrl);
  const server = createServer(async (request, response) => {
    const body = [];
    for await (const part of request) body.push(part);
    seen.push({ method: request.method, url: request.url, body: Buffer.concat(body).length });
    if (!request.url.startsWith(`${origin}/`)) return response.writeHead(502).end();
    // A connection of its own for each request: one kept open could just be closing at the other end.
    const from = await fetch(request.url, { headers: { connection: "close" } });
    response.writeHead(from.status, { "content-type": from.headers.get("content-type") ?? "text/plain" });
    response.end(Buffer.from(await from.arrayBuffer()));
  });
  server.on("connect", (request, socket) => {
    // The browser may have hung up already; that it asked is what counts.
    socket.on("error", () => {});
    seen.push({ method: "CONNECT", url: request.url, body: 0 });
    socket.end("HTTP/1.1 502 Bad Gateway\r\n\r\n");
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  try {
    await use({ server: `http://127.0.0.1:${server.address().port}`, seen });
  } finally {
    server.closeAllConnections();
    await new Promise((done) => server.close(done));
  }
}

/** Notes what the page's security policy stops. */
function noteViolations() {
  globalThis.violations = [];
  document.addEventListener("securitypolicyviolation", (event) => {
    globalThis.violations.push(`${event.violatedDirective}: ${event.blockedURI}`);
  });
}

/** What a browser asks for by itself while it shows nothing, such as the accounts of whoever is signed in. */
async function ownWishes() {
  const own = new Set();
  await withProxy(({ server, seen }) =>
    withPage(
      async (page) => {
        await page.goto("about:blank");
        await page.waitForTimeout(4000);
        for (const { method, url } of seen) own.add(`${method} ${url}`);
      },
      { proxy: { server, bypass: "<-loopback>" } },
    ),
  );
  return own;
}

const own = await ownWishes();
const leaves = ({ method, url }) =>
  !url.startsWith(`${new URL(siteUrl).origin}/`) && !own.has(`${method} ${url}`);

test("in a whole session nothing is asked for but the site's own files, and nothing is sent", () =>
  withProxy(({ server, seen }) =>
    withPage(
      async (page) => {
        await page.addInitScript(noteViolations);
        const planner = new Planner(page);
        await planner.open();
        await planner.type("plan.sites", "13");
        await planner.answered();
        await planner.openFile("mine.csv", await demo("meadow-beetles-pilot.csv"), "open-pilot");
        await planner.answered();
        await planner.choose("demo", { index: 2 });
        await planner.answered();
        await planner.saved("save");
        await planner.saved("save-svg");
        await planner.at("copy-link").click();
        await planner.at("undo").click();
        await planner.page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
        await planner.finished();
        await page.reload();
        await planner.answered();
        assert.deepEqual(await page.evaluate(() => globalThis.violations), []);
        assert.ok(seen.some(({ url }) => url.endsWith("/service-worker.js")), "the service worker was there");
        // The page asks for the program, the service worker does to keep it, and so does each worker.
        const programs = seen.filter(({ url }) => url.endsWith("/pkg/page_bg.wasm"));
        assert.ok(programs.length > 2, "workers are seen too");
        assert.deepEqual(seen.filter(leaves), []);
        const asked = seen.filter(({ method, url }) => !own.has(`${method} ${url}`));
        assert.deepEqual(asked.filter(({ method, body }) => method !== "GET" || body > 0), []);
        // No file is asked for with anything attached to its name, and the scenario is in no address.
        assert.deepEqual(seen.filter(({ url }) => url.includes("?") || url.includes("#")), []);
      },
      { serviceWorkers: "allow", proxy: { server, bypass: "<-loopback>" }, permissions: ["clipboard-write"] },
    ),
  ));

test("the policy stops what would leave, and the proxy would have seen it", () =>
  withProxy(({ server, seen }) =>
    withPage(
      async (page, watch) => {
        watch.expect(/.*/);
        await page.addInitScript(noteViolations);
        await page.goto(siteUrl);
        const violations = await page.evaluate(async () => {
          await fetch("http://elsewhere.invalid/").catch(() => undefined);
          const picture = document.createElement("img");
          picture.src = "http://elsewhere.invalid/picture.png";
          document.body.append(picture);
          await new Promise((done) => setTimeout(done, 500));
          return globalThis.violations;
        });
        assert.deepEqual(violations.map((one) => one.split(":")[0]), ["connect-src", "img-src"]);
        assert.deepEqual(seen.filter(leaves), []);
        // What no policy stops is seen.
        await page.goto("http://elsewhere.invalid/").catch(() => undefined);
        assert.equal(seen.filter(leaves).length > 0, true);
      },
      { proxy: { server, bypass: "<-loopback>" } },
    ),
  ));
