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

// Each of the other questions: chosen, its numbers edited, answered, and a number that does not fit refused.
const OTHERS = [
  {
    kind: "no_worse",
    number: "question.effect.no_worse.margin_percent",
    other: "40",
    bad: ["question.effect.no_worse.change_percent", "60", "a fall below"],
    verdict: /could make the claim/,
  },
  {
    kind: "difference",
    number: "question.effect.difference.difference_percent",
    other: "-40",
    bad: ["question.effect.difference.difference_percent", "0", "other than 0"],
    verdict: /would find the difference/,
  },
  {
    kind: "before_after",
    number: "question.effect.before_after.change_percent",
    other: "80",
    bad: ["plan.groups.before_years", "0", "at least 1 year"],
    verdict: /would find the change/,
  },
  {
    kind: "occupancy",
    number: "question.effect.occupancy.to_share",
    other: "20",
    bad: ["question.effect.occupancy.to_share", "60", "a share other than"],
    verdict: /would find the change/,
  },
  {
    kind: "absence",
    number: "question.effect.absence.catch_per_trap_week",
    other: "0.001",
    bad: ["question.effect.absence.catch_per_trap_week", "0", "a number from"],
    verdict: /would catch at least one/,
  },
  {
    kind: "inventory",
    number: "question.effect.inventory.wanted_share",
    other: "90",
    bad: ["question.effect.inventory.wanted_share", "100", "a number from"],
    verdict: /would record the wanted share/,
    // What surveys record does not hang on what is wanted of them.
    sameSurveys: true,
  },
  {
    kind: "baseline",
    number: "question.effect.baseline.within_percent",
    other: "45",
    bad: ["question.effect.baseline.within_percent", "0", "a number from"],
    verdict: /would know the mean as closely as wanted/,
    sameSurveys: true,
  },
];

for (const { kind, number, other, bad, verdict, sameSurveys = false } of OTHERS) {
  test(`the question ${kind} is asked, answered and turned back`, () =>
    withPlanner(async (planner) => {
      const before = await planner.digest();
      await planner.choose("question-kind", kind);
      await planner.at(number).waitFor();
      await planner.answered();
      const digest = await planner.digest();
      assert.notEqual(digest, before);
      await planner.type(number, other);
      await planner.finished();
      assert.equal((await planner.digest()) === digest, sameSurveys);
      assert.match(await planner.text("verdict"), verdict);
      const [path, value, words] = bad;
      const kept = await planner.at(path).inputValue();
      await planner.type(path, value);
      await planner.problem(path).getByText(words).waitFor();
      await planner.type(path, kept);
      await planner.at("blocked").waitFor({ state: "detached" });
      await planner.choose("question-kind", "decline");
      await planner.at(FALL).waitFor();
      await planner.answered();
      assert.match(await planner.text("verdict"), /would find the fall/);
    }));
}

test("pairs of sites come in twos and have a premise of their own", () =>
  withPlanner(async (planner) => {
    await planner.choose("question-kind", "difference");
    await planner.at("plan.groups.treated_share").waitFor();
    await planner.choose("plan-paired", { index: 1 });
    await planner.at("premises.pair_correlation").waitFor();
    await planner.at("plan.groups.treated_share").waitFor({ state: "detached" });
    await planner.answered();
    await planner.type("plan.sites", "21");
    await planner.problem("plan.sites").getByText("an even number").waitFor();
    await planner.type("plan.sites", "20");
    await planner.answered();
    assert.match(await planner.text("plan-phrase"), /10 pairs of a treated and an untreated site/);
  }));

test("closing sites after the first catch shows the lives it spares", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: "a moth of the scree: occupied sites" });
    await planner.at("plan-scheme").waitFor();
    await planner.answered();
    assert.match(await planner.text("fits"), /animals are spared/);
    await planner.choose("plan-scheme", { index: 0 });
    await planner.answered();
    assert.doesNotMatch(await planner.text("fits"), /animals are spared/);
    await planner.choose("plan-seasons", { index: 1 });
    await planner.answered();
    assert.equal(await planner.at("plan.years").inputValue(), "10");
  }));

test("the years of a plan come back when a question that traps two of them is left", () =>
  withPlanner(async (planner) => {
    await planner.type("plan.years", "8");
    await planner.choose("question-kind", "occupancy");
    await planner.at("question.effect.occupancy.over_years").waitFor();
    assert.equal(await planner.at("question.effect.occupancy.over_years").inputValue(), "8");
    await planner.choose("question-kind", "range_shift");
    await planner.at("plan.years").waitFor();
    assert.equal(await planner.at("plan.years").inputValue(), "8");
    await planner.answered();
  }));

test("absence has no fits and no law of counts to choose", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: "an alien beetle in orchards: absence" });
    await planner.at("strip-fits").waitFor({ state: "detached" });
    await planner.answered();
    assert.equal(await planner.at("analysis-counts").count(), 0);
    assert.match(await planner.text("strip-smallest"), /finding none still allows/);
  }));

test("an inventory tells its pilot and takes a species table", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: "ground beetles in hay meadows: an inventory" });
    await planner.at("inventory-curve").waitFor();
    await planner.answered();
    assert.equal(await planner.at("strip-fits").count(), 0);
    assert.match(await planner.text("inventory-told"), /37 species are recorded/);
    assert.match(await planner.text("inventory-gain"), /narrow cups/);
    assert.match(await planner.text("strip-alarm"), /false claims/);
    await planner.enter("inventory-further", "4");
    await planner.at("inventory-shared").getByText("4 further trap-weeks").first().waitFor();

    await planner.page.getByText("Give your own pilot's species").click();
    await planner.page.locator("#species-table").fill("stratum,trap_weeks,species,count\nwide,4,a,5\nwide,4,b,x\n");
    await planner.page.locator("#use-species").click();
    await planner.page.getByText("a word is not a count").waitFor();
    await planner.page.locator("#species-table").fill("stratum,trap_weeks,species,count\nwide,4,a,5\nwide,4,b,1\nwide,4,c,2\n");
    await planner.page.locator("#use-species").click();
    await planner.at("inventory-told").getByText("3 species are recorded").waitFor();
    await planner.answered();
  }));
