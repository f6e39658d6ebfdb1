// Several species at once: the demo's table, digest by digest as on the command line, and species that come and go.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";
import { assertAccessible } from "./lib/axe.mjs";
import { several } from "./lib/command_line.mjs";

const DEMO = "four ground beetles in hay meadows: several species";

/** Cells of the table, row by row. */
function rows(planner) {
  return planner.page
    .locator("#several-table tbody tr")
    .evaluateAll((rows) => rows.map((r) => [...r.cells].map((c) => c.textContent.trim())));
}

/** Waits until all surveys of all species are in. */
async function computed(planner) {
  await planner.page.locator("#several-digest", { hasText: /^[0-9a-f]{16}$/ }).waitFor({ timeout: 60_000 });
}

test("the demo of four species answers for the list as the command line does", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: DEMO });
    await planner.answered();
    assert.match(await planner.text("fits"), /one of 4 species/);
    await planner.at("find-several").click();
    await computed(planner);
    const told = await several("meadow-several.json", planner.replicates, 1);
    assert.equal(await planner.text("several-digest"), told.result_digest);
    assert.deepEqual(
      (await rows(planner)).map((cells) => cells[0]),
      told.species.map((one) => one.name),
    );
    const lines = await planner.text("several-lines");
    assert.match(lines, /chance that at least 75 % of the 4 species \(3 of them\) are answered/);
    assert.match(lines, /false alarms are expected over the list/);
    assert.match(lines, /independent of each other/);
    await assertAccessible(planner.page);

    // Another control is another question: the list is computed anew by itself.
    await planner.choose("several-control", "none");
    await planner.answered();
    await planner.finished();
    await computed(planner);
    await planner.at("find-several").click();
    await computed(planner);
    const plain = await rows(planner);
    assert.equal(plain.length, 4);
    assert.equal(plain[0].length, 6);
  }));

test("species are added, named and removed, and the toll goes with them", () =>
  withPlanner(async (planner) => {
    assert.equal(await planner.at("find-several").count(), 0);
    await planner.at("add-species").click();
    await planner.answered();
    await planner.at("find-several").waitFor();
    await planner.enter("species-0-name", "click beetles");
    await planner.answered();
    const toll = planner.page.locator("#toll-table tbody tr", { hasText: "click beetles" });
    await toll.waitFor();
    await planner.type("premises.others[0].catch_per_trap_week", "2");
    await planner.answered();

    // A name that is taken is refused beside the name.
    await planner.enter("species-0-name", "spiders");
    await planner.at("blocked").getByText("a name that neither the target nor another").waitFor();
    await planner.enter("species-0-name", "click beetles");
    await planner.at("blocked").waitFor({ state: "detached" });
    await planner.answered();

    await planner.page.getByRole("button", { name: "Remove click beetles" }).click();
    await planner.answered();
    assert.equal(await toll.count(), 0);
    assert.equal(await planner.at("find-several").count(), 0);
  }));

test("another question leaves the other species behind where it asks of one", () =>
  withPlanner(async (planner) => {
    await planner.choose("demo", { label: DEMO });
    await planner.answered();
    await planner.choose("question-kind", "no_worse");
    await planner.answered();
    assert.equal(await planner.at("species-2-name").count(), 1);
    await planner.choose("question-kind", "absence");
    await planner.answered();
    assert.equal(await planner.at("species-0-name").count(), 0);
    assert.equal(await planner.at("add-species").count(), 0);
  }));
