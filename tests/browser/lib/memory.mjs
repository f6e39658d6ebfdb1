// How much memory the compiled page and its workers have taken. It never shrinks, so this is the most they ever used.

/** Bytes of the page and of each worker that has loaded its engine. */
export async function compiledMemory(page) {
  const own = () => globalThis.leastcatchMemory?.buffer.byteLength;
  const workers = [];
  for (const worker of page.workers()) {
    const bytes = await worker.evaluate(own);
    if (bytes) workers.push(bytes);
  }
  return { page: await page.evaluate(own), workers };
}
