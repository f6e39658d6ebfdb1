// The page as one whole: three ways in, parts that open and close, meanings on demand, values read off pictures, the show
// for an audience, phone, zoom and paper.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPage, siteUrl } from "./lib/browser.mjs";
import { Planner, withPlanner } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";
import { picture } from "./lib/pictures.mjs";

const openParts = (page) =>
  page.locator("details.chapter[open], details.panel[open]").evaluateAll((all) => all.map((d) => d.id));

const tooWide = (page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

test("a way in opens what it needs and changes no number", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    const digest = await planner.digest();
    await page.getByLabel("Explore trade-offs").check();
    const open = await openParts(page);
    assert.ok(open.includes("part-curve") && open.includes("part-season"), open.join());
    assert.ok(!open.includes("part-least"), open.join());
    assert.match(await planner.text("lead"), /one number at a time/);
    assert.equal(await planner.digest(), digest);
    await page.reload();
    assert.ok(await page.getByLabel("Explore trade-offs").isChecked());
    assert.deepEqual(await openParts(page), open);
  }));

test("what is closed is not drawn, and opens by key", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    await planner.at("close-all").click();
    assert.equal(await page.locator(".frame").count(), 0);
    assert.deepEqual(await openParts(page), []);
    // Each closed part still says in a line what it holds.
    const lines = await page.locator("details.chapter > summary .line").allTextContents();
    assert.ok(lines.length > 8 && lines.every((line) => line.trim().length > 10), lines.join("|"));
    await page.locator("#part-toll > summary").focus();
    await page.keyboard.press("Enter");
    await planner.at("toll-table").waitFor();
    assert.deepEqual(await openParts(page), ["part-toll"]);
  }));

test("a number says what it means, and the keyboard goes back to it", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    const ask = page.locator("#strip-power .ask");
    await ask.focus();
    await page.keyboard.press("Enter");
    const note = planner.at("meaning");
    await note.waitFor();
    assert.match(await note.textContent(), /surveys/);
    await assertAccessible(page);
    await page.keyboard.press("Escape");
    await note.waitFor({ state: "hidden" });
    assert.ok(await ask.evaluate((element) => element === document.activeElement));
    // So does a premise, with its formula.
    await page.locator(".control", { has: page.locator('[id="premises.target.dispersion_k"]') }).locator(".ask").first().click();
    assert.match(await note.textContent(), /Formula/);
  }));

test("every number of the plan and of the premises can be asked for its meaning", () =>
  withPlanner(async (planner) => {
    const without = await planner.page.locator(".controls .control").evaluateAll((all) =>
      all
        .filter((c) => c.querySelector("input.number") && !c.querySelector(".ask"))
        .map((c) => c.querySelector("input.number").id),
    );
    assert.deepEqual(without, []);
  }));

test("values are read off the curve by key and by pointer", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    await planner.finished();
    const frame = planner.at("curve");
    await frame.focus();
    await page.keyboard.press("ArrowRight");
    const first = await planner.text("reading");
    assert.match(first, /\d/);
    await page.keyboard.press("End");
    assert.notEqual(await planner.text("reading"), first);
    await page.keyboard.press("Escape");
    assert.equal(await planner.text("reading"), "");
    await frame.locator(".fg-spot").first().hover();
    assert.equal(await planner.text("reading"), first);
  }));

test("what is read stays when the page is scrolled, and goes where it went", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    await planner.finished();
    const scroll = (by) =>
      page.evaluate(
        (by) =>
          new Promise((done) => {
            addEventListener("scroll", () => requestAnimationFrame(done), { once: true });
            scrollBy({ top: by, behavior: "instant" });
          }),
        by,
      );
    const top = () => planner.at("reading").evaluate((label) => parseFloat(label.style.top));
    await planner.at("curve").scrollIntoViewIfNeeded();
    await planner.at("curve").focus();
    await page.keyboard.press("End");
    const read = await planner.text("reading");
    const before = await top();
    await scroll(30);
    assert.equal(await planner.text("reading"), read);
    assert.ok(Math.abs(before - 30 - (await top())) <= 1, `${before} ${await top()}`);
    // By pointer another place, or none, lies below it then.
    await page.keyboard.press("Escape");
    await planner.at("curve").locator(".fg-spot").first().hover();
    assert.match(await planner.text("reading"), /\d/);
    await scroll(-400);
    assert.equal(await planner.text("reading"), "");
  }));

