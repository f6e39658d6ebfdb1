// Which weeks: chosen by click and by key, found, taken; and what a season that moves does.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";

const pressed = (planner) =>
  planner.page.locator('.weeks-row button[aria-pressed="true"]').allTextContents();

test("weeks are chosen by click and by key", () =>
  withPlanner(async (planner) => {
    await planner.answered();
    assert.deepEqual(await pressed(planner), ["21", "22", "23", "24", "25"]);
    await planner.at("season-week-23").click();
    assert.deepEqual(await pressed(planner), ["21", "22", "24", "25"]);
    assert.match(await planner.text("plan-phrase"), /4 weeks \(weeks 21, 22, 24 and 25\)/);
    // From the week last reached two steps on, and opened by key.
    await planner.at("season-week-23").focus();
    for (const key of ["ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight", "Space"]) {
      await planner.page.keyboard.press(key);
    }
    assert.deepEqual(await pressed(planner), ["21", "22", "24", "25", "27"]);
    await planner.answered();
    // Only one of the buttons stands in the order of the tab key.
    assert.equal(await planner.page.locator('.weeks-row button[tabindex="0"]').count(), 1);
    // A number of weeks typed goes back to weeks in a row.
    await planner.type("plan.weeks", "1");
    assert.deepEqual(await pressed(planner), ["21"]);
    await planner.at("season-week-21").click();
    assert.match(await planner.text("season-problem"), /stays open/);
    assert.deepEqual(await pressed(planner), ["21"]);
  }));

test("the best weeks are found and taken, with reproductives told apart", () =>
  withPlanner(async (planner) => {
    await planner.answered();
    await planner.at("tell-reproductives").check();
    await planner.answered();
    assert.match(await planner.text("toll-reproductives"), /Reproductive among those killed/);
    await planner.at("season-number").fill("3");
    await planner.at("season-number").press("Tab");
    await planner.at("find-season").click();
    await planner.at("season-sets").waitFor();
    assert.match(await planner.text("season-sets"), /surest answer/);
    assert.match(await planner.text("season-moves"), /3 weeks earlier in all years/);
    await planner.at("take-surest-answer").click();
    assert.equal((await pressed(planner)).length, 3);
    // What was found stays while only the weeks change, and goes with any other edit.
    assert.equal(await planner.at("season-sets").count(), 1);
    await planner.type("plan.sites", "20");
    assert.equal(await planner.at("season-sets").count(), 0);
    await assertAccessible(planner.page);
  }));
