// Every step can be taken back and done again, and nothing typed is lost.
import { test } from "node:test";
import assert from "node:assert/strict";
import { assertAccessible } from "./lib/axe.mjs";
import { withPage } from "./lib/browser.mjs";
import { FEW, Planner, demo, withPlanner } from "./lib/planner.mjs";

const FALL = "question.effect.decline.change_percent";
const sites = (planner) => planner.at("plan.sites").inputValue();

function becomes(planner, id, text) {
  return planner.page.waitForFunction(([id, text]) => document.getElementById(id)?.value === text, [id, text]);
}

test("edits are undone and done again, with digits, and it is said", () =>
  withPlanner(async (planner) => {
    const digests = [await planner.digest()];
    for (const [path, text] of [
      ["plan.sites", "12"],
      ["plan.years", "8"],
    ]) {
      await planner.type(path, text);
      await planner.answered();
      digests.push(await planner.digest());
    }
    assert.equal(new Set(digests).size, 3);
    await planner.at("undo").click();
    assert.match(await planner.text("said"), /^Undone: .*years.* from 10 to 8\./);
    await planner.answered();
    assert.equal(await planner.digest(), digests[1]);
    await planner.at("undo").click();
    assert.match(await planner.text("said"), /^Undone: .*sites.* from 24 to 12\./);
    await planner.answered();
    assert.equal(await planner.digest(), digests[0]);
    await planner.at("redo").click();
    assert.match(await planner.text("said"), /^Done again: .*sites/);
    await planner.at("redo").click();
    await planner.answered();
    assert.equal(await planner.digest(), digests[2]);
    assert.equal(await planner.at("redo").isDisabled(), true);
    await assertAccessible(planner.page);
  }));

test("the buttons are disabled where there is nothing to do", () =>
  withPage(async (page) => {
    const planner = new Planner(page);
    await page.goto(planner.url);
    await planner.state("running").waitFor();
    assert.equal(await planner.at("undo").isDisabled(), true);
    assert.equal(await planner.at("redo").isDisabled(), true);
    await planner.simulate(FEW);
    await planner.type("plan.sites", "12");
    await planner.at("undo").click();
    assert.equal(await planner.at("redo").isDisabled(), false);
    await planner.at("undo").click();
    assert.match(await planner.text("said"), /simulated surveys.*Nothing is left to undo/);
    assert.equal(await planner.at("undo").isDisabled(), true);
  }));

test("two hundred steps go back to the first", () =>
  withPlanner(async (planner) => {
    // With nothing to draw, so that hundreds of steps take seconds.
    await planner.at("close-all").click();
    await planner.page.locator("#part-plan > summary").click();
    const first = await sites(planner);
    // The page's own events, since two hundred keys would take a minute.
    const steps = await planner.page.evaluate(async () => {
      let steps = 0;
      for (let i = 0; i < 100; i++) {
        for (const [id, value] of [["plan.sites", 30 + i], ["plan.weeks", 1 + (i % 4)]]) {
          const field = document.getElementById(id);
          field.value = String(value);
          field.dispatchEvent(new Event("input", { bubbles: true }));
          steps++;
        }
        await new Promise((done) => setTimeout(done));
      }
      return steps;
    });
    assert.equal(steps, 200);
    const titles = await planner.page.evaluate(async () => {
      const titles = [];
      for (let i = 0; i < 200; i++) {
        const undo = document.getElementById("undo");
        titles.push(undo.title);
        undo.click();
        await new Promise((done) => setTimeout(done));
      }
      return titles;
    });
    assert.equal(await sites(planner), first);
    assert.equal(await planner.at("plan.weeks").inputValue(), "5");
    assert.match(titles[1], /sites from 128 to 129/);
  }));

test("a number typed key by key is one step", () =>
  withPlanner(async (planner) => {
    await planner.at("plan.sites").focus();
    await planner.page.keyboard.press("Control+a");
    await planner.page.keyboard.type("131");
    await planner.at("undo").click();
    assert.match(await planner.text("said"), /from 24 to 131/);
    assert.equal(await sites(planner), "24");
  }));

