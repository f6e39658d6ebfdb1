// Keeps the page for use without a network, where the browser can, and tells the page of a newer version of itself.
// Nothing but this site's own files is asked for.

const LIST = "site-files.json";
const HOUR = 3_600_000;

/** Asks the site for its version, when the page is looked at again and now and then. */
async function look() {
  const own = document.querySelector("meta[name=leastcatch-version]")?.content;
  if (!own || own === "unbuilt" || document.visibilityState !== "visible") return;
  try {
    const answer = await fetch(LIST, { cache: "no-store" });
    const { version } = answer.ok ? await answer.json() : {};
    if (version && version !== own) window.dispatchEvent(new CustomEvent("leastcatch-newer"));
  } catch {
    // Without a network there is nothing newer to be had.
  }
}

export function begin() {
  // Without it the page works as before, but only with a network.
  navigator.serviceWorker?.register("service-worker.js").catch(() => undefined);
  document.addEventListener("visibilitychange", look);
  window.addEventListener("online", look);
  setInterval(look, HOUR);
}
