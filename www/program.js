// The compiled program, which is the page and its workers. It is compiled twice: with vector instructions, which are
// faster, and without, for browsers that lack them. Both give the same numbers.
import "./vectors.js";

/** Loads and starts it; gives its memory. */
export async function start() {
  const { default: init } = await import(self.leastcatchVectors ? "./pkg/page.js" : "./pkg/plain/page.js");
  const { memory } = await init();
  return memory;
}
