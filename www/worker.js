// The start of a worker: loads the compiled program, which then speaks first.
import { start } from "./program.js";

// A rejected promise in a worker is not seen by the page; an exception outside of any promise is, as the
// error event of the Worker.
start()
  .then((memory) => {
    // For whoever wants to know how much memory is in use: browser tests do.
    globalThis.leastcatchMemory = memory;
  })
  .catch((error) => {
    setTimeout(() => {
      throw error;
    });
  });
