// The compiled program, which is the page and its workers. There are two: one makes random numbers by vector
// instructions, which are faster, the other is for browsers that lack them. Both give the same numbers.
import "./vectors.js";

/** Loads and starts it; gives its memory. */
export async function start() {
  const { default: init } = await import(self.leastcatchVectors ? "./pkg/page.js" : "./pkg/plain/page.js");
  const { memory } = await init();
  return memory;
}
