// Everyone can use the page: by keyboard, on a phone, in light and dark, with a screen reader.
import { test } from "node:test";
import assert from "node:assert/strict";
import { assertAccessible } from "./lib/axe.mjs";
import { withPlanner } from "./lib/planner.mjs";

const PHONE = { viewport: { width: 390, height: 844 } };
const DESK = { viewport: { width: 1280, height: 900 } };

/** Brings everything on the page that is seen only at times: folded parts, notices, tables. */
async function showEverything(planner) {
  await planner.type("limits.sites", "8");
  await planner.type("plan.sites", "many");
  await planner.answered();
  await planner.at("find-least").click();
  await planner.page.locator("#least-table").waitFor({ timeout: 60_000 });
  await planner.answered();
  await planner.openFile("broken.json", "{}");
  await planner.page.getByRole("alert").filter({ hasText: "broken.json" }).waitFor();
  await planner.page.evaluate(() => {
    document.querySelectorAll("details").forEach((part) => (part.open = true));
  });
}

/** Fails with the elements that reach beyond the right edge when the page scrolls sideways. */
async function assertNoSideways(planner) {
  const found = await planner.page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    if (scrollWidth <= clientWidth) return [];
    return [...document.querySelectorAll("body *")]
      .filter((element) => element.getBoundingClientRect().right > clientWidth + 1)
      .map((element) => `${element.tagName} ${element.id} ${element.className}`);
  });
  assert.deepEqual(found, []);
}

for (const colorScheme of ["light", "dark"]) {
  for (const [name, size] of [
    ["desk", DESK],
    ["phone", PHONE],
  ]) {
    test(`no barriers that axe knows of: ${colorScheme}, ${name}`, () =>
      withPlanner(
        async (planner) => {
          await assertAccessible(planner.page);
          await assertNoSideways(planner);
          await showEverything(planner);
          await assertAccessible(planner.page);
          await assertNoSideways(planner);
        },
        { ...size, colorScheme },
      ));
  }
}

test("the range-shift question has no barriers on a phone either", () =>
  withPlanner(
    async (planner) => {
      await planner.choose("demo", { label: "moths on a mountain side: a range shift" });
      await planner.answered();
      await planner.page.evaluate(() => {
        document.querySelectorAll("details").forEach((part) => (part.open = true));
      });
      await assertAccessible(planner.page);
      await assertNoSideways(planner);
    },
    { ...PHONE, colorScheme: "dark" },
  ));

test("everything can be done with the keyboard alone", () =>
  withPlanner(async (planner) => {
    const { page } = planner;
    const focused = () =>
      page.evaluate(() => {
        const element = document.activeElement;
        return element.id || element.textContent.trim();
      });
    /** Tabs on until the wanted element has the focus, and returns what was passed. */
    const tabTo = async (wanted) => {
      const passed = [];
      for (let i = 0; i < 1000; i++) {
        await page.keyboard.press("Tab");
        const now = await focused();
        if (now === wanted) return passed;
        passed.push(now);
      }
      return assert.fail(`${wanted} is not reached: ${passed.join(", ")}`);
    };
    const digest = await planner.digest();

    await tabTo("question.effect.decline.change_percent");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("40");
    await planner.answered();
    assert.notEqual(await planner.digest(), digest);
    assert.equal(await focused(), "question.effect.decline.change_percent", "the focus is lost");

    await tabTo("question-direction");
    await page.keyboard.press("ArrowDown");
    assert.equal(await planner.at("question-direction").inputValue(), "stated");
    await planner.answered();

    await tabTo("find-least");
    await page.keyboard.press("Enter");
    await page.locator("#least-searching, #least-plan, #least-none").first().waitFor();
    await tabTo("plan.sites");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("20");
    assert.equal(await planner.at("plan.sites").inputValue(), "20");
    const passed = await tabTo("add-group");
    assert.ok(passed.includes("plan.years"), `${passed}`);
    assert.ok(passed.includes("premises.trap_loss"), `${passed}`);
    await page.keyboard.press("Space");
    await planner.at("group-3-name").waitFor();
    await planner.answered();
  }));

test("the first tab stop leads past the form to the answer", () =>
  withPlanner(async ({ page }) => {
    // Loaded anew, because the browser remembers where the focus was last.
    await page.reload();
    await page.locator("#digest").waitFor({ state: "attached" });
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    assert.equal(await page.evaluate(() => document.activeElement.id), "answer");
  }));