test("what is read off a picture is that of the picture as it is drawn anew", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    await planner.finished();
    // Without moving focus or pointer.
    const change = async (weeks) => {
      await planner.at("plan.weeks").evaluate((field, weeks) => {
        field.value = weeks;
        field.dispatchEvent(new Event("input", { bubbles: true }));
      }, weeks);
      await planner.answered();
      await planner.finished();
    };
    const spots = planner.at("curve").locator(".fg-spot");
    const title = (spot) => spot.locator("title").first().evaluate((t) => t.textContent);
    for (const [how, read] of [
      ["key", async () => { await planner.at("curve").focus(); await page.keyboard.press("End"); }],
      ["pointer", async () => { await page.keyboard.press("Escape"); await spots.last().hover(); }],
    ]) {
      await read();
      const before = await planner.text("reading");
      assert.equal(before, await title(spots.last()));
      await change(how === "key" ? "3" : "5");
      const after = await planner.text("reading");
      assert.notEqual(after, before, how);
      // Another place, or none, may lie below a pointer by then.
      const titles = await spots.evaluateAll((all) => all.map((spot) => spot.querySelector("title").textContent));
      if (how === "key") assert.equal(after, titles.at(-1));
      else assert.ok(["", ...titles].includes(after), after);
    }
  }));

test("a picture is saved as pixels", () =>
  withPlanner(async (planner) => {
    await planner.finished();
    const coming = planner.page.waitForEvent("download");
    await planner.at("save-curve-png").click();
    const download = await coming;
    assert.equal(download.suggestedFilename(), "leastcatch-curve.png");
    const { readFile } = await import("node:fs/promises");
    const bytes = await readFile(await download.path());
    assert.deepEqual([...bytes.subarray(1, 4)], [...Buffer.from("PNG")]);
    assert.ok(bytes.length > 10_000, String(bytes.length));
  }));

test("the show goes by arrow keys, one picture at a time, each with its sentence", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    await page.getByLabel("Show an audience").check();
    await planner.at("begin-show").click();
    const heading = () => page.locator("#show h2").textContent();
    await page.locator("#show h2").waitFor();
    assert.equal(await heading(), "The question");
    await planner.at("show-place").getByText(/1 of [67]/).waitFor({ timeout: 60_000 });
    await page.keyboard.press("ArrowRight");
    assert.equal(await heading(), "If we did it a hundred times");
    assert.match(await page.locator("#show .said").textContent(), /^Of 100 surveys like this, \d+ would find the fall\./);
    assert.equal(await page.locator("#show svg desc").count(), 1);
    await assertAccessible(page);
    await page.screenshot({ path: await picture("audience.png") });
    const seen = [await heading()];
    for (let i = 0; i < 4; i++) {
      await page.keyboard.press("ArrowRight");
      seen.push(await heading());
    }
    assert.equal(new Set(seen).size, 5, seen.join());
    await page.keyboard.press("Home");
    assert.equal(await heading(), "The question");
    await page.keyboard.press("Escape");
    await planner.at("show").waitFor({ state: "hidden" });
  }));

for (const [screen, viewport] of [
  ["a projector", { width: 1280, height: 720 }],
  ["a phone", { width: 360, height: 740 }],
]) {
  test(`every picture of the show is seen from its top on ${screen}`, () =>
    withPlanner(
      async (planner) => {
        const { page } = planner;
        await page.getByLabel("Show an audience").check();
        await planner.at("begin-show").click();
        await planner.at("show-place").getByText(/of 6/).waitFor({ timeout: 60_000 });
        for (let i = 1; i <= 6; i++) {
          await planner.at("show-place").getByText(`${i} of 6`).waitFor();
          const [slide, top, bottom] = await page.evaluate(() => {
            const box = (of) => document.querySelector(of).getBoundingClientRect();
            return [box(".slide"), box(".slide h2").top, box(".slide .said").bottom];
          });
          assert.ok(top >= slide.top - 1, `the heading of ${i} is ${top}`);
          // On a projector nothing is below the edge either; a phone is scrolled.
          if (screen === "a projector") assert.ok(bottom <= slide.bottom + 1, `the sentence of ${i} ends at ${bottom}`);
          await page.keyboard.press("ArrowRight");
        }
        await planner.at("show-full").click();
        await page.waitForFunction(() => document.fullscreenElement !== null);
        await planner.at("show-full").click();
        await page.waitForFunction(() => document.fullscreenElement === null);
      },
      { viewport },
    ));
}

