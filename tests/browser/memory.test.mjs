// The largest surveys a scenario may ask for must fit into the memory of a small computer.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPage } from "./lib/browser.mjs";
import { Planner, demo } from "./lib/planner.mjs";
import { compiledMemory } from "./lib/memory.mjs";

/** Most bytes of compiled memory that page and workers may use together. */
const MOST = 200e6;

/** 20,000 site-years and 4,000,000 trap-weeks: the largest survey allowed. */
async function largest() {
  const scenario = JSON.parse(await demo("meadow-beetles.json"));
  Object.assign(scenario.plan, { sites: 2000, years: 10, traps_per_site: 10, first_week: 16, weeks: 20 });
  scenario.limits = { sites: 2000, traps_per_site: 10, weeks: 5 };
  return JSON.stringify(scenario);
}

test("the largest survey is computed within 200 MB", () =>
  withPage(
    async (page) => {
      const planner = new Planner(page);
      await planner.open();
      await planner.simulate(4);
      await planner.openFile("largest.json", await largest());
      await planner.page.locator("#plan-phrase", { hasText: "2000 sites" }).waitFor();
      await planner.answered();
      const used = await compiledMemory(page);
      assert.ok(used.page > 0 && used.workers.length > 0 && used.workers.every((bytes) => bytes > 0));
      const total = used.workers.reduce((sum, bytes) => sum + bytes, used.page);
      assert.ok(total < MOST, `${total} bytes: ${JSON.stringify(used)}`);
    },
  ));
