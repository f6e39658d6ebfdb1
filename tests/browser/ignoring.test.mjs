// What ignoring costs: told and not told, in the browser as on the command line; and what the analysis is told of.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";

test("losses are told apart, and a box tells the analysis of more", () =>
  withPlanner(async (planner) => {
    await planner.simulate(200);
    await planner.finished();
    await planner.at("find-ignoring").click();
    await planner.at("ignoring-table").waitFor();
    await planner.finished();
    const rows = await planner.page
      .locator("#ignoring-table tbody tr")
      .evaluateAll((rows) => rows.map((r) => [...r.cells].map((c) => c.textContent.trim())));
    assert.deepEqual(
      rows.map((r) => r[1]),
      ["told", "not told"],
    );
    assert.match(await planner.text("ignoring-lines"), /not told of lost trap-weeks/);

    // The box is inside a fold-out.
    const before = await planner.digest();
    await planner.page.locator("summary", { hasText: /^Analysis$/ }).click();
    await planner.at("told-the-sites--own-changes").check();
    await planner.answered();
    assert.notEqual(await planner.digest(), before);
    // An edit takes away what no longer belongs to the scenario.
    assert.equal(await planner.at("ignoring-table").count(), 0);
    await planner.at("told-the-weather-shared-in-a-week").check();
    await planner.answered();
    assert.equal(await planner.at("analysis-rows").inputValue(), "weekly counts of a site");
  }));

test("the test is chosen with the likelihood it is made for, and says what it is", () =>
  withPlanner(async (planner) => {
    await planner.finished();
    assert.match(await planner.text("fits"), /needs at least 200 simulated surveys/);
    await planner.simulate(200);
    await planner.finished();
    assert.match(await planner.text("fits"), /Calibrated test: .* must exceed/);
    assert.match(await planner.text("fits"), /fallen by no more than 30 %/);
    await planner.page.locator("summary", { hasText: /^Analysis$/ }).click();
    await planner.choose("analysis-test", "likelihood ratio");
    await planner.answered();
    assert.equal(await planner.at("analysis-likelihood").inputValue(), "maximum");
    assert.match(await planner.text("fits"), /Test: likelihood ratio; the root of its statistic, with the sign of the estimate, must exceed 1.960/);
    await planner.choose("analysis-test", "t, Satterthwaite's degrees of freedom");
    await planner.answered();
    assert.equal(await planner.at("analysis-likelihood").inputValue(), "restricted");
  }));

test("the method sheet tells the false alarms of every test", () =>
  withPlanner(async (planner) => {
    await planner.page.getByText("The method, and the false alarms of every test").click();
    const rows = await planner.page
      .locator("#size-summary tbody tr")
      .evaluateAll((rows) => rows.map((r) => [...r.cells].map((c) => c.textContent.trim())));
    assert.equal(rows.length, 9);
    const [calibrated] = rows;
    assert.match(calibrated[0], /calibrated/);
    assert.equal(calibrated.at(-1), "144 of 144");
    assert.ok(rows.some((r) => r[2].endsWith("↑ too many")));
    await planner.page.getByText("All 144 worlds").click();
    assert.equal(await planner.page.locator("#size-cells tbody tr").count(), 48);
    const before = await planner.text("size-cells");
    await planner.choose("size-k", "Poisson");
    assert.notEqual(await planner.text("size-cells"), before);
    await assertAccessible(planner.page);
  }));
