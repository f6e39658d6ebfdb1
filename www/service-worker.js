// Keeps the page for use without a network. It asks this site alone, for the files in site-files.json, which
// `cargo xtask build` writes, and sends nothing.
//
// - Each version of the site has a cache of its own. It counts once it holds its own list, which is put in last.
// - Each time a page is opened the list is asked for first. When it names the cached version, the files come from the
//   cache; otherwise from the network, so that nobody sees stale files, and a new cache is filled meanwhile.
// - Without a network, or with a very slow one, the files come from the cache.
// - The program lies on the site twice; the one that this browser does not run is not kept.
"use strict";

importScripts("vectors.js");

const LIST = "site-files.json";
const SCOPE = self.registration.scope;
const NAME = `leastcatch ${SCOPE} `;
// How long to wait for the list while a page is opened.
const PATIENCE = 4000;

// Whether the cached version is known to be the newest, or the only one that can be had. Forgotten with every start of
// this worker; then the network is asked first.
let trusted = false;

const address = (name) => new URL(name, SCOPE).href;

/** The name of the newest whole cache with its list, if there is one. */
async function whole() {
  for (const name of (await caches.keys()).filter((one) => one.startsWith(NAME)).reverse()) {
    const list = await (await caches.open(name)).match(address(LIST));
    if (list) return { name, list: await list.json() };
  }
  return null;
}

/** The list as it is on the site now. */
async function asked(patience) {
  const signal = patience ? AbortSignal.timeout(patience) : undefined;
  const answer = await fetch(address(LIST), { cache: "no-store", signal });
  if (!answer.ok) throw new Error(`${LIST}: ${answer.status}`);
  return answer.json();
}

async function hash(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Whether a file belongs to the program that this browser does not run. */
const needless = (file) => file.startsWith("pkg/") && file.startsWith("pkg/plain/") === self.leastcatchVectors;

let filling = null;

/** Fills the cache of a version and removes the others; once at a time. */
function fill(list) {
  filling ??= fillNow(list).finally(() => {
    filling = null;
  });
  return filling;
}

async function fillNow(list) {
  const old = await whole();
  if (old?.list.version === list.version) return;
  const name = NAME + list.version;
  const cache = await caches.open(name);
  const before = old ? await caches.open(old.name) : null;
  for (const [file, wanted] of Object.entries(list.files)) {
    if (needless(file)) continue;
    // What is the same in the former version is not loaded again.
    const kept = old?.list.files[file] === wanted ? await before.match(address(file)) : null;
    const answer = kept ?? (await fetch(address(file), { cache: "no-cache" }));
    if (!answer.ok) throw new Error(`${file}: ${answer.status}`);
    // A site that is just being replaced gives files of two versions: then not now, but at the next visit.
    if (!kept && (await hash(await answer.clone().arrayBuffer())) !== wanted) {
      throw new Error(`${file} is not the one in ${LIST}`);
    }
    // What came by way of another address cannot be given for a page that is opened.
    const plain = answer.redirected ? new Response(answer.body, { headers: answer.headers }) : answer;
    await cache.put(address(file), plain);
  }
  await cache.put(address(LIST), new Response(JSON.stringify(list), { headers: { "Content-Type": "application/json" } }));
  for (const one of await caches.keys()) {
    if (one.startsWith(NAME) && one !== name) await caches.delete(one);
  }
}

/** A failure to fill leaves the former cache as it was; the next visit tries again. */
const fillQuietly = (list) => fill(list).catch(() => undefined);

self.addEventListener("install", (event) => {
  event.waitUntil(self.skipWaiting());
});

self.addEventListener("activate", (event) => {
  event.waitUntil(asked().then(fill).catch(() => undefined));
});

/** A page is being opened: finds out whose files it gets. */
async function open(event) {
  const cached = await whole();
  try {
    const list = await asked(cached ? PATIENCE : 0);
    trusted = cached?.list.version === list.version;
    if (!trusted) event.waitUntil(fillQuietly(list));
  } catch {
    trusted = cached !== null;
  }
}

async function fromCache(request) {
  const cached = await whole();
  if (!cached) return undefined;
  const url = new URL(request.url);
  url.search = "";
  url.hash = "";
  const path = url.href === SCOPE ? address("index.html") : url.href;
  return (await caches.open(cached.name)).match(path);
}

async function answer(event) {
  const { request } = event;
  // What stands behind # is the scenario in the link, and no part of the file.
  const path = request.url.slice(SCOPE.length).split(/[?#]/)[0];
  if (request.mode === "navigate" && ["", "index.html"].includes(path)) await open(event);
  if (trusted && path !== LIST) {
    const kept = await fromCache(request);
    if (kept) return kept;
  }
  try {
    return await fetch(request);
  } catch (error) {
    const kept = await fromCache(request);
    if (kept) return kept;
    throw error;
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(SCOPE)) event.respondWith(answer(event));
});
