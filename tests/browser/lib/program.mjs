// The compiled program, which the page loads first and then each of its workers.

/** Has the handler answer what workers ask for of the program; the page, which is the first to ask, gets it. */
export async function whenWorkersAsk(page, handle) {
  let pages = true;
  await page.route("**/page_bg.wasm", (route) => {
    if (!pages) return handle(route);
    pages = false;
    return route.fallback();
  });
}
