// Scenarios as files: saved, kept, opened again, and refused without a trace when broken.
import { test } from "node:test";
import assert from "node:assert/strict";
import { FEW, demo, withPlanner } from "./lib/planner.mjs";

const FALL = "question.effect.decline.change_percent";

/** What must stay as it is when a file is refused. */
async function shown(planner) {
  return [
    await planner.digest(),
    await planner.at(FALL).inputValue(),
    await planner.at("plan.sites").inputValue(),
  ];
}

test("a scenario saved and opened again gives the same digits", () =>
  withPlanner(async (planner) => {
    await planner.type(FALL, "45");
    await planner.type("plan.sites", "13");
    await planner.page.getByRole("button", { name: "Remove shrews" }).click();
    await planner.answered();
    const before = await shown(planner);
    const { name, text } = await planner.saved("save");
    assert.match(name, /\.json$/);
    assert.equal(JSON.parse(text).plan.sites, 13);

    await planner.choose("demo", { index: 1 });
    await planner.answered();
    assert.notDeepEqual(await shown(planner), before);
    await planner.openFile(name, text);
    await planner.page.waitForFunction(() => document.getElementById("plan.sites").value === "13");
    await planner.answered();
    assert.deepEqual(await shown(planner), before);
    // Saved again it is the same file to the byte.
    assert.equal((await planner.saved("save")).text, text);
  }));

test("a demo becomes a survey of one's own: what was invented is gone or a guess, and undo brings it back", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    const said = page.locator(".notice");
    await planner.openFile("pilot.csv", await demo("meadow-beetles-pilot.csv"), "open-pilot");
    await said.getByText(/premises are still invented, from the demo/).waitFor();
    await planner.choose("demo", { label: "this question as a survey of my own" });
    await said.getByText(/Invented costs are gone/).waitFor();
    await planner.answered();
    assert.equal(await planner.at("scenario-title").inputValue(), "My survey");
    assert.equal(await planner.at("scenario-notes").inputValue(), "");
    const own = JSON.parse((await planner.saved("save")).text);
    assert.doesNotMatch(JSON.stringify(own), /invented/);
    assert.equal(own.premises.target.catch_per_trap_week.source, "pilot");
    assert.equal(own.premises.costs, undefined);
    // The message alone still names what is gone.
    assert.match(await said.innerText(), /great bronze carabid/);
    await said.getByRole("button").click();
    assert.doesNotMatch(await page.locator("main").innerText(), /great bronze carabid|Aldermoor/);
    for (const group of ["spiders", "shrews"]) await page.getByRole("button", { name: `Remove ${group}` }).click();
    await planner.answered();
    assert.match(await page.locator("#strip-toll .note").textContent(), /; by-catch not stated$/);
    // Nothing is left to take out.
    await planner.choose("demo", { label: "this question as a survey of my own" });
    await said.getByText(/Nothing here is invented/).waitFor();
    for (const _ of ["shrews", "spiders", "own"]) await planner.at("undo").click();
    assert.match(await planner.at("scenario-title").inputValue(), /Aldermoor/);
    await planner.at("scenario-title").fill("Hay of the lower fields");
    await planner.at("scenario-title").press("Enter");
    await planner.choose("demo", { label: "this question as a survey of my own" });
    await said.getByText(/Invented costs are gone/).waitFor();
    assert.equal(await planner.at("scenario-title").inputValue(), "Hay of the lower fields");
  }));

test("a title is one line, taken by Enter and wrapped where the screen is narrow", () =>
  withPlanner(
    async (planner) => {
      const title = planner.at("scenario-title");
      const high = () => title.evaluate((e) => [e.clientHeight, e.scrollWidth - e.clientWidth]);
      assert.deepEqual((await high())[1], 0);
      const [two] = await high();
      await title.fill("Moths\nof the scree");
      await title.press("Enter");
      assert.equal(await title.inputValue(), "Moths of the scree");
      assert.equal(await planner.at("undo").getAttribute("title"), "Undo: a change of title");
      assert.ok((await high())[0] < two);
    },
    { viewport: { width: 360, height: 740 } },
  ));

