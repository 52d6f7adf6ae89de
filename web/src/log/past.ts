// The log beyond what is in memory: any day, any span of time, what an entry was before. Read from disk when it is asked for.
import { settings } from "./book";
import { addDays, localDay } from "./clock";
import { use } from "./db";
import type { Entry } from "./kinds";
import { byTime, mergeInto } from "./merge";
import * as view from "./view";

/** Live entries of one local day (YYYY-MM-DD), oldest first, however long ago. */
export async function entriesOfDay(date: string, withErased = false): Promise<Entry[]> {
  const dayStarts = settings.value.day_starts;
  return (await entriesBetween(addDays(date, -1) + "T", addDays(date, 2) + "T", withErased)).filter(
    (entry) => localDay(entry.at, entry.zone, dayStarts) === date,
  );
}

/** Live entries between two times (RFC 3339, or the beginnings of such), oldest first; erased ones too if asked for. */
export async function entriesBetween(from: string, to: string, withErased = false): Promise<Entry[]> {
  const table = new Map<string, Entry>();
  mergeInto(table, await loadSpan(from, to));
  mergeInto(table, [...view.rows.value.values()].map((row) => row.entry));
  return [...table.values()].filter((entry) => (withErased || !entry.erased) && entry.at >= from && entry.at < to).sort(byTime);
}

/** Earlier versions of an entry that this phone has replaced, oldest first. */
export const history = (id: string): Promise<Entry[]> =>
  use((db) => db.getAll("history", IDBKeyRange.bound([id, ""], [id, "~"])));

/** Entries at rest that may lie between two times. */
const loadSpan = (from: string, to: string): Promise<Entry[]> =>
  use(async (db) => {
    const tx = db.transaction("blocks");
    const keys: string[] = [];
    for (let cursor = await tx.store.index("span").openKeyCursor(IDBKeyRange.lowerBound([from])); cursor; cursor = await cursor.continue())
      if (cursor.key[1] <= to) keys.push(cursor.primaryKey);
    const blocks = await Promise.all(keys.map((key) => tx.store.get(key)));
    return blocks.flatMap((block) => block?.entries ?? []);
  });
