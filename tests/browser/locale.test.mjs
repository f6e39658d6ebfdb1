// Numbers are written and read as the visitor's browser does; what is computed and what machines read is the same.
import { test } from "node:test";
import assert from "node:assert/strict";
import { withPlanner } from "./lib/planner.mjs";

const YEAR_SD = "premises.target.year_sd";
const DISPERSION = "premises.target.dispersion_k";

/** Runs `use(planner)` as a visitor with that language. */
const visited = (locale, use) => withPlanner(use, { locale });

/** What a visitor with that language sees of the demo, once all of it is computed, and saves. */
async function seen(locale) {
  const all = {};
  await visited(locale, async (planner) => {
    await planner.finished();
    all.digest = await planner.digest();
    all.smallest = await planner.value("smallest");
    all.toll = await planner.value("toll");
    all.preview = await planner.text("preview");
    all.notes = await planner.text("fits");
    all.csv = (await planner.saved("save-csv")).text;
    all.file = (await planner.saved("save")).text;
    await planner.at("heat-grid").waitFor({ timeout: 30_000 });
    all.map = (await planner.saved("save-map-csv")).text;
  });
  return all;
}

/** English digits as a German writes them. */
const inGerman = (text) =>
  text.replace(/\d[\d.,]*\d/g, (number) => number.replace(/[.,]/g, (mark) => (mark === "." ? "," : ".")));

test("a German visitor reads German numbers of the same answer, and saves what machines read", async () => {
  const english = await seen("en-GB");
  const german = await seen("de-DE");
  assert.match(english.smallest, /^\d+\.\d %$/);
  assert.match(english.toll, /^\d{1,3}(,\d{3})+$/);
  assert.match(german.smallest, /^\d+,\d %$/);
  assert.match(german.toll, /^\d{1,3}(\.\d{3})+$/);
  for (const part of ["smallest", "toll", "preview"]) {
    assert.equal(german[part], inGerman(english[part]), part);
  }
  assert.match(german.notes, /\d,\d/);
  assert.doesNotMatch(german.notes, /\d\.\d{1,2}(?!\d)/);
  // Neither the answer nor a file hangs on who reads.
  for (const part of ["digest", "csv", "file", "map"]) {
    assert.equal(german[part], english[part], part);
  }
  assert.match(german.csv, /\d\.\d/);
});

test("a decimal comma is taken where it is the visitor's, and shown again", () =>
  visited("de-DE", async (planner) => {
    const before = await planner.digest();
    await planner.type(YEAR_SD, "0,2");
    await planner.answered();
    const digest = await planner.digest();
    assert.notEqual(digest, before);
    assert.equal(await planner.at(YEAR_SD).inputValue(), "0,2");
    assert.equal((await planner.problem(YEAR_SD).textContent()).trim(), "");
    const { text } = await planner.saved("save");
    assert.equal(JSON.parse(text).premises.target.year_sd.value, 0.2);
    // The full stop of files is understood too.
    await planner.type(YEAR_SD, "0.2");
    await planner.answered();
    assert.equal(await planner.digest(), digest);
  }));

test("a mark that could be either is asked about and not guessed", async () => {
  for (const [locale, unclear, either, clear] of [
    ["de-DE", "1.234", /could be 1234 or 1,234/, "1,234"],
    ["en-GB", "1,234", /could be 1234 or 1\.234/, "1.234"],
  ]) {
    await visited(locale, async (planner) => {
      await planner.type(DISPERSION, unclear);
      await planner.problem(DISPERSION).getByText(either).waitFor();
      assert.equal(await planner.at(DISPERSION).getAttribute("aria-invalid"), "true");
      await planner.type(DISPERSION, clear);
      await planner.answered();
      assert.equal(await planner.at(DISPERSION).getAttribute("aria-invalid"), "false");
      const { text } = await planner.saved("save");
      assert.equal(JSON.parse(text).premises.target.dispersion_k.value, 1.234);
    });
  }
});

test("lists take a decimal comma beside a semicolon, and alone do not guess", () =>
  visited("de-DE", async (planner) => {
    await planner.type("limits.exposure_days", "3,5");
    await planner.problem("limits.exposure_days").getByText("does not fit").waitFor();
    await planner.type("limits.exposure_days", "3,5; 7");
    await planner.problem("limits.exposure_days").getByText("does not fit").waitFor({ state: "detached" });
    const { text } = await planner.saved("save");
    assert.deepEqual(JSON.parse(text).limits.exposure_days, [3.5, 7]);
  }));
