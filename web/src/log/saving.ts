// Whether what was tapped is on the phone's disk. "Saved" is said when the transaction is complete, never before; what
// could not be saved stays in memory, is tried again at the next write, and is sent if there is a server to send it to.
import { batch, signal } from "@preact/signals";
import type { Entry } from "./kinds";
import { saveRow } from "./local";
import type { Row } from "./outbox";
import * as view from "./view";

/** `busy` writes under way since `since`; `savedAt` the last that completed; `unsaved` and `why` those that could not. Times in ms. */
export type Saving = {
  busy: number;
  since: number | null;
  savedAt: number | null;
  unsaved: readonly Entry[];
  why: "full" | "closed" | null;
};
export const saving = signal<Saving>({ busy: 0, since: null, savedAt: null, unsaved: [], why: null });

/** An entry that is in memory but not on disk; `why` "full": no room; "closed": the phone took the database away. */
export class NotSaved extends Error {
  constructor(readonly entry: Entry, readonly why: "full" | "closed") {
    super(`not saved: ${why}`);
  }
}

/** Rows whose transaction is not complete: under way, or failed. A refresh from disk keeps them in view. */
export const pending = new Map<string, Row>();
const failed = new Map<string, Row>();

let latest: Promise<unknown> = Promise.resolve();

/** Resolves when the write under way, if there is one, has come to its end. */
export const underWay = (): Promise<unknown> => latest;

/** Keeps a row: on the screen at once, on disk when this resolves. Rejects with NotSaved; the row then stays in memory. */
export async function keep(row: Row, replaced?: Entry): Promise<void> {
  pending.set(row.entry.id, row);
  const saved = saveRow(row, replaced);
  latest = saved.catch(() => {});
  batch(() => {
    view.lay(row);
    const { busy, since } = saving.value;
    saving.value = { ...saving.value, busy: busy + 1, since: since ?? Date.now() };
  });
  try {
    await saved;
    settle(row, null);
    for (const other of failed.values()) void again(other);
  } catch (error) {
    const why = error instanceof DOMException && error.name === "QuotaExceededError" ? "full" : "closed";
    settle(row, why);
    throw new NotSaved(row.entry, why);
  }
}

async function again(row: Row): Promise<void> {
  try {
    await saveRow(row);
    settle(row, null, 0);
  } catch {
    // still not: it stays where it is, and is tried again
  }
}

/** Tries once more to save what could not be saved. */
export const retry = (): Promise<unknown> => Promise.all([...failed.values()].map(again));

/** Forgets an unsaved row that the server has taken in the meantime. */
export function taken(id: string, stamp: string): void {
  const row = failed.get(id);
  if (row?.entry.stamp === stamp) settle(row, null, 0);
}

function settle(row: Row, why: "full" | "closed" | null, done = 1): void {
  const { id } = row.entry;
  const newest = pending.get(id) === row; // a later version of the same entry has its own fate
  if (why === null) {
    if (newest) pending.delete(id);
    if (failed.get(id) === row || newest) failed.delete(id);
  } else if (newest) failed.set(id, row);
  const busy = saving.value.busy - done;
  saving.value = {
    busy,
    since: busy ? saving.value.since : null,
    savedAt: why === null ? Date.now() : saving.value.savedAt,
    unsaved: [...failed.values()].map((one) => one.entry),
    why: failed.size ? why ?? saving.value.why : null,
  };
}