test("the keys undo, but not what is still being typed", () =>
  withPlanner(async (planner) => {
    await planner.type("plan.sites", "12");
    await planner.page.keyboard.press("Control+z");
    await becomes(planner, "plan.sites", "24");
    await planner.page.keyboard.press("Control+Shift+Z");
    await becomes(planner, "plan.sites", "12");
    await planner.page.keyboard.press("Control+z");
    await becomes(planner, "plan.sites", "24");
    await planner.page.keyboard.press("Control+y");
    await becomes(planner, "plan.sites", "12");
    // The title is taken when it is left: until then its letters are the browser's to undo.
    const title = await planner.at("scenario-title").inputValue();
    await planner.at("scenario-title").focus();
    await planner.page.keyboard.type("xy");
    assert.notEqual(await planner.at("scenario-title").inputValue(), title);
    // Letters typed slowly, as on a busy computer, are taken back by the browser one by one.
    for (let letters = 2; letters > 0 && (await planner.at("scenario-title").inputValue()) !== title; letters -= 1) {
      await planner.page.keyboard.press("Control+z");
      assert.equal(await sites(planner), "12");
    }
    assert.equal(await planner.at("scenario-title").inputValue(), title);
    // So is text that was refused.
    await planner.at("plan.sites").focus();
    await planner.page.keyboard.type("many");
    await planner.at("blocked").waitFor();
    const marked = await sites(planner);
    await planner.page.keyboard.press("Control+z");
    assert.notEqual(await sites(planner), marked);
    assert.notEqual(await sites(planner), "24");
  }));

test("demo, file, pilot and reset are steps", () =>
  withPlanner(async (planner) => {
    const scenario = () => planner.text("scenario-digest");
    await planner.type("plan.sites", "12");
    await planner.answered();
    const seen = [await scenario()];
    for (const act of [
      () => planner.choose("demo", { index: 3 }),
      async () => planner.openFile("mine.json", await demo("meadow-no-worse.json")),
      async () => planner.openFile("mine.csv", await demo("meadow-beetles-pilot.csv"), "open-pilot"),
      () => planner.at("reset").click(),
    ]) {
      const before = seen.at(-1);
      await act();
      await planner.page.waitForFunction(
        (before) => document.getElementById("scenario-digest")?.textContent !== before,
        before,
      );
      await planner.answered();
      seen.push(await scenario());
    }
    // Back to the file, without the pilot's premises.
    assert.equal(seen[4], seen[2]);
    for (const wanted of seen.slice(0, -1).reverse()) {
      await planner.at("undo").click();
      await planner.page.waitForFunction(
        (wanted) => document.getElementById("scenario-digest")?.textContent === wanted,
        wanted,
      );
    }
    assert.equal(await sites(planner), "12");
  }));

test("reset goes back to what was loaded last and says so", () =>
  withPlanner(async (planner) => {
    const first = await planner.digest();
    await planner.at("reset").click();
    assert.match(await planner.text("said"), /Nothing to reset/);
    await planner.type("plan.sites", "12");
    await planner.type(FALL, "much");
    await planner.at("reset").click();
    assert.match(await planner.text("said"), /Undo/);
    await planner.answered();
    assert.equal(await planner.digest(), first);
    assert.equal(await planner.at(FALL).inputValue(), "30");
    // What was refused comes back as well.
    await planner.at("undo").click();
    await becomes(planner, FALL, "much");
    await becomes(planner, "plan.sites", "12");
    await planner.at("blocked").waitFor();
  }));

test("what was refused survives the question being changed and changed back", () =>
  withPlanner(async (planner) => {
    await planner.type(FALL, "much");
    await planner.choose("question-kind", "difference");
    await planner.at("blocked").waitFor({ state: "detached" });
    await planner.at("undo").click();
    await becomes(planner, FALL, "much");
    await planner.problem(FALL).getByText("“much” does not fit").waitFor();
  }));

test("what was refused in one group stays when another is removed", () =>
  withPlanner(async (planner) => {
    const path = (i) => `premises.bycatch[${i}].catch_per_trap_week`;
    await planner.unfold(path(0));
    const groups = await planner.page.locator("[id^='group-'][id$='-name']").count();
    assert.ok(groups > 1);
    const last = groups - 1;
    await planner.type(path(last), "lots");
    await planner.page.locator("fieldset.group .remove").first().click();
    await becomes(planner, path(last - 1), "lots");
    await planner.at("undo").click();
    await becomes(planner, path(last), "lots");
  }));

