// The service worker: keeps the whole app of one version on the device and serves it from there, online or not.
//
// Installing fetches every file of the build, each held to the hash that the build gave it, so that a half-deployed
// server never becomes an installed app; one failure and the version is not installed. A new version waits until the
// page says `takeOver` (the person agreed, nothing is half typed) or no page is open. The version before it stays in its
// cache for windows that still run it and load a part late; what is older goes.
// Nothing under /api is touched: what is known and what is sent is the store's and the sync's matter.
import { cachedPathFor } from "./route.ts";

declare const self: ServiceWorkerGlobalScope;

/** Filled in by the build (tools/precache.ts): every emitted file with its hash, and a hash over all of them. */
declare const precache: { readonly version: string; readonly files: Readonly<Record<string, string>> };

const { version, files } = precache;
const family = "preen-app-";
const cacheName = family + version;
/** Files named by their contents: one of another version cannot be taken for one of this. */
const partsOfVersions = "assets/";

self.addEventListener("install", (event) => event.waitUntil(fetchEveryFile()));
self.addEventListener("activate", (event) => event.waitUntil(becomeTheOnlyVersion()));
self.addEventListener("message", (event) => {
  if (event.data === "takeOver") void self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
  const { method, url, mode } = event.request;
  const path = cachedPathFor({ method, url, isNavigation: mode === "navigate" }, self.registration.scope);
  if (path === null) return;
  if (Object.hasOwn(files, path)) event.respondWith(fromCache(path, event.request));
  else if (path.startsWith(partsOfVersions)) event.respondWith(fromAnyVersion(event.request));
});

async function fetchEveryFile(): Promise<void> {
  const cache = await caches.open(cacheName);
  const requests = Object.entries(files).map(
    ([path, integrity]) => new Request(urlOf(path), { cache: "reload", integrity }),
  );
  try {
    await cache.addAll(requests);
  } catch (error) {
    await caches.delete(cacheName);
    throw error;
  }
}

async function becomeTheOnlyVersion(): Promise<void> {
  // In the order in which they were made.
  const older = (await caches.keys()).filter((name) => name.startsWith(family) && name !== cacheName);
  for (const name of older.slice(0, -1)) await caches.delete(name);
  // A page that was loaded before there was any worker is served by this one from now on.
  await self.clients.claim();
}

async function fromCache(path: string, request: Request): Promise<Response> {
  const cache = await caches.open(cacheName);
  // The network only when the browser has thrown the file out to make room.
  return (await cache.match(urlOf(path), { ignoreVary: true })) ?? fetch(request);
}

async function fromAnyVersion(request: Request): Promise<Response> {
  return (await caches.match(request, { ignoreVary: true })) ?? fetch(request);
}

function urlOf(path: string): string {
  return new URL(path, self.registration.scope).href;
}
