// What the screens see: the log of the last weeks in memory, as signals. It is always the blocks at rest with the
// outbox laid over them, so it is right the moment a tap is made and again after a reload.
import { batch, computed, signal } from "@preact/signals";
import { isStanding, STANDING, type Block } from "./blocks";
import type { Entry, EntryOf } from "./kinds";
import { ALONE, load, reload, type Loaded, type Standing } from "./local";
import { byTime, mergeInto, winner } from "./merge";
import type { Row } from "./outbox";
import type { Summary } from "./summary";

const WINDOW_MS = 62 * 24 * 3600e3; // two months: what Today and the limb screens look back on
const RESTED_MS = 7 * 24 * 3600e3; // a log whose newest entry is older is looked back on from that entry

export const blocks = signal<ReadonlyMap<string, Block>>(new Map());
export const rows = signal<ReadonlyMap<string, Row>>(new Map());
export const standing = signal<Standing>(ALONE);
export const summary = signal<Summary | null>(null);
/** False until the phone's own log has been read; the screens paint what they can before. */
export const ready = signal(false);

const atRest = computed(() => {
  const table = new Map<string, Entry>();
  for (const block of blocks.value.values()) mergeInto(table, block.entries);
  return table;
});

// Sorted once for as long as the blocks stay, so that a tap costs what the outbox holds and not what the log does.
const settled = computed(() => [...atRest.value.values()].filter(({ erased }) => !erased).sort(byTime));
const settledLasting = computed(() => settled.value.filter(isStanding));

/** `settled` with the rows of the outbox that are `wanted` laid over it, oldest first. */
function laidOver(settled: readonly Entry[], wanted: (entry: Entry) => boolean = () => true): Entry[] {
  const over = rows.value;
  const changed = [...over.keys()].some((id) => atRest.value.has(id));
  const all = changed ? settled.filter(({ id }) => !over.has(id)) : [...settled];
  for (const { entry } of over.values()) {
    const stands = winner(atRest.value.get(entry.id), entry);
    if (stands.erased || !wanted(stands)) continue;
    let place = all.length; // most are the newest of all
    while (place > 0 && byTime(all[place - 1]!, stands) > 0) place--;
    all.splice(place, 0, stands);
  }
  return all;
}

/** Live entries of the last two months, and all that stand until changed (profile, socks, needs …), oldest first. */
export const entries = computed(() => laidOver(settled.value));

/** Of the entries, those that stand until changed: few, where the others are thousands. */
export const lasting = computed(() => laidOver(settledLasting.value, isStanding));

/** The wearer's settings as last changed, or null before the first. */
export const profile = computed(
  () =>
    lasting.value.reduce<EntryOf<"profile"> | null>(
      (latest, entry) => (entry.kind === "profile" && (!latest || entry.stamp > latest.stamp) ? entry : latest),
      null,
    ),
);

/** The version of an entry that stands here, live or erased. */
export function current(id: string): Entry | undefined {
  const row = rows.value.get(id)?.entry;
  const held = atRest.value.get(id);
  return row ? winner(held, row) : held;
}

let laid = 0;

/** Lays a row over the log, before it is saved: what was tapped is on the screen with the next frame. */
export function lay(row: Row): void {
  laid++;
  rows.value = new Map(rows.value).set(row.entry.id, row);
}

/** Two months back from now, or from the newest entry where that is earlier: after a long rest, or under a clock years ahead. */
function windowStart(newest = "9"): string {
  const lately = new Date(Date.now() - RESTED_MS).toISOString();
  return new Date((newest < lately ? Date.parse(newest) : Date.now()) - WINDOW_MS).toISOString();
}

/** Reads the log from the phone's database. `keep` are rows that could not be saved and live in memory only. */
export async function open(keep: ReadonlyMap<string, Row>): Promise<void> {
  const loaded = await load(windowStart);
  show(loaded, new Map(loaded.blocks.map((block) => [block.key, block])), keep);
  ready.value = true;
}

/** Reads again what another tab or a sync has changed. Blocks before the window stay on disk. */
export async function refresh(keys: readonly string[], keep: ReadonlyMap<string, Row>): Promise<void> {
  let fresh: Loaded;
  let before: number;
  do {
    before = laid;
    fresh = await reload(keys);
  } while (before !== laid); // a tap came in between: what was read may not have it yet, and it must not blink
  const next = new Map([...blocks.value.values(), ...fresh.blocks].map((block) => [block.key, block]));
  const newest = [...next.values()].reduce((to, block) => (block.key !== STANDING && block.to > to ? block.to : to), "");
  const from = windowStart(newest || undefined);
  for (const { key, to } of next.values()) if (to < from) next.delete(key); // while a long log arrives, the window moves on
  show(fresh, next, keep);
}

function show(loaded: Loaded, held: ReadonlyMap<string, Block>, keep: ReadonlyMap<string, Row>): void {
  batch(() => {
    blocks.value = held;
    rows.value = new Map([...loaded.rows.map((row) => [row.entry.id, row] as const), ...keep]);
    standing.value = loaded.standing;
    if (loaded.summary?.now !== summary.value?.now) summary.value = loaded.summary;
  });
}
