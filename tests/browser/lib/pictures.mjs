// Screenshots of what the tests see, written to the target folder for people to look at.
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { join } from "node:path";

const folder = fileURLToPath(new URL("../../../target/screenshots/", import.meta.url));

/** The path of a screenshot of that name; its folder is there. */
export async function picture(name) {
  await mkdir(folder, { recursive: true });
  return join(folder, name);
}
