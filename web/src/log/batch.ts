// What goes into one request: the outbox first, then blocks that have to be sent whole.
import { loadBlocks } from "./exchange";
import type { Entry } from "./kinds";
import { loadRows, type Resend, type Standing } from "./local";
import { pending } from "./saving";

export const MOST = 500;
const MOST_BYTES = 256 * 1024; // a weak connection gets a request of this size through before its time is up

/** `part` is the block that the entries are from; null: the outbox. */
export type Batch = { entries: Entry[]; part: Resend | null };
export const NOTHING: Batch = { entries: [], part: null };

/** The next entries to send, at most `most`; empty when the server has everything. */
export async function nextBatch(standing: Standing, most: number): Promise<Batch> {
  const rows = new Map((await loadRows()).map((row) => [row.entry.id, row]));
  for (const [id, row] of pending) rows.set(id, row);
  const waiting = [...rows.values()].filter((row) => !row.refused).map((row) => row.entry);
  if (waiting.length) return { entries: fit(waiting, most), part: null };
  for (const part of standing.resend) {
    const [block] = await loadBlocks([part.key]);
    const rest = block?.entries.slice(part.sent) ?? [];
    if (rest.length) return { entries: fit(rest, most), part };
  }
  return NOTHING;
}

/** As many of `entries` as one request takes; always at least one, so that a huge entry gets its own answer. */
export function fit(entries: readonly Entry[], most: number): Entry[] {
  let bytes = 0;
  let n = 0;
  for (const entry of entries) {
    bytes += JSON.stringify(entry).length;
    if (n >= most || (n && bytes > MOST_BYTES)) break;
    n++;
  }
  return entries.slice(0, n);
}

/** What is left of `resend` after `batch` was answered for. It may have changed since: what changed is sent again. */
export function left(resend: readonly Resend[], { entries, part }: Batch): Resend[] {
  return resend
    .map((one) => (part && one.key === part.key && one.n === part.n && one.sent === part.sent ? { ...one, sent: one.sent + entries.length } : one))
    .filter((one) => one.sent < one.n);
}
