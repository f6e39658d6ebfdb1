// The start of a worker: loads the compiled engine, which then speaks first.
import init from "./pkg/worker.js";

// A rejected promise in a worker is not seen by the page; an exception outside of any promise is, as the
// error event of the Worker.
init().catch((error) => {
  setTimeout(() => {
    throw error;
  });
});
