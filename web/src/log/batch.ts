// What goes into one request: the outbox first, then blocks that have to be sent whole.
import type { Entry } from "./kinds";
import { loadBlocks, loadRows, type Standing } from "./local";
import { pending } from "./saving";

export const MOST = 500;
const MOST_BYTES = 256 * 1024; // a weak connection gets a request of this size through before its time is up

/** `part` is the position in `standing.resend` the entries are from, or -1 for the outbox. */
export type Batch = { entries: Entry[]; part: number };

/** The next entries to send, at most `most`; empty when the server has everything. */
export async function nextBatch(standing: Standing, most: number): Promise<Batch> {
  const rows = new Map((await loadRows()).map((row) => [row.entry.id, row]));
  for (const [id, row] of pending) rows.set(id, row);
  const waiting = [...rows.values()].filter((row) => !row.refused).map((row) => row.entry);
  if (waiting.length) return { entries: fit(waiting, most), part: -1 };
  for (const [part, { key, sent }] of standing.resend.entries()) {
    const [block] = await loadBlocks([key]);
    const left = block?.entries.slice(sent) ?? [];
    if (left.length) return { entries: fit(left, most), part };
  }
  return { entries: [], part: -1 };
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

/** Where the phone stands after `batch` was answered for. */
export function after(standing: Standing, { entries, part }: Batch): Standing {
  if (!entries.length) return { ...standing, resend: [] };
  const resend = standing.resend
    .map((one, i) => (i === part ? { ...one, sent: one.sent + entries.length } : one))
    .filter((one) => one.sent < one.n);
  return { ...standing, resend };
}
