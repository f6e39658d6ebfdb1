// By-catch groups come, change their name and class, and go, and the toll goes with them.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";

/** Groups of the toll's table with their class, in order. */
function tolled(planner) {
  return planner.page
    .locator("#toll-table tbody tr")
    .evaluateAll((rows) =>
      rows.map((row) => `${row.cells[0].textContent}: ${row.cells[1].textContent}`),
    );
}

const DEMO = [
  "ground beetles: target",
  "spiders: arthropod",
  "shrews: vertebrate",
  "great bronze carabid: protected",
  "all animals: ",
  "all animals without the fall: ",
];

test("a group is added, named, classed and removed", () =>
  withPlanner(async (planner) => {
    const plain = (lines) => lines.map((line) => line.replace(/: (\w+?)s?( .*)?$/, ": $1"));
    assert.deepEqual(plain(await tolled(planner)), DEMO);

    await planner.at("add-group").click();
    await planner.answered();
    assert.equal((await tolled(planner)).length, 7);

    await planner.enter("group-3-name", "newts");
    await planner.choose("group-3-class", { index: 1 });
    await planner.answered();
    assert.match((await tolled(planner))[4], /^newts: vertebrate/);

    await planner.type("premises.bycatch[3].catch_per_trap_week", "500");
    await planner.answered();
    const toll = planner.page.locator("#toll-table tbody tr", { hasText: "newts" });
    assert.ok(parseFloat((await toll.locator("td").nth(1).textContent()).replace(/\D/g, "")) > 1e5);
    // The picture has the same groups, vertebrates and protected animals below the others.
    const drawn = await planner.text("toll-figure");
    const places = ["spiders: ", "on a scale of their own", "shrews: ", "newts: "].map((words) => drawn.indexOf(words));
    assert.ok(places.every((place, i) => place > (i ? places[i - 1] : 0)), `${places} in ${drawn}`);
    const csv = await planner.saved("save-toll-csv");
    assert.match(csv.text, /^newts,vertebrates,/m);

    await planner.page.getByRole("button", { name: "Remove newts" }).click();
    await planner.answered();
    assert.deepEqual(plain(await tolled(planner)), DEMO);
  }));

test("the group removed is the one whose button it was", () =>
  withPlanner(async (planner) => {
    await planner.page.getByRole("button", { name: "Remove spiders" }).click();
    await planner.answered();
    assert.deepEqual(
      (await tolled(planner)).map((line) => line.split(":")[0]),
      ["ground beetles", "shrews", "great bronze carabid", "all animals", "all animals without the fall"],
    );
    // The fields below moved up with their groups.
    assert.equal(await planner.at("group-0-name").inputValue(), "shrews");
    assert.equal(await planner.at("premises.bycatch[0].catch_per_trap_week").inputValue(), "0.01");
  }));

test("two groups of one name are refused beside the name", () =>
  withPlanner(async (planner) => {
    await planner.enter("group-1-name", "spiders");
    await planner.at("blocked").getByText("a name that no other group has").waitFor();
    await planner.page
      .locator("fieldset.group", { has: planner.at("group-1-name") })
      .locator(".problem", { hasText: "a name that no other group has" })
      .waitFor();
    await planner.enter("group-1-name", "mice");
    await planner.at("blocked").waitFor({ state: "detached" });
    await planner.answered();
    assert.match((await tolled(planner))[2], /^mice/);
  }));
