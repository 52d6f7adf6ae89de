// Carrying the log to the server and back: when it begins. Only a finished round means "online"; nothing on the screens
// ever waits for one. What a round does is in round.ts.
import { onWrite } from "./book";
import { forget, KEEPALIVE_BYTES, request, rounds } from "./round";
import { retry } from "./saving";
import * as view from "./view";
import { noWaiting, onDue, rest, soon } from "./when";

let running: Promise<void> | undefined;

/** Sends and fetches until both sides have the same, or the server says to wait. Never rejects. */
export function sync(): Promise<void> {
  running ??= rounds()
    .catch(() => rest("later", 15e3)) // a browser that gives no lock
    .finally(() => (running = undefined));
  return running;
}
onDue.run = sync;

/** Starts again at once after a pairing. */
export async function startAfresh(): Promise<void> {
  await running;
  noWaiting();
  forget();
  return sync();
}

let parted = 0;

/** Sends what waits while the page goes away; the answer is not heard, so the rows stay and are sent again. */
function farewell(): void {
  if (Date.now() - parted < 2000) return; // hidden, then gone: once will do
  parted = Date.now();
  const entries = [...view.rows.value.values()].filter((row) => !row.refused).map((row) => row.entry).slice(0, 50);
  if (!entries.length || view.standing.value.logbook === null) return;
  const body = request(view.standing.value, entries);
  if (body.length < KEEPALIVE_BYTES)
    void fetch("/api/sync", { method: "POST", headers: { "content-type": "application/json" }, body, keepalive: true }).catch(() => {});
}

/** When to sync: after a write, on coming back, every five minutes in view, on going away. Call once. */
export function startSync(): void {
  onWrite(() => soon(1000));
  addEventListener("online", () => soon(0));
  addEventListener("pageshow", (event) => event.persisted && soon(1500));
  addEventListener("pagehide", farewell);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") return farewell();
    soon(1500); // a request fired in the moment of waking up fails on some phones
    void retry();
  });
  setInterval(() => document.visibilityState === "visible" && soon(0), 300e3);
  navigator.serviceWorker?.addEventListener("message", (event: MessageEvent<unknown>) => event.data === "sync" && soon(0));
  soon(1000);
}
