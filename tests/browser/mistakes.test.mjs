// Mistakes to show: opened, moved by slider, key and number, put back; the picture and its table follow.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";

const KEYS = [
  "traps_as_sites",
  "years_ignored",
  "baseline_chosen",
  "best_sites",
  "zeros_dropped",
  "moving_season",
  "none_found",
  "only_significant",
  "repeated_looks",
  "many_species",
];

/** Opens the part in which the demonstrations are folded. */
async function openPart(planner) {
  await planner.page.locator("#part-mistakes").evaluate((part) => (part.open = true));
  await planner.at("mistakes").waitFor();
}

/** Opens a demonstration and waits for its sentence. */
async function open(planner, key) {
  await openPart(planner);
  await planner.page.locator(`#mistake-part-${key} > summary`).click();
  await planner.at(`mistake-${key}-told`).filter({ hasText: /\S/ }).waitFor();
}

test("all open with a sentence, a picture and a table", () =>
  withPlanner(async (planner) => {
    await openPart(planner);
    assert.equal(await planner.page.locator("#mistakes svg").count(), 0, "closed ones compute nothing");
    for (const key of KEYS) {
      await open(planner, key);
      const frame = planner.at(`mistake-${key}-figure`);
      await frame.locator("svg").waitFor();
      const told = await planner.text(`mistake-${key}-told`);
      assert.equal(await frame.locator("desc").textContent(), told);
      assert.doesNotMatch(told, /NaN|not known/);
    }
    await assertAccessible(planner.page);
  }));

test("numbers move by typing and by key, and go back to the plan's", () =>
  withPlanner(async (planner) => {
    await open(planner, "best_sites");
    const at = (part) => planner.at(`mistake-best_sites-${part}`);
    const first = await planner.text("mistake-best_sites-told");
    assert.equal(await at("back").isDisabled(), true);
    await at("site_sd-number").fill("0.6");
    await at("noise_sd-number").fill("0,5");
    assert.equal(
      await planner.text("mistake-best_sites-told"),
      "A stable population would seem to fall by 33 %.",
    );
    assert.equal(await at("noise_sd").inputValue(), "0.5");
    // The slider by key; the number beside it follows.
    await at("share_percent").focus();
    await planner.page.keyboard.press("End");
    assert.equal(await at("share_percent-number").inputValue(), "100");
    assert.match(await planner.text("mistake-best_sites-told"), /fall by 0\.0 %/);
    // What does not fit is said, and nothing moves.
    await at("share_percent-number").fill("101");
    assert.match(await planner.text("mistake-best_sites-share_percent-problem"), /2 to 100/);
    assert.equal(await at("share_percent").inputValue(), "100");
    await at("back").click();
    assert.equal(await planner.text("mistake-best_sites-told"), first);
    assert.equal(await planner.text("mistake-best_sites-share_percent-problem"), "");
  }));

test("the first year goes no further than three years before the last, and the plan's numbers are followed", () =>
  withPlanner(async (planner) => {
    await open(planner, "baseline_chosen");
    const at = (part) => planner.at(`mistake-baseline_chosen-${part}`);
    await at("first_year").focus();
    await planner.page.keyboard.press("End");
    assert.equal(await at("first_year-number").inputValue(), "8");
    assert.match(await planner.text("mistake-baseline_chosen-told"), /^Beginning in year 8 .* histories\.$/);
    await at("years-number").fill("6");
    assert.equal(await at("first_year-number").inputValue(), "4");
    await at("back").click();
    assert.equal(await at("years-number").inputValue(), "10");
    await planner.type("plan.years", "14");
    await planner.answered();
    assert.equal(await at("years-number").inputValue(), "14");
  }));
