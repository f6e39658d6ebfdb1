// From the question to its answer: what is typed is computed, and at once where a closed form allows.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { FEW, Planner, withPlanner } from "./lib/planner.mjs";
import { answer } from "./lib/command_line.mjs";

const FALL = "question.effect.decline.change_percent";

test("the page begins with a demo, computes it and says when it is done", () =>
  withPage(async (page) => {
    const planner = new Planner(page);
    await page.goto(siteUrl);
    await planner.state("running").waitFor();
    assert.match(await planner.at("scenario-title").inputValue(), /Aldermoor/);
    assert.equal(await planner.at(FALL).inputValue(), "30");
    await planner.simulate(FEW);
    await planner.finished();
    assert.match(await planner.value("power"), /^\d+(\.\d)? %$/);
    assert.match(await planner.digest(), /^[0-9a-f]{16}$/);
    assert.equal(await page.locator("#curve svg").count(), 1);
  }));

test("a number of the sentence changes the preview at once and the answer in the end", () =>
  withPlanner(async (planner) => {
    const [preview, digest] = [await planner.text("preview"), await planner.digest()];
    await planner.simulate(1000);
    await planner.type(FALL, "40");
    await planner.state("running").waitFor();
    const now = await planner.text("preview");
    assert.notEqual(now, preview);
    assert.match(await planner.text("progress"), /of \d+ simulated surveys/);
    await planner.simulate(FEW);
    await planner.answered();
    assert.equal(await planner.text("preview"), now);
    assert.notEqual(await planner.digest(), digest);
  }));

test("whether the plan answers is said and marked", () =>
  withPlanner(async (planner) => {
    const verdict = planner.at("verdict");
    for (const [sites, surely, said] of [["6", "no", /^The plan does not answer/], ["60", "yes", /^The plan answers/]]) {
      await planner.type("plan.sites", sites);
      await planner.type("plan.years", "12");
      await planner.simulate(300);
      await planner.answered();
      assert.match(await verdict.textContent(), said);
      assert.equal(await verdict.getAttribute("data-answers"), surely);
    }
  }));

test("each part of the question and of the analysis counts", () =>
  withPlanner(async (planner) => {
    let power = await planner.value("power");
    const digest = await planner.digest();
    // Of the same simulated surveys more are found when only a fall counts.
    await planner.choose("question-direction", "stated");
    await planner.answered();
    assert.ok(parseFloat(await planner.value("power")) > parseFloat(power));
    assert.equal(await planner.digest(), digest);

    power = await planner.value("power");
    await planner.type("question.significance", "30");
    await planner.answered();
    assert.ok(parseFloat(await planner.value("power")) > parseFloat(power));
    await planner.type("question.wanted_power", "99");
    await planner.answered();
    assert.match(await planner.text("strip-smallest"), /power 99/);
    await planner.choose("analysis-counts", "Poisson");
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
  }));

test("the controls of the plan change its words, its power and its toll", () =>
  withPlanner(async (planner) => {
    for (const [path, text] of [
      ["plan.sites", "12"],
      ["plan.traps_per_site", "2"],
      ["plan.first_week", "22"],
      ["plan.weeks", "3"],
      ["plan.exposure_days", "3,5"],
      ["plan.years", "8"],
      ["premises.target.catch_per_trap_week", "5"],
      ["premises.trap_loss", "0.3"],
    ]) {
      const before = [await planner.digest(), await planner.text("toll-table")];
      await planner.type(path, text);
      await planner.answered();
      assert.notEqual(await planner.digest(), before[0], path);
      // Lost traps have killed too: the toll alone cannot tell what is lost.
      if (path !== "premises.trap_loss") {
        assert.notEqual(await planner.text("toll-table"), before[1], path);
      }
    }
    assert.match(await planner.text("plan-phrase"), /12 sites.* 2 traps/);
  }));

for (const [file, name] of [
  ["meadow-beetles.json", null],
  ["mountain-moths.json", "moths on a mountain side: a range shift"],
]) {
  test(`the page gives the digits of the command line: ${file}`, () =>
    withPlanner(async (planner) => {
      if (name) await planner.choose("demo", name);
      for (const [replicates, seed] of [
        [FEW, "1"],
        [150, "18446744073709551615"],
      ]) {
        await planner.enter("seed", seed);
        await planner.simulate(replicates);
        await planner.answered();
        const told = await answer(file, replicates, seed);
        assert.equal(await planner.digest(), told.result_digest);
      }
    }));
}