test("surveys are shown one by one, beside those of other plans", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    await planner.at("find-futures").click();
    await page.locator("#futures-frame text").filter({ hasText: /fewer sites \(12 sites/ }).waitFor({ timeout: 60_000 });
    await page.locator("#futures-frame text").filter({ hasText: /more sites \(48 sites/ }).waitFor({ timeout: 60_000 });
    assert.equal(await planner.text("futures-shown"), "20 of 20 shown");
    for (let i = 0; i < 3; i++) await planner.at("futures-back").click();
    assert.equal(await planner.text("futures-shown"), "17 of 20 shown");
    assert.match(await planner.at("futures-frame").textContent(), /this plan \(24 sites, 10 years\), with the fall: \d+ of 17 found/);
    await planner.at("futures-all").click();
    await planner.at("futures-play").click();
    await planner.at("futures-shown").getByText("3 of 20 shown").waitFor();
    await planner.at("futures-play").click();
    assert.match(await planner.at("futures-play").textContent(), /Play/);
  }));

test("who asks for stillness is not offered to play", () =>
  withPlanner(
    async (planner) => {
      await planner.at("find-futures").click();
      await planner.at("futures-next").waitFor({ timeout: 60_000 });
      assert.equal(await planner.at("futures-play").count(), 0);
    },
    { reducedMotion: "reduce" },
  ));

for (const [name, options] of [
  ["a phone of 360 pixels", { viewport: { width: 360, height: 740 } }],
  ["200 % zoom", { viewport: { width: 640, height: 400 }, deviceScaleFactor: 2 }],
  ["a desktop", { viewport: { width: 1280, height: 900 } }],
  ["the dark", { viewport: { width: 1280, height: 900 }, colorScheme: "dark" }],
]) {
  test(`the whole page fits and has no barriers on ${name}`, () =>
    withPlanner(async (planner) => {
      const { page } = planner;
      await planner.finished();
      assert.equal(await tooWide(page), 0);
      await assertAccessible(page);
      const file = name.replace(/[^a-z0-9]+/g, "-");
      await page.screenshot({ path: await picture(`${file}-open.png`), fullPage: true });
      await planner.at("close-all").click();
      assert.equal(await tooWide(page), 0);
      await assertAccessible(page);
      await page.screenshot({ path: await picture(`${file}.png`) });
    }, options));
}

test("on a phone the answer stays in view", () =>
  withPlanner(
    async (planner) => {
      const { page } = planner;
      await page.mouse.wheel(0, 4000);
      const mini = page.locator(".mini");
      assert.match(await mini.textContent(), /power \d/);
      assert.ok(await mini.isVisible());
    },
    { viewport: { width: 360, height: 740 } },
  ));

test("paper has the question, the plan, its premises with their sources, and no controls", () =>
  withPage(async (page) => {
    const planner = new Planner(page);
    await page.goto(siteUrl);
    await planner.simulate(40);
    await planner.finished();
    await page.emulateMedia({ media: "print" });
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    const paper = planner.at("on-paper");
    await paper.waitFor();
    const text = (await paper.innerText()) + (await planner.at("premises-on-paper").innerText());
    assert.match(text, /Detect a fall of 30 % in ground beetles over 10 years/);
    assert.match(text, /dispersion k\s+2\s+1.2 to 3.5\s+invented/);
    assert.match(text, /common practice \(unsourced\)/);
    for (const gone of [".controls", ".ways", ".bar", ".buttons", "#progress"]) {
      assert.equal(await page.locator(gone).first().isVisible(), false, gone);
    }
    await page.screenshot({ path: await picture("paper.png"), fullPage: true });
    await page.pdf({ path: await picture("report.pdf"), format: "A4" });
  }));