test("the scenario is kept in the browser from visit to visit", () =>
  withPlanner(async (planner) => {
    await planner.type("plan.sites", "13");
    await planner.answered();
    const before = await shown(planner);
    await planner.open();
    assert.deepEqual(await shown(planner), before);
  }));

test("a scenario kept by an earlier visit that cannot be read is reported, and a demo shown", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    await planner.page.evaluate(() => {
      for (const key of Object.keys(localStorage)) localStorage.setItem(key, "{}");
    });
    await planner.page.goto(planner.url);
    await planner.page.getByRole("alert").filter({ hasText: "earlier visit" }).waitFor();
    await planner.simulate(FEW);
    await planner.answered();
    assert.equal(await planner.digest(), digest);
  }));

test("a broken file is refused with file and place, and the page stays as it was", () =>
  withPlanner(async (planner) => {
    const text = await demo("meadow-beetles.json");
    const before = await shown(planner);
    for (const [broken, said] of [
      [text.replace('"sites": 24', '"sites": 2.5'), /plan\.sites: .*2\.5.*2 to 2000/],
      [text.replace('"sites": 24', '"sites": 1'), /plan\.sites is 1: .*2 to 2000/],
      [text.replace('"sites": 24', '"spots": 24'), /plan.*unknown field `spots`/],
      [text.replace('"weeks": 5,', '"weeks": 50,'), /plan\.weeks is 50: .*from week 21/],
      [text.slice(0, 900), /EOF/],
      ["", /EOF/],
    ]) {
      assert.notEqual(broken, text);
      await planner.openFile("broken.json", broken);
      await planner.page.getByRole("alert").filter({ hasText: said }).waitFor();
      assert.match(await planner.page.getByRole("alert").textContent(), /broken\.json: /);
      await planner.page.getByRole("button", { name: "Close", exact: true }).click();
    }
    assert.deepEqual(await shown(planner), before);
    // Mended, the file of the same name is taken.
    await planner.openFile("broken.json", text.replace('"sites": 24', '"sites": 13'));
    await planner.page.waitForFunction(() => document.getElementById("plan.sites").value === "13");
  }));

test("text that was refused does not outlive the scenario it was typed into", () =>
  withPlanner(async (planner) => {
    await planner.type("plan.sites", "many");
    await planner.at("blocked").waitFor();
    // The demo has the number that the scenario has had all along: the field must show it again.
    await planner.openFile("demo.json", await demo("meadow-beetles.json"));
    await planner.at("blocked").waitFor({ state: "detached" });
    assert.equal(await planner.at("plan.sites").inputValue(), "24");
  }));

test("pilot catches become premises that are marked as the pilot's", () =>
  withPlanner(async (planner) => {
    const before = await planner.digest();
    const pilot = await demo("meadow-beetles-pilot.csv");
    await planner.openFile("mine.csv", pilot, "open-pilot");
    await planner.page.getByRole("status").filter({ hasText: "Premises from mine.csv" }).waitFor();
    await planner.answered();
    assert.notEqual(await planner.digest(), before);
    const source = planner.page.getByLabel("source of catch per trap-week at peak").first();
    assert.equal(await source.inputValue(), "pilot");
  }));

test("a pilot that cannot be read is refused with row, column and value", () =>
  withPlanner(async (planner) => {
    const before = await shown(planner);
    const pilot = await demo("meadow-beetles-pilot.csv");
    const broken = pilot.replace("ground beetles,20,", "ground beetles,many,");
    assert.notEqual(broken, pilot);
    await planner.openFile("mine.csv", broken, "open-pilot");
    const said = /mine\.csv, row 4, column count, value "many"/;
    await planner.page.getByRole("alert").filter({ hasText: said }).waitFor();
    assert.deepEqual(await shown(planner), before);
    await planner.simulate(FEW);
    await planner.answered();
  }));
