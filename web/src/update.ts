// A new version of the page waits until the wearer says so: swapping it in at will would pull the parts of the old one
// from under an open screen.
import { effect, signal } from "@preact/signals";
import { saving } from "./log/saving";

/** True when a new version is downloaded and waits. */
export const updateReady = signal(false);

/** True when it has taken over, perhaps from another tab, and this page waits: something is typed here and not saved. */
export const renewalWaits = signal(false);

/** Whether something was typed on the screen that is open. It is over when the screen is left, by saving or not. */
const typing = signal(false);

let waiting: ServiceWorker | null = null;

/** Switches to the new version; every page reloads by itself when it has taken over and nothing would be lost by it. */
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
    if (had && workers.controller) renewalWaits.value = true;
    had = workers.controller !== null;
  });
  addEventListener("input", () => (typing.value = true));
  addEventListener("hashchange", () => (typing.value = false));
  effect(() => {
    if (renewalWaits.value && !typing.value && !saving.value.busy && !saving.value.unsaved.length) location.reload();
  });
  const registration = await workers.register(scriptUrl("/sw.js") as string, { updateViaCache: "none" });
  // A page that was still arriving when the worker took over is left out: it asks for itself.
  void workers.ready.then(({ active }) => workers.controller ?? active?.postMessage("claim"));
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
