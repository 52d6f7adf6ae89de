// Whether and when the log is carried to the server. Only a finished round means "online"; nothing on the screens ever
// waits for one. What a round does is in round.ts, fetched once the first screen is up.
import { computed, signal } from "@preact/signals";
import { onWrite } from "./book";
import type { Entry } from "./kinds";
import type { Standing } from "./local";
import { retry } from "./saving";
import type { Talk } from "./verdict";
import * as view from "./view";

export const KEEPALIVE_BYTES = 60_000; // browsers refuse a keepalive request of 64 KiB and more

export const talk = signal<Talk>("idle");
export const why = signal<string | null>(null);

/** Entries the server does not have yet. */
export const waiting = computed(
  () =>
    [...view.rows.value.values()].filter((row) => !row.refused).length +
    view.standing.value.resend.reduce((sum, part) => sum + part.n - part.sent, 0),
);

/**
 * How this phone stands with its server. `talk` "idle" with `waiting` 0: the server has everything, as of `lastSync`
 * (ms, phone's clock). `paired` false: a logbook on this phone alone. `why`: the server's own sentence, if it gave one.
 */
export const syncState = computed(() => ({
  paired: view.standing.value.logbook !== null,
  talk: talk.value,
  waiting: waiting.value,
  lastSync: view.standing.value.lastSync,
  why: why.value,
}));

let running: Promise<void> | undefined;

/** Sends and fetches until both sides have the same, or the server says to wait. Never rejects. */
export function sync(): Promise<void> {
  running ??= import("./round")
    .then(({ rounds }) => rounds())
    .catch(() => rest("offline", 15e3)) // the page's own file could not be fetched
    .finally(() => (running = undefined));
  return running;
}

let timer: ReturnType<typeof setTimeout> | undefined;
let due = Infinity;
let notBefore = 0;

/** Syncs in `ms`, or earlier if that was already planned; not before the server said. */
export function soon(ms: number): void {
  const at = Math.max(Date.now() + ms, notBefore);
  if (at >= due) return;
  clearTimeout(timer);
  due = at;
  timer = setTimeout(() => {
    due = Infinity;
    void sync();
  }, at - Date.now());
}

/** Waits `wait` ms (null: until something happens), saying why. */
export function rest(next: Talk, wait: number | null): void {
  talk.value = next;
  if (wait === null) return;
  if (next === "offline") void askForSyncEvent();
  if (next === "too_old") void navigator.serviceWorker?.getRegistration().then((worker) => worker?.update()).catch(() => {});
  if (next !== "offline") notBefore = Date.now() + wait; // the server asked for time: it gets it
  soon(wait);
}

/** Starts again at once after a pairing. */
export async function startAfresh(): Promise<void> {
  await running;
  notBefore = 0;
  (await import("./round")).forget();
  return sync();
}

/** Where the browser can: a call of the service worker when the network is back, even with the page closed. */
async function askForSyncEvent(): Promise<void> {
  if (!navigator.serviceWorker?.controller) return;
  const { sync: events } = (await navigator.serviceWorker.ready) as { sync?: { register(tag: string): Promise<void> } };
  await events?.register("plytide").catch(() => {}); // switched off by the user: the other triggers remain
}

/** The body of a request. */
export function request(standing: Standing, entries: readonly Entry[]): string {
  const has = view.summary.value;
  return JSON.stringify({
    schema: 1, epoch: standing.epoch, cursor: standing.cursor, now: Date.now(), entries,
    summary_seq: has?.seq ?? 0, summary_made: has?.now ?? "",
  });
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
