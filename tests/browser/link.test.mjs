// The scenario in the address: shared, reloaded, opened, and refused without a trace when broken.
import { test } from "node:test";
import assert from "node:assert/strict";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { FEW, Planner, demo, withPlanner } from "./lib/planner.mjs";

const FALL = "question.effect.decline.change_percent";

/** Waits until the address holds the scenario as it is now, and gives the address. */
async function address(planner, before = "") {
  await planner.page.waitForFunction((before) => /#1\./.test(location.href) && location.href !== before, before);
  return planner.page.url();
}

/** What a link must bring along. */
async function shown(planner) {
  const at = (id) => planner.at(id).inputValue();
  return {
    digest: await planner.digest(),
    scenario: await planner.text("scenario-digest"),
    sites: await at("plan.sites"),
    seed: await at("seed"),
    replicates: await at("replicates"),
    axis: await at("axis"),
  };
}

/** Edits something of everything that a link holds. */
async function edited(planner) {
  const before = planner.page.url();
  await planner.type("plan.sites", "13");
  await planner.enter("seed", "18446744073709551615");
  await planner.choose("axis", "years");
  await planner.answered();
  await planner.page.waitForTimeout(600);
  return address(planner, before);
}

test("a link opened in another browser shows the same to the digit", async () => {
  let link, wanted;
  await withPlanner(async (planner) => {
    link = await edited(planner);
    wanted = await shown(planner);
    assert.ok(link.length < 3000, `${link.length} characters`);
  });
  await withPage(async (page) => {
    const planner = new Planner(page);
    planner.replicates = FEW;
    await page.goto(link);
    await planner.answered();
    assert.deepEqual(await shown(planner), wanted);
    assert.equal(page.url(), link);
  });
});

test("a reload shows the same, and what was refused with it", () =>
  withPlanner(async (planner) => {
    await edited(planner);
    await planner.type(FALL, "much");
    await planner.type("plan.years", "7");
    await planner.answered();
    const wanted = await shown(planner);
    await planner.page.reload();
    await planner.answered();
    assert.deepEqual(await shown(planner), wanted);
    assert.equal(await planner.at(FALL).inputValue(), "much");
    await planner.problem(FALL).getByText("“much” does not fit").waitFor();
    assert.equal(await planner.at("plan.years").inputValue(), "7");
  }));

test("the address changes without a step in the browser's history", () =>
  withPlanner(async (planner) => {
    const length = await planner.page.evaluate(() => history.length);
    await edited(planner);
    assert.equal(await planner.page.evaluate(() => history.length), length);
  }));

test("a link opened on the open page is a step that can be undone", () =>
  withPlanner(async (planner) => {
    const before = await shown(planner);
    const link = await edited(planner);
    const wanted = await shown(planner);
    await planner.choose("demo", { index: 2 });
    await planner.answered();
    const other = await shown(planner);
    await planner.page.evaluate((end) => (location.hash = end), new URL(link).hash);
    await planner.page.getByRole("status").filter({ hasText: "Opened from a link" }).waitFor();
    await planner.answered();
    assert.deepEqual(await shown(planner), wanted);
    await planner.at("undo").click();
    await planner.answered();
    assert.deepEqual(await shown(planner), other);
    assert.notDeepEqual(other, before);
  }));

test("a link takes the place of what was kept, which undo brings back", async () => {
  let link;
  await withPlanner(async (planner) => (link = await edited(planner)));
  await withPlanner(async (planner) => {
    await planner.type("plan.sites", "17");
    await planner.answered();
    const mine = await shown(planner);
    await planner.page.goto("about:blank");
    await planner.page.goto(link);
    await planner.page.waitForFunction(() => document.getElementById("plan.sites")?.value === "13");
    await planner.at("undo").click();
    await planner.page.waitForFunction(() => document.getElementById("plan.sites").value === "17");
    await planner.answered();
    assert.deepEqual(await shown(planner), mine);
  });
});

test("links that cannot be read say why and leave the page as it was", () =>
  withPlanner(async (planner) => {
    const link = await edited(planner);
    const before = await shown(planner);
    const end = new URL(link).hash.slice(1);
    for (const [broken, said] of [
      [end.slice(0, -20), /cut or altered/],
      [`${end.slice(0, 40)}A${end.slice(41)}x`, /cut or altered/],
      ["1.", /cut or altered/],
      [end.replace("1.", "2."), /version 2/],
    ]) {
      await planner.page.evaluate((end) => (location.hash = end), broken);
      await planner.page.getByRole("alert").filter({ hasText: said }).waitFor();
      await planner.page.getByRole("alert").filter({ hasText: "stays as it was" }).waitFor();
      await planner.page.getByRole("button", { name: "Close", exact: true }).click();
      await planner.page.waitForFunction((link) => location.href === link, link);
    }
    assert.deepEqual(await shown(planner), before);
  }));

test("a broken link at the start says why and shows what was kept, or a demo", () =>
  withPage(async (page) => {
    const planner = new Planner(page);
    await page.goto(`${siteUrl}#1.abc`);
    await page.getByRole("alert").filter({ hasText: "A demo is shown" }).waitFor();
    await planner.simulate(FEW);
    await planner.type("plan.sites", "19");
    await planner.answered();
    await page.goto("about:blank");
    await page.goto(`${siteUrl}#1.abc`);
    await page.getByRole("alert").filter({ hasText: "worked on last" }).waitFor();
    assert.equal(await planner.at("plan.sites").inputValue(), "19");
  }));

test("a jump to a place of the page is no link", () =>
  withPlanner(async (planner) => {
    const link = await edited(planner);
    const before = await shown(planner);
    await planner.page.evaluate(() => (location.hash = "answer"));
    await planner.page.waitForFunction((link) => location.href === link, link);
    assert.equal(await planner.page.locator(".notice").count(), 0);
    assert.deepEqual(await shown(planner), before);
  }));

test("a scenario too large for a link offers the file instead", () =>
  withPlanner(async (planner) => {
    const scenario = JSON.parse(await demo("meadow-beetles.json"));
    // Notes that cannot be made shorter.
    let [noise, x] = ["", 1n];
    while (noise.length < 9_980) {
      x = (x * 6364136223846793005n + 1442695040888963407n) % 2n ** 64n;
      noise += x.toString(36);
    }
    scenario.notes = noise;
    await planner.openFile("large.json", JSON.stringify(scenario));
    await planner.at("no-link").getByText("too large for a link").waitFor();
    await planner.page.waitForFunction(() => !location.href.includes("#"));
    await planner.at("copy-link").click();
    assert.match(await planner.text("said"), /Save it as a file/);
    // It is kept all the same.
    await planner.page.reload();
    await planner.answered();
    assert.equal(await planner.at("scenario-notes").inputValue(), noise);
    await planner.choose("demo", { index: 1 });
    await planner.at("no-link").waitFor({ state: "detached" });
    await address(planner);
  }));

test("the link is copied, or shown to be copied", async () => {
  await withPlanner(
    async (planner) => {
      const link = await edited(planner);
      await planner.at("copy-link").click();
      await planner.at("said").getByText("The link is copied").waitFor();
      assert.equal(await planner.page.evaluate(() => navigator.clipboard.readText()), link);
    },
    { permissions: ["clipboard-read", "clipboard-write"] },
  );
  await withPage(async (page) => {
    await page.addInitScript(() => {
      Object.defineProperty(Navigator.prototype, "clipboard", { value: undefined });
    });
    const planner = new Planner(page);
    await planner.open();
    const link = await edited(planner);
    await planner.at("copy-link").click();
    await planner.at("said").getByText("copy it from there").waitFor();
    assert.equal(await planner.at("link").inputValue(), link);
    const selected = () => document.activeElement.id === "link" && document.activeElement.selectionEnd > 100;
    await page.waitForFunction(selected);
  });
});

test("there is no link to what is refused, and it says so", () =>
  withPlanner(async (planner) => {
    const link = await edited(planner);
    await planner.type("plan.first_week", "50");
    await planner.at("blocked").waitFor();
    await planner.at("copy-link").click();
    assert.match(await planner.text("said"), /no link/);
    await planner.page.waitForTimeout(600);
    assert.equal(planner.page.url(), link);
    // The reload brings the refused combination back, not the link's older one.
    await planner.page.reload();
    await planner.at("blocked").waitFor();
    assert.equal(await planner.at("plan.first_week").inputValue(), "50");
  }));

test("a browser that refuses storage is told of, and the link still brings everything back", () =>
  withPage(async (page) => {
    await page.addInitScript(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException("full", "QuotaExceededError");
      };
    });
    const planner = new Planner(page);
    await page.goto(planner.url);
    await planner.simulate(FEW);
    await planner.answered();
    await planner.at("not-kept").getByText("does not let the page keep your work").waitFor();
    await edited(planner);
    const wanted = await shown(planner);
    await page.reload();
    await planner.answered();
    assert.deepEqual(await shown(planner), wanted);
  }));
