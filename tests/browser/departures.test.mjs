// What else the world may do: folded away, changes the answer when stated, and is saved with the scenario.
import { test } from "node:test";
import assert from "node:assert/strict";
import { demo, withPlanner } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";

const AT = "premises.departures";

test("departures are folded away until wanted", () =>
  withPlanner(async (planner) => {
    const field = planner.at(`${AT}.year_autocorrelation`);
    assert.equal(await field.isVisible(), false);
    await planner.page.getByText("What else the world may do", { exact: true }).click();
    await field.waitFor({ state: "visible" });
    assert.equal(await field.inputValue(), "0");
    await assertAccessible(planner.page);
  }));

test("a departure changes the answer and is saved in the file", () =>
  withPlanner(async (planner) => {
    // A calibrated test holds its level in any world, so that its preview tells no other false alarms.
    await planner.page.locator("summary", { hasText: /^Analysis$/ }).click();
    await planner.choose("analysis-test", "t, few degrees of freedom");
    await planner.answered();
    const digest = await planner.digest();
    const before = JSON.parse((await planner.saved("save")).text);
    assert.equal(before.premises.departures, undefined);

    await planner.type(`${AT}.year_autocorrelation`, "0.6");
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
    assert.match(await planner.text("preview"), /false alarms/);
    assert.match(await planner.text("fits"), /a year's correlation with the next is 0.6/);
    assert.match(await planner.text("departures"), /What else the world may do \(1 stated\)/);

    const { text } = await planner.saved("save");
    assert.deepEqual(JSON.parse(text).premises.departures, {
      year_autocorrelation: { value: 0.6, source: "guess" },
    });

    // Taken back, the scenario and its answer are the old ones.
    await planner.type(`${AT}.year_autocorrelation`, "0");
    await planner.answered();
    assert.equal(await planner.digest(), digest);
    assert.deepEqual(JSON.parse((await planner.saved("save")).text), before);

    await planner.openFile("alike.json", text);
    await planner.answered();
    assert.equal(await planner.at(`${AT}.year_autocorrelation`).inputValue(), "0.6");
  }));

test("sites that resemble each other need a region", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    await planner.type(`${AT}.correlation_length_km`, "5");
    await planner.problem(`${AT}.region_km2`).getByText("an area of at least 0.0001 km²").waitFor();
    await planner.at("blocked").waitFor();
    await planner.type(`${AT}.region_km2`, "100");
    await planner.at("blocked").waitFor({ state: "detached" });
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
  }));

test("losses that follow the catch are told to have no closed form", () =>
  withPlanner(async (planner) => {
    await planner.type(`${AT}.loss_follows_catch`, "1");
    await planner.answered();
    assert.match(await planner.text("fits"), /have no closed form/);
  }));

test("trap points new each year are part of the plan", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    await planner.choose("plan-trap-points", { index: 1 });
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
    assert.match(await planner.text("plan-phrase"), /new points every year/);
    const { text } = await planner.saved("save");
    assert.equal(JSON.parse(text).plan.trap_points, "new_each_year");
    await planner.openFile("demo.json", await demo("meadow-beetles.json"));
    await planner.answered();
    assert.equal(await planner.digest(), digest);
  }));
