// Starts Chromium for the tests and watches every page for what must never happen: an error in the
// console, an exception, a request that fails, a request that leaves the site.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import assert from "node:assert/strict";
import { chromium } from "playwright-core";
import { setting } from "./settings.mjs";

/** Address of the site under test, with its last slash. */
export const siteUrl = setting("SITE_URL");

// The browser must be silent by itself, so that every request seen is one of the page's.
const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // It would ask its maker for the time, for hints and what a form's fields are for.
  "--disable-features=AutofillServerCommunication,OptimizationHints,OptimizationGuideModelDownloading,NetworkTimeServiceQuerying,MediaRouter,Translate,CertificateTransparencyComponentUpdater,HttpsUpgrades,PaintHolding,LensOverlay,DestroyProfileOnBrowserClose",
];

/** Starts Chromium by `launch`; now and then it dies before it has begun, which says nothing of the page. */
const begun = (launch) =>
  launch().catch((error) => {
    console.error(`Chromium did not start, once more: ${error.message.split("\n")[0]}`);
    return launch();
  });

/** The Chromium that tests of a file share: it is closed once nobody has asked for it for this many milliseconds. */
const IDLE = 500;
let shared;
let closing;

/** A context, which shares nothing with any other, in the file's Chromium. */
async function contextOfFile(options) {
  clearTimeout(closing);
  if (!shared?.isConnected()) {
    shared = await begun(() => chromium.launch({ executablePath: setting("CHROMIUM"), args: FLAGS }));
  }
  const context = await shared.newContext(options);
  await context.newPage();
  const close = async () => {
    await context.close();
    const browser = shared;
    if (browser.contexts().length > 0) return;
    closing = setTimeout(() => {
      shared = undefined;
      browser.close();
    }, IDLE);
  };
  return { context, close };
}

/** A context of a Chromium of its own, with a profile on disk. */
async function contextOfItsOwn(options, flags) {
  const profile = await mkdtemp(join(tmpdir(), "leastcatch-browser-"));
  const args = [...FLAGS, ...flags];
  const context = await begun(() =>
    chromium.launchPersistentContext(profile, { executablePath: setting("CHROMIUM"), args, ...options }),
  );
  const close = async () => {
    await context.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  };
  return { context, close };
}

/**
 * Runs `use(page, watch)` with nothing left of any test before and fails if anything went wrong on the way. To start a
 * browser takes as long as many a test, so those of a file share one, but where flags, a service worker or a proxy are
 * wanted.
 *
 * @param {(page: import("playwright-core").Page, watch: Watch) => Promise<void>} use
 * @param {import("playwright-core").BrowserContextOptions} options viewport, reduced motion and the like
 * @param {string[]} flags further flags of Chromium
 * @param {string} url address of the site, where it is not the usual one
 */
export async function withPage(use, options = {}, flags = [], url = siteUrl) {
  // A service worker would answer requests that tests answer themselves; its own tests allow it.
  const all = { serviceWorkers: "block", ...options };
  // Through a proxy one sees what the browser itself asks for, which is the same from browser to browser alone.
  const own = flags.length > 0 || all.serviceWorkers === "allow" || "proxy" in all;
  const { context, close } = await (own ? contextOfItsOwn(all, flags) : contextOfFile(all));
  try {
    const watch = new Watch(context, url);
    const [page] = context.pages();
    await use(page, watch);
    watch.assertQuiet();
  } finally {
    await close();
  }
}

/** Collects what must not happen, from every page and worker of a browser. */
export class Watch {
  #problems = [];
  #expected = [/Service Worker registration blocked by Playwright/];

  constructor(context, url) {
    const { origin } = new URL(url);
    context.on("console", (message) => {
      if (message.type() === "error" || message.type() === "warning") {
        const { url } = message.location();
        this.#add(`console ${message.type()}: ${message.text()} (${url})`);
      }
    });
    context.on("weberror", (error) => this.#add(`exception: ${error.error().message}`));
    context.on("request", (request) => {
      const url = new URL(request.url());
      if (["http:", "https:", "ws:", "wss:"].includes(url.protocol) && url.origin !== origin) {
        this.#add(`request that leaves the site: ${url}`);
      }
    });
    context.on("requestfailed", (request) => {
      const why = request.failure()?.errorText;
      // A page that is left gives up what it still waits for.
      const left = why === "net::ERR_ABORTED" && new URL(request.url()).origin === origin;
      if (!left) this.#add(`request failed: ${request.url()} (${why})`);
    });
    context.on("response", (response) => {
      if (response.status() >= 400) {
        this.#add(`answer ${response.status()}: ${response.url()}`);
      }
    });
  }

  #add(problem) {
    this.#problems.push(problem);
  }

  /** Lets problems pass that match: for tests that break something on purpose. */
  expect(pattern) {
    this.#expected.push(pattern);
  }

  /** Fails if anything happened that must not. */
  assertQuiet() {
    const left = this.#problems.filter((problem) => !this.#expected.some((one) => one.test(problem)));
    assert.deepEqual(left, [], "the page was not quiet");
  }
}