test("fields that are taken when they are left keep what is refused, each with its reason", () =>
  withPlanner(async (planner) => {
    for (const [id, text] of [
      ["replicates", "0"],
      ["seed", "one"],
      ["season-number", "99"],
      ["limits.years", "5; many"],
      ["limits.toll.vertebrate", "none"],
    ]) {
      await planner.unfold(id);
      await planner.at(id).fill(text);
      await planner.at(id).press("Tab");
      await planner.problem(id).getByText("does not fit").waitFor();
    }
    const all = async () => [
      await planner.at("replicates").inputValue(),
      await planner.at("seed").inputValue(),
      await planner.at("season-number").inputValue(),
      await planner.at("limits.years").inputValue(),
      await planner.at("limits.toll.vertebrate").inputValue(),
    ];
    const typed = ["0", "one", "99", "5; many", "none"];
    assert.deepEqual(await all(), typed);
    await planner.type("plan.years", "9");
    await planner.page.waitForTimeout(300);
    assert.deepEqual(await all(), typed);
    // Closed and opened again, and after a reload.
    await planner.at("close-all").click();
    await planner.at("limits.years").waitFor({ state: "detached" });
    await planner.at("blocked").getByText("“5; many” does not fit").waitFor();
    await planner.at("open-all").click();
    await planner.at("limits.years").waitFor({ state: "attached" });
    assert.deepEqual(await all(), typed);
    await planner.page.reload();
    await planner.at("blocked").waitFor();
    assert.deepEqual(await all(), typed);
  }));

test("text that is being typed when the page is left is kept", () =>
  withPlanner(async (planner) => {
    await planner.at("scenario-title").focus();
    await planner.page.keyboard.press("Control+a");
    await planner.page.keyboard.type("My own survey");
    await planner.page.reload();
    await becomes(planner, "scenario-title", "My own survey");
  }));

/** Drops made-up files on the page. */
function drop(planner, files) {
  return planner.page.evaluate((files) => {
    const data = new DataTransfer();
    for (const [name, text] of files) data.items.add(new File([text], name));
    const tell = (type) =>
      document.body.dispatchEvent(new DragEvent(type, { dataTransfer: data, bubbles: true, cancelable: true }));
    tell("dragenter");
    const hint = document.getElementById("drop-hint");
    return new Promise((done) =>
      setTimeout(() => {
        const seen = getComputedStyle(hint).display !== "none" && hint.textContent;
        // The browser would leave the page if nobody stopped it.
        const stopped = !tell("dragover") && !tell("drop");
        done([seen, stopped]);
      }, 50),
    );
  }, files);
}

test("files dropped anywhere are taken, or refused with the reason", () =>
  withPlanner(async (planner) => {
    const scenario = (await demo("meadow-beetles.json")).replace('"sites": 24', '"sites": 13');
    const [hint, stopped] = await drop(planner, [["mine.json", scenario]]);
    assert.match(hint, /Drop a scenario/);
    assert.equal(stopped, true);
    await planner.page.getByRole("status").filter({ hasText: "mine.json is opened" }).waitFor();
    assert.equal(await sites(planner), "13");
    assert.equal(await planner.at("drop-hint").isVisible(), false);

    await drop(planner, [["mine.csv", await demo("meadow-beetles-pilot.csv")]]);
    await planner.page.getByRole("status").filter({ hasText: "Premises from mine.csv" }).waitFor();

    const before = await planner.text("scenario-digest");
    for (const [files, said] of [
      [[["beetle.png", "x"]], /beetle\.png was dropped, and is neither/],
      [[["a.json", scenario], ["b.json", scenario]], /one file at a time.*a\.json, b\.json/],
      [[["cut.json", scenario.slice(0, 500)]], /cut\.json: .*EOF/],
      [[["bad.json", scenario.replace('"sites": 13', '"sites": 1')]], /plan\.sites is 1/],
      [[["bad.csv", "a,b\n1,2\n"]], /bad\.csv/],
    ]) {
      await drop(planner, files);
      await planner.page.getByRole("alert").filter({ hasText: said }).waitFor();
      await planner.page.getByRole("button", { name: "Close", exact: true }).click();
    }
    assert.equal(await planner.text("scenario-digest"), before);
    await planner.at("undo").click();
    await planner.at("undo").click();
    await becomes(planner, "plan.sites", "24");
  }));
