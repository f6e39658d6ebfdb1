// Futures: surveys to look at, each with what its analysis says, as a picture, in words and as a table.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";

test("simulated surveys are shown with their stamps, in both worlds", () =>
  withPlanner(async (planner) => {
    await planner.at("find-futures").click();
    await planner.at("futures-told").getByText("Of these 20 surveys").waitFor({ timeout: 60_000 });
    const picture = await planner.at("futures").textContent();
    assert.equal(picture.match(/found|missed|wrong way/g).length >= 20, true);
    assert.match(picture, /quiet|false alarm/);
    const table = await planner.text("futures-table");
    assert.match(table, /with the fall: 20/);
    const saved = await planner.saved("save-futures");
    assert.equal(saved.name, "leastcatch-futures.svg");
    assert.match(saved.text, /<title/);
    // An edit takes them away: they belong to the plan that was asked about.
    await planner.type("plan.sites", "12");
    await planner.answered();
    assert.equal(await planner.text("futures-told"), "");
  }));

test("each question has futures of its own", () =>
  withPlanner(async (planner) => {
    for (const [kind, words] of [
      ["no_worse", /when the claim is true/],
      ["difference", /treated sites/],
      ["before_after", /treated sites/],
      ["occupancy", /share of sites with a catch/],
      ["range_shift", /mean place of the catch/],
      ["absence", /animals caught/],
    ]) {
      await planner.choose("question-kind", kind);
      await planner.answered();
      await planner.at("find-futures").click();
      await planner.at("futures-told").getByText("Of these 20 surveys").waitFor({ timeout: 60_000 });
      assert.match(await planner.at("futures").textContent(), words, kind);
    }
  }));
