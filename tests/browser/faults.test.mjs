// What cannot be computed is said where it was typed, and stays as it was typed.
import { test } from "node:test";
import assert from "node:assert/strict";
import { FEW, withPlanner } from "./lib/planner.mjs";

test("text that is no number stays, is answered by the bound, and blocks", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    for (const text of ["many", "1", "2.5", "", "NaN", "2001"]) {
      await planner.type("plan.sites", text);
      assert.equal(await planner.at("plan.sites").inputValue(), text);
      await planner.problem("plan.sites").getByText("a whole number from 2 to 2000").waitFor();
      assert.equal(await planner.at("plan.sites").getAttribute("aria-invalid"), "true");
      await planner.at("blocked").getByText("the last scenario that could be read").waitFor();
    }
    assert.equal(await planner.digest(), digest);

    await planner.type("plan.sites", "25");
    await planner.at("blocked").waitFor({ state: "detached" });
    assert.equal(await planner.text("plan.sites-problem"), "");
    assert.equal(await planner.at("plan.sites").getAttribute("aria-invalid"), "false");
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
  }));

test("numbers that do not fit each other block until they do", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    await planner.type("plan.first_week", "50");
    await planner.problem("plan.weeks").getByText("at most 4 weeks from week 50").waitFor();
    await planner.at("blocked").getByText("plan.weeks is 5").waitFor();
    // There is no answer for such a plan, not even the former one.
    assert.equal(await planner.page.locator("#digest").count(), 0);
    assert.equal(await planner.page.locator("#preview").count(), 0);

    await planner.type("plan.first_week", "21");
    await planner.at("blocked").waitFor({ state: "detached" });
    await planner.answered();
    assert.equal(await planner.digest(), digest);
  }));

test("a survey too large to simulate is refused with its size", () =>
  withPlanner(async (planner) => {
    await planner.type("plan.years", "40");
    await planner.type("plan.sites", "600");
    await planner.at("blocked").getByText("24000 site-years").waitFor();
  }));

test("seed and number of surveys are refused out of their bounds", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    for (const [id, text, bound] of [
      ["replicates", "0", "1 to 100000"],
      ["replicates", "100001", "1 to 100000"],
      ["seed", "-1", "0 to 18446744073709551615"],
      ["seed", "one", "0 to 18446744073709551615"],
    ]) {
      await planner.enter(id, text);
      await planner.page.locator(".settings .problem", { hasText: bound }).waitFor();
    }
    assert.equal(await planner.digest(), digest);
    await planner.enter("seed", "2");
    await planner.simulate(FEW);
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
  }));
