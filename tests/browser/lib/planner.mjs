// The page as the tests use it: opened, edited, waited for. Every test simulates few surveys, because it
// asks whether the page works and not whether the numbers are fine.
import { readFile } from "node:fs/promises";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./browser.mjs";

/** Simulated surveys of each plan in a test that does not ask for others. */
export const FEW = 40;

/** Opens the page in a fresh browser and hands `use(planner, watch)` the means to drive it. */
export function withPlanner(use, options = {}) {
  return withPage(async (page, watch) => {
    const planner = new Planner(page);
    await planner.open();
    await use(planner, watch);
  }, options);
}

/** Text of a file of the demonstration data. */
export function demo(name) {
  return readFile(new URL(`../../../demo-data/${name}`, import.meta.url), "utf8");
}

export class Planner {
  constructor(page, url = siteUrl) {
    this.page = page;
    this.url = url;
    this.replicates = 1000;
  }

  /** Goes to the page with the first demo, as one who has asked for `replicates` simulated surveys before. */
  async begin(replicates = FEW) {
    this.replicates = replicates;
    const scenario = JSON.parse(await demo("meadow-beetles.json"));
    const kept = { link: "", scenario, base: scenario, marks: {}, seed: 1, replicates, axis: "sites" };
    // Before the page is there for the first time; a reload finds what the page itself has kept.
    await this.page.addInitScript((kept) => {
      // The browser's own pages, such as that of a lost connection, have no storage.
      if (!location.protocol.startsWith("http") || origin === "null") return;
      if (sessionStorage.getItem("begun")) return;
      sessionStorage.setItem("begun", "yes");
      localStorage.setItem("leastcatch-scenario", kept);
    }, JSON.stringify(kept));
    await this.page.goto(this.url);
  }

  /** Loads the page as `begin` and opens every part of it. */
  async open(replicates = FEW) {
    await this.begin(replicates);
    await this.answered();
    // Whatever a test looks for, it need not care which part it stands in.
    await this.at("open-all").click();
    // A pointer that rests where something is scrolled to would point at it.
    await this.page.mouse.move(0, 0);
    await this.page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done))));
    await this.state("idle").waitFor({ timeout: 60_000 });
  }

  at(id) {
    return this.page.locator(`[id="${id}"]`);
  }

  /** Text of the element with that id, also where it is folded away. */
  text(id) {
    return this.at(id).evaluate((element) => element.textContent.trim());
  }

  digest() {
    return this.text("digest");
  }

  /** Types a number where it takes effect with each key. */
  async type(path, text) {
    await this.unfold(path);
    await this.at(path).fill(text);
  }

  /** Types where it takes effect with Enter. */
  async enter(id, text) {
    await this.unfold(id);
    await this.at(id).fill(text);
    await this.at(id).press("Enter");
  }

  async choose(id, value) {
    await this.unfold(id);
    await this.at(id).selectOption(value);
  }

  /** Opens what the element is folded into, as a person would to reach it. */
  async unfold(id) {
    // What stands in a part of the page that is closed is not there.
    const opener = this.at("open-all");
    if ((await this.at(id).count()) === 0 && (await opener.count()) > 0) await opener.click();
    await this.at(id).waitFor({ state: "attached" });
    await this.at(id).evaluate((element) => {
      for (let at = element.parentElement; at; at = at.parentElement) {
        if (at.localName === "details") at.open = true;
      }
    });
  }

  async simulate(replicates) {
    this.replicates = replicates;
    await this.enter("replicates", String(replicates));
  }

  /** The message below the field of that path. */
  problem(path) {
    return this.at(`${path}-problem`);
  }

  state(name) {
    return this.page.locator(`#progress[data-state="${name}"]`);
  }

  /** Waits until the curve too is computed, and checks that the answer is the one asked for. */
  async finished() {
    await this.state("idle").waitFor({ timeout: 60_000 });
    const note = await this.page.locator("#strip-power .note").textContent();
    assert.match(note, new RegExp(`, ${this.replicates} surveys$`));
  }

  /** Waits for the whole answer, which is much sooner than the curve. */
  async answered() {
    for (const name of ["power", "alarm"]) {
      const note = this.page.locator(`#strip-${name} .note`, { hasText: `, ${this.replicates} surveys` });
      await note.waitFor({ timeout: 60_000 });
    }
  }

  /** The number shown under a name of the strip: power, alarm, smallest, toll. */
  value(name) {
    return this.page.locator(`#strip-${name} .value`).textContent();
  }

  /** Clicks what saves a file and returns its name and text. */
  async saved(id) {
    const coming = this.page.waitForEvent("download");
    await this.at(id).click();
    const download = await coming;
    const text = await readFile(await download.path(), "utf8");
    return { name: download.suggestedFilename(), text };
  }

  /** Opens a scenario file that exists in the test only. */
  async openFile(name, text, picker = "open") {
    await this.at(picker).setInputFiles({ name, mimeType: "text/plain", buffer: Buffer.from(text) });
  }
}
