// The least plan: found, shown beside smaller ones, taken; or why there is none.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { FEW, Planner, withPlanner } from "./lib/planner.mjs";

/** Rows of the table of plans as texts. */
function plans(planner) {
  return planner.page
    .locator("#least-table tbody tr")
    .evaluateAll((rows) =>
      rows.map((row) => [...row.cells].map((cell) => cell.textContent.trim())),
    );
}

test("the least plan is found beside smaller ones that fall short, and can be taken", () =>
  withPlanner(async (planner) => {
    await planner.finished();
    await planner.at("find-least").click();
    await planner.at("least-plan").waitFor({ timeout: 60_000 });
    await planner.finished();
    const [least, ...smaller] = await plans(planner);
    assert.ok(smaller.length >= 1);
    assert.ok(parseFloat(least[5]) >= 80, least[5]);
    for (const plan of smaller) {
      assert.ok(parseFloat(plan[5]) < 80, plan[5]);
      assert.match(plan[0], /^[a-z ]+: falls short/);
    }
    // One smaller in every direction is among them.
    for (const way of ["fewer sites", "a week fewer", "shorter exposure", "fewer years"]) {
      assert.ok(smaller.some((plan) => plan[0].startsWith(way)), way);
    }
    // The frontier is drawn, named, and told as a table with simulated plans.
    await planner.page.locator("#least-figure svg title").first().waitFor({ state: "attached" });
    const drawn = await planner.at("least-figure").innerHTML();
    assert.match(drawn, /the least plan/);
    const told = await planner.page.locator("#least-frontier tbody tr td:nth-child(4)").allTextContents();
    assert.ok(told.filter((cell) => cell !== "—").length >= 5, told.join());

    await planner.at("take-least").click();
    await planner.answered();
    for (const [i, path] of ["plan.sites", "plan.traps_per_site", "plan.weeks"].entries()) {
      assert.equal(await planner.at(path).inputValue(), least[i + 1]);
    }
    assert.equal(parseFloat(await planner.value("power")), parseFloat(least[5]));
  }));

test("when the limits are too low, what binds and what would help is said", () =>
  withPlanner(async (planner) => {
    await planner.type("limits.sites", "6");
    await planner.type("limits.traps_per_site", "2");
    await planner.type("limits.weeks", "3");
    await planner.answered();
    await planner.at("find-least").click();
    await planner.at("least-none").getByText("what binds: ").waitFor({ timeout: 60_000 });
    await planner.page.locator("#least li", { hasText: "with everything else at its limit" }).waitFor();
    const [surest] = await plans(planner);
    assert.deepEqual(surest.slice(1, 4), ["6", "2", "3"]);
    assert.ok(parseFloat(surest[5]) < 80, surest[5]);
    assert.equal(await planner.page.locator("#take-least").count(), 0);
  }));

test("a search that is cancelled keeps what it has found", () =>
  withPage(async (page) => {
    await page.goto(siteUrl);
    const planner = new Planner(page);
    await planner.finished();
    await planner.at("find-least").click();
    // Points of the frontier stand long before the search is over.
    await page.locator("#least-frontier tbody tr").first().waitFor({ state: "attached", timeout: 60_000 });
    await planner.at("cancel").click();
    await planner.state("cancelled").waitFor();
    const rows = page.locator("#least-frontier tbody tr");
    assert.ok((await rows.count()) > 5, `${await rows.count()} points`);
    await page.locator("#least-stopped, #least-plan[data-complete=false]", { hasText: "was cancelled" }).waitFor();
    // It stays, and nothing more comes.
    await planner.at("axis").selectOption("years");
    await planner.finished();
    await page.locator("#least-stopped, #least-plan[data-complete=false]", { hasText: "was cancelled" }).waitFor();
    // A new search begins anew.
    await planner.at("find-least").click();
    await page.locator("#least-searching, #least-plan", { hasNotText: "was cancelled" }).first().waitFor();
    await planner.at("cancel").click();
    await planner.state("cancelled").waitFor();
    // One of fewer surveys, to save time, is carried to its end.
    await planner.simulate(FEW);
    await planner.answered();
    await planner.at("find-least").click();
    await page.locator("#least-plan[data-complete=true]").waitFor({ timeout: 120_000 });
  }));

test("an edit takes the former least plan away", () =>
  withPlanner(async (planner) => {
    await planner.type("limits.sites", "8");
    await planner.answered();
    await planner.at("find-least").click();
    await planner.page.locator("#least-plan, #least-none").waitFor({ timeout: 60_000 });
    await planner.type("plan.years", "9");
    await planner.page.locator("#least-plan, #least-none").waitFor({ state: "detached" });
    await planner.answered();
  }));
