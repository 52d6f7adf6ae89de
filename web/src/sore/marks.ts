// Sore marks of a limb as the screen needs them: the latest, the earlier ones to show, and what each region had last.
import { apart, type Spot } from "../limb/geometry";
import type { OwnLimb } from "../limb/names";
import { regionId } from "../limb/regions";
import type { Entry, EntryOf, Limb } from "../log/kinds";

const SHOWN_MS = 14 * 24 * 3600e3; // rings older than two weeks crowd the drawing and no longer say where it hurts
const MOST_SHOWN = 12;
const SAME_MM = 8; // a ring this near to a newer one is the same mark to the eye

/** The limb's sore entries, newest first. */
export const soreEntries = (entries: readonly Entry[], side: Limb): EntryOf<"sore">[] =>
  entries.filter((e): e is EntryOf<"sore"> => e.kind === "sore" && e.limb === side).reverse();

/** The newest mark at a place, and how many there were. */
export type Earlier = { entry: EntryOf<"sore">; times: number };

/** Earlier marks on the limb itself, newest first, each place once. */
export function earlierMarks(own: readonly EntryOf<"sore">[], { level, size }: OwnLimb, now: number): Earlier[] {
  const shown: Earlier[] = [];
  for (const entry of own) {
    if (Date.parse(entry.at) < now - SHOWN_MS) break;
    if (entry.body.phantom) continue;
    const same = shown.find((other) => apart(level, other.entry.body, entry.body, size) < SAME_MM);
    if (same) same.times++;
    else if (shown.length < MOST_SHOWN) shown.push({ entry, times: 1 });
  }
  return shown;
}

/** The latest mark in each region, by the region's id. */
export function lastByRegion(own: readonly EntryOf<"sore">[], { level }: OwnLimb): Map<string, EntryOf<"sore">> {
  const last = new Map<string, EntryOf<"sore">>();
  for (const entry of own) {
    const id = regionId(level, entry.body as Spot);
    if (!entry.body.phantom && !last.has(id)) last.set(id, entry);
  }
  return last;
}
