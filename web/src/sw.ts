/// <reference lib="webworker" />
// Keeps the page for when there is no network. It holds the page's own files and nothing of the wearer's: the API, the
// clinic's page and the calendar pass by it untouched. A new version waits until the wearer takes it (update.ts).
import { loadRows, readStanding } from "./log/local";

declare const self: ServiceWorkerGlobalScope;
declare const BUILD: string; // both written in by build.mjs
declare const PRECACHE: readonly string[];

const PREFIX = "plytide-page-";
const OWN = PREFIX + BUILD;

self.addEventListener("install", (event) => {
  takeRoutes(event);
  event.waitUntil(install());
});
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "take over") void self.skipWaiting();
  if (event.data === "claim") event.waitUntil(self.clients.claim());
});

/** Where the browser can, it takes what is kept from the cache itself, and need not wake this worker first. */
function takeRoutes(event: ExtendableEvent): void {
  const install = event as ExtendableEvent & { addRoutes?: (rules: object[]) => Promise<void> };
  void install.addRoutes?.([
    { condition: { urlPattern: { pathname: "/api/*" } }, source: "network" }, // what is sent on leaving is not lost on the way
    { condition: { urlPattern: { pathname: "/assets/*" }, requestMethod: "GET" }, source: "cache" },
    { condition: { urlPattern: { pathname: "/", search: "" }, requestMode: "navigate" }, source: { cacheName: OWN } },
  ]).catch(() => {}); // a browser that knows other rules: the worker answers, as ever
}

/** All files of this build, or none: a page of half a build would fail where nobody can help it. */
async function install(): Promise<void> {
  const cache = await caches.open(OWN);
  await Promise.all(
    PRECACHE.map(async (url) => {
      const hashed = url.startsWith("/assets/");
      const kept = hashed ? await caches.match(url) : undefined; // the same name is the same file
      // A redirected answer in the cache would fail every later navigation.
      const response = kept ?? (await fetch(url, { cache: hashed ? "default" : "reload", redirect: "error" }));
      if (!response.ok) throw new Error(`${url}: ${response.status}`);
      if (url === "/") await cache.put("/?", response.clone()); // the same address, but another key to a cache
      await cache.put(url, response);
    }),
  );
}

/** This build and the one before stay: a page of the old one may still be open and want its parts. */
async function activate(): Promise<void> {
  const before = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== OWN);
  await Promise.all(before.slice(0, -1).map((name) => caches.delete(name)));
  await self.clients.claim();
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (request.mode === "navigate" && url.pathname === "/") event.respondWith(fromCache("/", request));
  else if (url.pathname === "/manifest.webmanifest") event.respondWith(fromCache(url.pathname, request));
  else if (url.pathname.startsWith("/assets/")) event.respondWith(asset(url.pathname, request));
});

/** What this build has under `key`; the network only where the browser has thrown the cache away. */
async function fromCache(key: string, request: Request): Promise<Response> {
  const cache = await caches.open(OWN);
  return (await cache.match(key)) ?? fetch(request);
}

/** A hashed file, of whichever build; what was not kept beforehand (a rarer cut of the font, an icon) is kept when first used. */
async function asset(key: string, request: Request): Promise<Response> {
  const kept = await caches.match(key);
  if (kept) return kept;
  const response = await fetch(request);
  if (response.ok && !response.redirected) await (await caches.open(OWN)).put(key, response.clone());
  return response;
}

// Where the browser has it: called when the network is back. An open page syncs; else what waits is sent from here. The
// answer is not heard, so the rows stay in the outbox and are settled when the page is next opened.
self.addEventListener("sync", (event) => (event as ExtendableEvent).waitUntil(networkIsBack()));

async function networkIsBack(): Promise<void> {
  const pages = await self.clients.matchAll({ type: "window" });
  if (pages.length) return pages.forEach((page) => page.postMessage("sync"));
  const { logbook, epoch, cursor } = await readStanding();
  const entries = (await loadRows()).filter((row) => !row.refused).map((row) => row.entry).slice(0, 500);
  if (logbook === null || !entries.length) return;
  await fetch("/api/sync", {
    method: "POST", headers: { "content-type": "application/json" },
    body: JSON.stringify({ schema: 1, epoch, cursor, now: Date.now(), entries }),
  });
}
