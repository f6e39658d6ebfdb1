// Loads the compiled page and starts it. Separate from boot.js because it uses module syntax, which a
// browser that fails the checks there may be unable to read.
import { start } from "./program.js";
import { begin } from "./offline.js";

try {
  // For whoever wants to know how much memory is in use: browser tests do.
  window.leastcatchMemory = await start();
  window.leastcatchBoot.ready();
  begin();
} catch (error) {
  console.error(error);
  window.leastcatchBoot.fail(
    `Leastcatch could not be started: ${error.message ?? error}. Please load the page again.`,
  );
}
