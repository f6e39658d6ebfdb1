// What limits the plan, and the map of years and sites: computed without keeping the page waiting, reached by pointer and key.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner, demo } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";

/** Waits until the bars are those of the scenario as it is. */
const limited = (planner) =>
  planner.page.waitForFunction(() => {
    const state = document.getElementById("limiting-state");
    return state && state.textContent.trim() === "" && document.getElementById("limiting-told");
  });

/** Opens the map and waits for all of it. */
async function mapped(planner) {
  await planner.at("heat-grid").waitFor({ timeout: 30_000 });
}

test("what limits the plan is said, drawn and told as a table", () =>
  withPlanner(async (planner) => {
    await limited(planner);
    assert.match(await planner.text("limiting-told"), /the 96 traps count as/);
    assert.equal(await planner.page.locator("#limiting svg desc").count(), 1);
    assert.match(await planner.text("limiting-table"), /what lowers it/);
    // Years that scatter much: they come first, and no number of traps helps.
    await planner.type("premises.target.year_sd", "0.2");
    await planner.page.waitForFunction(() =>
      document.getElementById("limiting-told")?.textContent.includes("more years can"));
    assert.match(await planner.text("limiting-told"), /No number of traps and sites finds a fall of less than/);
    const csv = await planner.saved("save-limiting-csv");
    assert.equal(csv.name, "leastcatch-limiting.csv");
    assert.match(csv.text, /differences between years/);
    await assertAccessible(planner.page);
  }));

test("an inventory says why it has no bars", () =>
  withPlanner(async (planner) => {
    await planner.openFile("inventory.json", await demo("meadow-inventory.json"));
    await planner.page.waitForFunction(() =>
      document.getElementById("limiting-state").textContent.includes("no variance tells"));
    assert.equal(await planner.at("limiting").count(), 0);
  }));

test("the map is walked by key, touched, and a plan is taken from it", () =>
  withPlanner(async (planner) => {
    await mapped(planner);
    // One cell stands in the order of the tab key: the plan's own.
    const reached = planner.page.locator('#heat-grid [tabindex="0"]');
    assert.equal(await reached.count(), 1);
    assert.match(await reached.getAttribute("class"), /heat-own/);
    assert.match(await planner.text("heat-told"), /10 years, 24 sites/);
    assert.ok((await planner.page.locator(".heat-line-right, .heat-line-below").count()) > 2);
    await reached.focus();
    await planner.page.keyboard.press("ArrowRight");
    const beside = await planner.text("heat-told");
    assert.match(beside, /^1[1-9] years, 24 sites/);
    assert.equal(await planner.page.evaluate(() => document.activeElement.getAttribute("role")), "gridcell");
    // By pointer, and taken by the button.
    await planner.page.locator("#heat-grid tbody tr").last().locator("td").last().hover();
    const told = await planner.text("heat-told");
    const [, years, sites] = told.match(/^(\d+) years, (\d+) sites/);
    await planner.at("heat-take").click();
    assert.equal(await planner.at("plan.years").inputValue(), years);
    assert.equal(await planner.at("plan.sites").inputValue(), sites);
    const svg = await planner.saved("save-map-svg");
    assert.match(svg.text, /Heavy line: the wanted change/);
    await assertAccessible(planner.page);
  }));

test("the map has room on a phone", () =>
  withPlanner(async (planner) => {
    await planner.page.setViewportSize({ width: 360, height: 740 });
    await mapped(planner);
    const wide = await planner.page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= 360, `${wide}`);
  }));
