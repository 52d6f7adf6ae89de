// Carries the log to the server and back, one round trip at a time. Only a finished round means "online"; nothing on
// the screens ever waits for one. Rules and answers: verdict.ts, outbox.ts; when: the end of this file.
import { computed, signal } from "@preact/signals";
import { after, MOST, nextBatch, type Batch } from "./batch";
import { clock, onWrite } from "./book";
import type { Entry } from "./kinds";
import { ALONE, putToRest, readMeta, sendAllAgain, takeAnswers, takePage, writeMeta, type Standing } from "./local";
import { measure } from "./offset";
import type { Answer } from "./outbox";
import { pending, retry, taken } from "./saving";
import type { Summary } from "./summary";
import { tellOthers } from "./tabs";
import { verdict, type Talk } from "./verdict";
import * as view from "./view";

const TIMEOUT_MS = 15e3;
const KEEPALIVE_BYTES = 60_000; // browsers refuse a keepalive request of 64 KiB and more
const LONG_OUTBOX = 500;

type Reply = {
  epoch: string; cursor: number; more: boolean; now: string;
  results: Answer[]; entries: Entry[]; summary: Summary | null;
};

const talk = signal<Talk>("idle");
const why = signal<string | null>(null);

/** Entries the server does not have yet. */
const waiting = computed(
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

let most = MOST;
let fails = 0;
let notBefore = 0;
let running: Promise<void> | undefined;
let strange = false; // the server does not know this phone, and the phone never knew the server: a logbook of its own

/** Sends and fetches until both sides have the same, or the server says to wait. Never rejects. */
export function sync(): Promise<void> {
  running ??= rounds().finally(() => (running = undefined));
  return running;
}

async function rounds(): Promise<void> {
  let more = true;
  while (more) more = await locked(round);
}

/** One tab at a time, and one round at a time: a lock held for longer would outlive a frozen tab. */
function locked(work: () => Promise<boolean>): Promise<boolean> {
  if (!navigator.locks) return work();
  return navigator.locks.request("plytide-sync", { ifAvailable: true }, (lock) => {
    if (lock) return work();
    soon(3000); // the other tab will not know what was written here since
    return false;
  });
}

/** One request. Answers whether another should follow at once. */
async function round(): Promise<boolean> {
  try {
    const standing = { ...ALONE, ...(await readMeta<Standing>("standing")) };
    // A phone that does not know of a pairing may be one whose storage was cleared while its cookie was not: it asks,
    // with nothing in the request, and carries on only if the server knows it.
    if (standing.logbook === null && strange) return false;
    const batch = standing.logbook === null ? { entries: [], part: -1 } : await nextBatch(standing, most);
    if (standing.logbook !== null) talk.value = "sending";
    return await carry(standing, batch);
  } catch (error) {
    // The phone's own database failed: what the server has taken is taken, what it has not stays where it was.
    rest("later", verdict(503, null, fails++).wait);
    why.value = error instanceof Error ? error.message : null;
    return false;
  }
}

/** One request and what its answer asks for. */
async function carry(standing: Standing, batch: Batch): Promise<boolean> {
  const sent = Date.now();
  const { status, retryAfter, reply } = await post(request(standing, batch.entries));
  const { act, talk: next, wait } = verdict(status, retryAfter, fails);
  if (act === "take") {
    fails = 0;
    measure(Date.parse((reply as Reply).now), sent, Date.now());
    return take(standing, batch, reply as Reply);
  }
  if (act === "restart" && fails++ < 3) {
    view.standing.value = await sendAllAgain({ ...standing, epoch: null });
    return true;
  }
  if (act === "halve" && batch.entries.length > 1) {
    most = Math.max(1, Math.floor(batch.entries.length / 2));
    return true;
  }
  if (act === "halve" && batch.entries[0]) {
    const { id, stamp } = batch.entries[0];
    const alone = { id, stamp, r: "refused", code: "too_large", why: (reply as { why?: string } | null)?.why ?? "" } as const;
    await settle(standing, batch, [alone], []);
    return true;
  }
  if (standing.logbook === null) {
    strange = next === "pair_again";
    return false;
  }
  fails++;
  why.value = (reply as { why?: string } | null)?.why ?? null;
  rest(next, wait);
  return false;
}

async function take(found: Standing, batch: Batch, reply: Reply): Promise<boolean> {
  // A phone cleared of its storage while its cookie stood is known again; what it logged in between goes with it.
  const alone = found.logbook === null;
  const known = alone ? await sendAllAgain({ ...found, logbook: "" }) : found;
  const answers = reply.results.map((answer, i) => ({ ...answer, id: batch.entries[i]!.id, stamp: batch.entries[i]!.stamp }));
  const standing = { ...(alone ? known : after(known, batch)), epoch: reply.epoch, cursor: reply.cursor, lastSync: Date.now() };
  const before = waiting.value;
  if (reply.summary) await writeMeta("summary", reply.summary);
  await settle(standing, batch, answers, reply.entries);
  most = Math.min(MOST, most * 2);
  why.value = null;
  talk.value = "idle";
  if (reply.more || alone) return true;
  if (waiting.value && waiting.value >= before) soon(2000); // written meanwhile; or a server that answers for nothing
  return waiting.value > 0 && waiting.value < before;
}

/** Writes down what was answered and what came, then shows it here and in the other tabs. */
async function settle(standing: Standing, batch: Batch, answers: Answer[], page: Entry[]): Promise<void> {
  const changed = new Set(answers.length ? await takeAnswers(answers, batch.entries) : []);
  for (const { id, stamp } of batch.entries) taken(id, stamp);
  for (const key of await takePage(page, standing)) changed.add(key);
  for (const { stamp } of page) clock.see(stamp);
  if (answers.some((answer) => answer.r === "restamped")) clock.last = ""; // its future is over: begin from what stands now
  await view.refresh([...changed], pending);
  tellOthers([...changed]);
}

function request(standing: Standing, entries: readonly Entry[]): string {
  const has = view.summary.value;
  return JSON.stringify({
    schema: 1, epoch: standing.epoch, cursor: standing.cursor, now: Date.now(), entries,
    summary_seq: has?.seq ?? 0, summary_made: has?.now ?? "",
  });
}

/** A request with its time limit. A page that is not the server's answer (a café's log-in page) counts as no answer. */
async function post(body: string): Promise<{ status: number; retryAfter: string | null; reply: unknown }> {
  try {
    const response = await fetch("/api/sync", {
      method: "POST", headers: { "content-type": "application/json" }, body,
      keepalive: body.length < KEEPALIVE_BYTES, redirect: "error", signal: AbortSignal.timeout(TIMEOUT_MS),
    });
    const ours = response.headers.get("content-type")?.startsWith("application/json");
    if (ours) return { status: response.status, retryAfter: response.headers.get("retry-after"), reply: await response.json() };
  } catch {
    // refused, cut off or too slow: all the same to the log
  }
  return { status: 0, retryAfter: null, reply: null };
}

function rest(next: Talk, wait: number | null): void {
  talk.value = next;
  if (wait === null) return;
  if (next === "offline") void askForSyncEvent();
  else notBefore = Date.now() + wait; // the server asked for time: it gets it
  soon(wait);
}

/** Where the browser can: a call of the service worker when the network is back, even with the page closed. */
async function askForSyncEvent(): Promise<void> {
  if (!navigator.serviceWorker?.controller) return;
  const { sync: events } = (await navigator.serviceWorker.ready) as { sync?: { register(tag: string): Promise<void> } };
  await events?.register("plytide").catch(() => {}); // switched off by the user: the other triggers remain
}

let timer: ReturnType<typeof setTimeout> | undefined;
let due = Infinity;

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

/** Starts again at once after a pairing. */
export async function startAfresh(): Promise<void> {
  await running;
  notBefore = 0;
  fails = 0;
  strange = false;
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

/** Keeps the outbox short on a phone that has no server to empty it. */
async function tidy(): Promise<void> {
  const rows = [...view.rows.value.values()].filter((row) => !row.refused && !pending.has(row.entry.id));
  if (rows.length <= LONG_OUTBOX) return;
  view.standing.value = await putToRest(rows, view.standing.value);
  await view.refresh(view.standing.value.resend.map((part) => part.key), pending);
}

/** When to sync: after a write, on coming back, every five minutes in view, on going away. Call once. */
export function startSync(): void {
  onWrite(() => soon(1000));
  addEventListener("online", () => {
    strange = false;
    soon(0);
  });
  addEventListener("pageshow", (event) => event.persisted && soon(1500));
  addEventListener("pagehide", farewell);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") return farewell();
    soon(1500); // a request fired in the moment of waking up fails on some phones
    void retry();
  });
  setInterval(() => document.visibilityState === "visible" && soon(0), 300e3);
  navigator.serviceWorker?.addEventListener("message", (event: MessageEvent<unknown>) => event.data === "sync" && soon(0));
  void tidy().catch(() => {});
  soon(1000);
}
