// Each question with its own sentence.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";

const FALL = "question.effect.decline.change_percent";
const SHIFT = "question.effect.range_shift.distance_per_decade";

test("the demo of the moths asks its own question", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: "moths on a mountain side: a range shift" });
    await planner.at(SHIFT).waitFor();
    assert.equal(await planner.at(SHIFT).inputValue(), "110");
    assert.equal(await planner.at(FALL).count(), 0);
    assert.equal(await planner.at("gradient-unit").inputValue(), "m");
    assert.equal(await planner.at("plan.transect.lowest").inputValue(), "500");
    await planner.answered();
    assert.match(await planner.text("strip-smallest"), /m.*a decade/);
    assert.match(await planner.text("preview"), /smallest move .* a decade/);

    const digest = await planner.digest();
    await planner.type(SHIFT, "-60");
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
  }));

test("no shift at all is no question", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: "moths on a mountain side: a range shift" });
    await planner.type(SHIFT, "0");
    await planner.problem(SHIFT).getByText("other than 0").waitFor();
    await planner.at("blocked").waitFor();
    await planner.type(SHIFT, "50");
    await planner.at("blocked").waitFor({ state: "detached" });
    await planner.answered();
  }));

test("the question can be turned and turned back", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    await planner.choose("question-kind", "range_shift");
    await planner.at(SHIFT).waitFor();
    await planner.at("premises.gradient.optimum").waitFor();
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);

    await planner.choose("question-kind", "decline");
    await planner.at(FALL).waitFor();
    await planner.at("plan.transect.lowest").waitFor({ state: "detached" });
    await planner.answered();
    assert.equal(await planner.digest(), digest);
  }));

test("a field refused in one question does not block the other", () =>
  withPlanner(async (planner) => {
    await planner.type(FALL, "much");
    await planner.at("blocked").waitFor();
    await planner.choose("question-kind", "range_shift");
    await planner.at(SHIFT).waitFor();
    await planner.at("blocked").waitFor({ state: "detached" });
  }));
