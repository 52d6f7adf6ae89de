// A new version of the page waits until the wearer says so: swapping it in at will would pull the parts of the old one
// from under an open screen.
import "./App"; // in one piece with the first script: see today/beside.ts
import { signal } from "@preact/signals";

/** True when a new version is downloaded and waits. */
export const updateReady = signal(false);

let waiting: ServiceWorker | null = null;

/** Switches to the new version; the page reloads by itself when it has taken over. */
export function takeUpdate(): void {
  waiting?.postMessage("take over");
}

/** Installs the service worker and watches for the next one. Call once the first screen is up. */
export async function startUpdates(): Promise<void> {
  const workers = navigator.serviceWorker;
  if (!workers) return;
  // Had no worker when it opened: the first one taking over is not a new version. One that goes away is none either.
  let had = workers.controller !== null;
  workers.addEventListener("controllerchange", () => {
    if (had && workers.controller) location.reload();
    had = workers.controller !== null;
  });
  const registration = await workers.register(scriptUrl("/sw.js") as string, { updateViaCache: "none" });
  const look = (worker: ServiceWorker | null) => {
    if (worker?.state !== "installed" || !workers.controller) return;
    waiting = worker;
    updateReady.value = true;
  };
  look(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const worker = registration.installing;
    worker?.addEventListener("statechange", () => look(worker));
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration.update().catch(() => {}); // offline: the next time
  });
}

/** The one address that may become a script, as Trusted Types asks for it. */
function scriptUrl(url: string): unknown {
  const factory = (globalThis as { trustedTypes?: { createPolicy(name: string, rules: object): { createScriptURL(url: string): unknown } } }).trustedTypes;
  return factory ? factory.createPolicy("plytide", { createScriptURL: (u: string) => u }).createScriptURL(url) : url;
}
