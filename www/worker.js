// The start of a worker: loads the compiled engine, which then speaks first. It is compiled twice: with vector
// instructions, which are faster, and without, for browsers that lack them. Both give the same numbers.

// The smallest module with a vector instruction in it.
const vectors = WebAssembly.validate(
  Uint8Array.of(
    0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
  ),
);

// A rejected promise in a worker is not seen by the page; an exception outside of any promise is, as the
// error event of the Worker.
import(vectors ? "./pkg/worker_simd.js" : "./pkg/worker.js")
  .then(({ default: init }) => init())
  .then(({ memory }) => {
    // For whoever wants to know how much memory is in use: browser tests do.
    globalThis.leastcatchMemory = memory;
  })
  .catch((error) => {
    setTimeout(() => {
      throw error;
    });
  });
export {};
