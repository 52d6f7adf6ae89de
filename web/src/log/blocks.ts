// The log at rest is kept in blocks of a month: 100,000 entries load in a quarter of a second that way, against eight
// seconds row by row. An entry's block follows from its id alone, which never changes, so a new version always finds
// the old one, even when its time was put right across the end of a month. A block knows the span of times it holds.
import type { Entry } from "./kinds";
import { mergeInto } from "./merge";
import { uuidTime } from "./uuid";

/** `entries` stay in the order they came, so that a block that is being sent can be resumed by position. */
export type Block = { key: string; from: string; to: string; entries: Entry[] };

/** What is true until it is changed, however long ago it was written: always loaded, all in one block. */
const STANDING_KINDS: ReadonlySet<string> = new Set(["profile", "sock", "need", "question", "option", "trip", "visit"]);
export const STANDING = "standing";

export const isStanding = (entry: { kind: string }): boolean => STANDING_KINDS.has(entry.kind);

/** The block an entry belongs to: "standing", the month its id was made, or for foreign ids a share of them. */
export function blockKey(entry: { id: string; kind: string }): string {
  if (isStanding(entry)) return STANDING;
  const made = uuidTime(entry.id);
  return made === null ? `other-${entry.id[0]}` : new Date(made).toISOString().slice(0, 7);
}

/** Entries by the block they belong to. */
export function byBlock(entries: Iterable<Entry>): Map<string, Entry[]> {
  const groups = new Map<string, Entry[]>();
  for (const entry of entries) {
    const key = blockKey(entry);
    const group = groups.get(key);
    if (group) group.push(entry);
    else groups.set(key, [entry]);
  }
  return groups;
}

/** A block of these entries. */
export function makeBlock(key: string, entries: Iterable<Entry>): Block {
  const block: Block = { key, from: key === STANDING ? "" : "9", to: key === STANDING ? "9" : "", entries: [...entries] };
  if (key !== STANDING)
    for (const { at } of block.entries) {
      if (at < block.from) block.from = at;
      if (at > block.to) block.to = at;
    }
  return block;
}

/** `block` (if there is one yet) with `entries` merged in. */
export function mergeBlock(key: string, block: Block | undefined, entries: Iterable<Entry>): Block {
  const table = new Map(block?.entries.map((entry) => [entry.id, entry]));
  mergeInto(table, entries);
  return makeBlock(key, table.values());
}
