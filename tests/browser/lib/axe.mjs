// Accessibility by axe. It is run by evaluation rather than as a script element, which the page's own
// security policy would rightly refuse.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import assert from "node:assert/strict";

const source = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

// WCAG 2.2 AA and everything it builds on.
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** Fails with rule and place for each violation that axe finds on the page as it stands. */
export async function assertAccessible(page) {
  await page.evaluate(source);
  const { violations } = await page.evaluate(
    (tags) => globalThis.axe.run(document, { runOnly: { type: "tag", values: tags }, resultTypes: ["violations"] }),
    TAGS,
  );
  const found = violations.flatMap(({ id, help, nodes }) =>
    nodes.map((node) => `${id} (${help}): ${node.target.join(" ")}`),
  );
  assert.deepEqual(found, [], "axe found barriers");
}
