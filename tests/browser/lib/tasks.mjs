// How long the page is busy at a stretch, by the browser's own record of long tasks.

/** Keeps the longest task of 50 ms or more of whatever page is loaded next in `longestTask`. */
export function watchTasks(page) {
  return page.addInitScript(() => {
    globalThis.longestTask = 0;
    const tasks = new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) {
        globalThis.longestTask = Math.max(globalThis.longestTask, duration);
      }
    });
    tasks.observe({ type: "longtask" });
  });
}
