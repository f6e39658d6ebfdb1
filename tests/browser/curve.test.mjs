// The curve over each axis, its table, and both as files.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";

/** The rows of the curve's table as texts, its header first. */
function table(planner) {
  return planner.page
    .locator("#part-curve table tr")
    .evaluateAll((rows) =>
      rows.map((row) => [...row.cells].map((cell) => cell.textContent.trim())),
    );
}

test("the curve runs over each axis and meets the plan", () =>
  withPlanner(async (planner) => {
    const digest = await planner.digest();
    for (const [axis, label, own] of [
      ["traps", "traps per site", "4"],
      ["weeks", "weeks in a row each year", "5"],
      ["years", "years", "10"],
      ["sites", "sites", "24"],
    ]) {
      await planner.choose("axis", axis);
      await planner.finished();
      const [header, ...rows] = await table(planner);
      assert.match(header[0], new RegExp(`^${label}`));
      const values = rows.map((row) => Number(row[0]));
      assert.ok(values.length >= 4, `${values}`);
      assert.deepEqual(values, [...values].sort((a, b) => a - b));
      assert.ok(rows.some((row) => row[0] === own), `${values} without ${own}`);
      const drawn = await planner.page.locator("#curve svg").textContent();
      assert.ok(drawn.includes(label), axis);
    }
    // The answer is the same whatever the curve runs over.
    assert.equal(await planner.digest(), digest);
  }));

test("an edit moves the curve with the plan", () =>
  withPlanner(async (planner) => {
    await planner.type("plan.sites", "40");
    await planner.finished();
    const values = (await table(planner)).map((row) => row[0]);
    const last = Number(values.at(-1));
    assert.ok(values.includes("40") && last > 70 && last <= 80, `${values}`);
  }));

test("the picture is saved as well-formed SVG with title and description", () =>
  withPlanner(async (planner) => {
    await planner.choose("axis", "years");
    await planner.finished();
    const { name, text } = await planner.saved("save-svg");
    assert.equal(name, "leastcatch-years.svg");
    // Read in an empty page: it carries its styles with it, which the planner's own policy would stop.
    const empty = await planner.page.context().newPage();
    const read = await empty.evaluate((svg) => {
      const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
      const root = parsed.documentElement;
      const of = (tag) => root.querySelector(tag)?.textContent.trim() ?? "";
      return {
        fault: parsed.querySelector("parsererror")?.textContent ?? null,
        root: root.localName,
        title: of("title"),
        description: of("desc"),
        outside: [...root.querySelectorAll("script, image, foreignObject")].length,
      };
    }, text);
    assert.equal(read.fault, null);
    assert.equal(read.root, "svg");
    assert.ok(read.title.length > 5 && read.description.length > 20, JSON.stringify(read));
    assert.equal(read.outside, 0);
  }));

test("the table is saved as CSV with the numbers that are shown", () =>
  withPlanner(async (planner) => {
    await planner.finished();
    const { name, text } = await planner.saved("save-csv");
    assert.equal(name, "leastcatch-sites.csv");
    const [header, ...lines] = text.trim().split(/\r?\n/);
    assert.match(header, /^sites,/);
    const shown = (await table(planner)).slice(1).map((row) => row[0]);
    assert.deepEqual(lines.map((line) => line.split(",")[0]), shown);
    for (const line of lines) {
      const numbers = line.split(",").map(Number);
      assert.ok(numbers.every(Number.isFinite), line);
    }
  }));
