// The service worker: one hashed set of files, fetched whole or not at all, and
// served from this worker's own cache. It never answers for the interface.
// The office's screens belong to the set too and are kept when first asked for.
const SET = "%set%";
const SHELL = "%shell%";
const FILES = %files%;
const LATER = %later%;

const CACHE_PREFIX = "pentally-";
const CACHE = CACHE_PREFIX + SET;

self.addEventListener("install", (event) => {
  // No skipWaiting here: a form may be open under the older version.
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(FILES)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(takeOver());
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
  if (event.data === "take in") event.waitUntil(self.clients.claim());
  if (event.data === "keep the rest") event.waitUntil(keepTheRest());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/api/") || url.pathname === "/health") return;
  if (request.mode === "navigate") {
    if (isPage(url.pathname)) event.respondWith(kept(SHELL));
  } else if (FILES.includes(url.pathname)) {
    event.respondWith(kept(url.pathname));
  } else if (LATER.includes(url.pathname)) {
    event.respondWith(keptFromNowOn(url.pathname));
  }
});

// A page's address never has a dot in its last part; a file's always has. The
// sheet of tags is the office's to paint, and needs it.
function isPage(path) {
  return path !== "/tags" && !path.slice(path.lastIndexOf("/")).includes(".");
}

// What the browser threw out of the cache is asked of the network, which
// answers 404 for a missing file, never a page.
async function kept(path) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(path);
}

async function keptFromNowOn(path) {
  const cache = await caches.open(CACHE);
  const found = await cache.match(path);
  if (found) return found;
  const fresh = await fetch(path);
  if (fresh.ok) await cache.put(path, fresh.clone());
  return fresh;
}

async function keepTheRest() {
  // Without a network they stay on the list for another day.
  await Promise.allSettled(LATER.map(keptFromNowOn));
}

async function takeOver() {
  const older = await dropOlder();
  await self.clients.claim();
  // Whoever had an older set whole shall not miss a part of this one.
  if (older > 0) keepTheRest();
}

async function dropOlder() {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(CACHE_PREFIX) && name !== CACHE);
  await Promise.all(older.map((name) => caches.delete(name)));
  return older.length;
}
