// The command line, which must give the same answers as the page.
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { setting } from "./settings.mjs";

/** What a command writes to its standard output. */
async function output(...words) {
  const { stdout } = await promisify(execFile)(setting("LEASTCATCH"), words.map(String));
  return stdout;
}

/** What `leastcatch answer` says of the scenario in a file. */
export async function answerOf(file, replicates, seed) {
  const words = ["answer", file, "--json", "--replicates", replicates, "--seed", seed];
  return JSON.parse(await output(...words));
}

/** What `leastcatch answer` says of a file of the demonstration data. */
export function answer(demo, replicates, seed) {
  const file = fileURLToPath(new URL(`../../../demo-data/${demo}`, import.meta.url));
  return answerOf(file, replicates, seed);
}

/** What `leastcatch several` says of a file of the demonstration data. */
export async function several(demo, replicates, seed) {
  const file = fileURLToPath(new URL(`../../../demo-data/${demo}`, import.meta.url));
  const words = ["several", file, "--json", "--replicates", replicates, "--seed", seed];
  return JSON.parse(await output(...words));
}

/** The schema of the scenario format. */
export async function schema() {
  return JSON.parse(await output("schema"));
}
