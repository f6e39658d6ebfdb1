// The command line, which must give the same answers as the page.
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { setting } from "./settings.mjs";

/** What `leastcatch answer` says of a file of the demonstration data. */
export async function answer(demo, replicates, seed) {
  const file = fileURLToPath(new URL(`../../../demo-data/${demo}`, import.meta.url));
  const { stdout } = await promisify(execFile)(setting("LEASTCATCH"), [
    "answer",
    file,
    "--json",
    "--replicates",
    String(replicates),
    "--seed",
    String(seed),
  ]);
  return JSON.parse(stdout);
}
