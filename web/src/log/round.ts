// One exchange with the server: what goes out, what comes back, and what each answer does to the phone's log. The rules
// are in verdict.ts and outbox.ts.
import { left, MOST, nextBatch, NOTHING, type Batch } from "./batch";
import { amend, clock, current } from "./book";
import { keepSummary, putToRest, sendAllAgain, takeAnswers, takePage } from "./exchange";
import type { Entry } from "./kinds";
import { readStanding, type Standing } from "./local";
import { measure, misdated } from "./measured";
import type { Answer } from "./outbox";
import { pending, taken } from "./saving";
import { newDevice } from "./stamp";
import type { Summary } from "./summary";
import { tellOthers } from "./tabs";
import { talk, waiting, why } from "./talk";
import { verdict } from "./verdict";
import * as view from "./view";
import { rest, soon } from "./when";

const TIMEOUT_MS = 15e3;
export const KEEPALIVE_BYTES = 60_000; // browsers refuse a keepalive request of 64 KiB and more
const LONG_OUTBOX = 500;

type Reply = {
  epoch: string; cursor: number; more: boolean; now: string;
  results: Answer[]; entries: Entry[]; summary: Summary | null;
};

let most = MOST;
let fails = 0;
let strange = false; // the server does not know this phone, and the phone never knew the server: a logbook of its own

/** Begins afresh: something has changed that the last answers say nothing about. */
export function forget(): void {
  fails = 0;
  strange = false;
}

/** Exchanges until both sides have the same, or there is a reason to wait. */
export async function rounds(): Promise<void> {
  await tidy().catch(() => {}); // then the outbox is long once more
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
    const standing = await readStanding();
    // A phone that does not know of a pairing may be one whose storage was cleared while its cookie was not: it asks,
    // with nothing in the request, and carries on only if the server knows it.
    if (standing.logbook === null && strange) return false;
    const batch = standing.logbook === null ? NOTHING : await nextBatch(standing, most);
    if (standing.logbook !== null && talk.value === "idle") talk.value = "sending"; // "offline" stays until a round is done
    return await carry(standing, batch);
  } catch {
    // The phone's own database failed: what the server has taken is taken, what it has not stays where it was.
    why.value = null;
    rest("later", verdict(503, null, fails++).wait);
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
    await sendAllAgain({ epoch: null });
    return true;
  }
  if (act === "halve" && batch.entries.length > 1) {
    most = Math.max(1, Math.floor(batch.entries.length / 2));
    return true;
  }
  if (act === "halve" && batch.entries[0]) {
    const { id, stamp } = batch.entries[0];
    const alone = { id, stamp, r: "refused", code: "too_large", why: (reply as { why?: string } | null)?.why ?? "" } as const;
    await settle(batch, [alone], [], (now) => now);
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

const READING_TRIES = 4;
let behindFor = 0;

async function take(found: Standing, batch: Batch, reply: Reply): Promise<boolean> {
  // A phone cleared of its storage while its cookie stood is known again; what it logged in between goes with it.
  const alone = found.logbook === null;
  if (alone) await sendAllAgain({ logbook: "" });
  const answers = reply.results.map((answer, i) => ({ ...answer, id: batch.entries[i]!.id, stamp: batch.entries[i]!.stamp }));
  const before = waiting.value;
  if (reply.summary) await keepSummary(reply.summary);
  await settle(batch, answers, reply.entries, (now) => ({
    ...now, resend: left(now.resend, batch), epoch: reply.epoch, cursor: reply.cursor, lastSync: Date.now(),
  }));
  await straighten();
  most = Math.min(MOST, most * 2);
  why.value = null;
  talk.value = "idle";
  if (reply.more || alone) return true;
  // The reading was not ready yet: it is fetched when it should be, so that a sign does not wait for the next tap.
  const behind = (view.summary.value?.seq ?? 0) < reply.cursor;
  behindFor = behind ? behindFor + 1 : 0;
  if (behind && behindFor <= READING_TRIES) soon(1000 * 2 ** behindFor);
  if (waiting.value && waiting.value >= before) soon(2000); // written meanwhile; or a server that answers for nothing
  return waiting.value > 0 && waiting.value < before;
}

/** Writes down what was answered and what came, then shows it here and in the other tabs. */
async function settle(batch: Batch, answers: Answer[], page: Entry[], change: (now: Standing) => Standing): Promise<void> {
  const changed = new Set(answers.length ? await takeAnswers(answers, batch.entries) : []);
  for (const { id, stamp } of batch.entries) taken(id, stamp);
  for (const key of await takePage(page, change)) changed.add(key);
  for (const { stamp } of page) clock.see(stamp);
  if (answers.some((answer) => answer.r === "restamped")) clock.beginAgain(newDevice()); // its future is over: on from what stands now
  await view.refresh([...changed], pending);
  tellOthers([...changed]);
}

/** Entries written while the phone's clock was years off get the time at which they were really written. */
async function straighten(): Promise<void> {
  for (const [id, by] of misdated()) {
    const entry = current(id);
    if (entry) await amend(entry, { at: Date.parse(entry.at) - by });
  }
}

/** The body of a request. */
export function request(standing: Standing, entries: readonly Entry[]): string {
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

/** Keeps the outbox short on a phone that has no server to empty it. */
async function tidy(): Promise<void> {
  const rows = [...view.rows.value.values()].filter((row) => !row.refused && !pending.has(row.entry.id));
  if (rows.length <= LONG_OUTBOX) return;
  await view.refresh(await putToRest(rows), pending);
}
