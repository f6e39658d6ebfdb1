// Browser and command line give the same answer, digit by digit, for every question, analysis and other
// choice of the format: one in two web workers and small chunks, the other natively.
import { test } from "node:test";
import assert from "node:assert/strict";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { siteUrl, withPage } from "./lib/browser.mjs";
import { answerOf, schema } from "./lib/command_line.mjs";
import { everyVariant } from "./lib/variants.mjs";

const REPLICATES = 6;
const SEED = 20;

/** The variants that the format accepts, each with the command line's report. */
async function answered(variants) {
  const folder = await mkdtemp(join(tmpdir(), "leastcatch-parity-"));
  const left = variants.map((variant, number) => ({ ...variant, number }));
  const done = [];
  const work = async () => {
    for (let one = left.shift(); one; one = left.shift()) {
      const file = join(folder, `${one.number}.json`);
      await writeFile(file, JSON.stringify(one.scenario));
      try {
        // What only the command line tells beside the report: of what it is, and the report in words.
        const told = await answerOf(file, REPLICATES, SEED);
        const { scenario_digest, seed, replicates, verdict, claim, ...report } = told;
        done.push({ ...one, report });
      } catch (error) {
        // 1: refused input. Anything else is a fault.
        assert.equal(error.code, 1, `${one.name}: ${error.message}`);
      }
    }
  };
  try {
    await Promise.all([work(), work()]);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
  return done.sort((a, b) => a.number - b.number);
}

test("the browser's workers answer as the command line does, for every choice of the format", () =>
  withPage(async (page) => {
    const format = await schema();
    const wanted = await answered(await everyVariant(format));
    // Each question alone has more choices than this.
    assert.ok(wanted.length > 15 * format.properties.question.properties.effect.oneOf.length);

    await page.goto(new URL("check/parity.html", siteUrl).href);
    await page.locator("body[data-ready]").waitFor({ state: "attached" });
    const asked = {
      seed: SEED,
      replicates: REPLICATES,
      scenarios: wanted.map(({ scenario }) => JSON.stringify(scenario)),
    };
    await page.evaluate(
      (detail) => window.dispatchEvent(new CustomEvent("answer", { detail })),
      JSON.stringify(asked),
    );
    await page.locator("li").nth(wanted.length - 1).waitFor({ state: "attached", timeout: 60_000 });
    const lines = await page.locator("li").allTextContents();
    assert.equal(lines.length, wanted.length);
    for (const [i, { name, report }] of wanted.entries()) {
      assert.ok(lines[i].startsWith("{"), `${name}: ${lines[i]}`);
      assert.match(report.result_digest, /^[0-9a-f]{16}$/, name);
      assert.deepEqual(JSON.parse(lines[i]), report, name);
    }
    // They differ among themselves: the same answer to everything would be no answer.
    assert.ok(new Set(wanted.map(({ report }) => report.result_digest)).size > 8);
  }));
