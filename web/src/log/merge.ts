// The one rule by which versions of an entry replace each other: the greater stamp wins, whole.
// The server follows the same rule; tests/vectors/merge.json holds both to it.

type Version = { id: string; stamp: string };

/** Of two versions of an entry, the one that stands. */
export const winner = <E extends Version>(a: E | undefined, b: E): E => (a && a.stamp >= b.stamp ? a : b);

/** Takes `entries` into `table` (by id) and answers whether anything changed. In any order, any number of times, the same. */
export function mergeInto<E extends Version>(table: Map<string, E>, entries: Iterable<E>): boolean {
  let changed = false;
  for (const entry of entries) {
    const standing = table.get(entry.id);
    if (winner(standing, entry) === standing) continue;
    table.set(entry.id, entry);
    changed = true;
  }
  return changed;
}

/** The order in which entries are shown and read: by when they happened, then by id. */
export const byTime = (a: { at: string; id: string }, b: { at: string; id: string }): number =>
  a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
