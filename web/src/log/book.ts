// The logbook as the screens know it: this is the one module of log/ they import (and past.ts, pairing.ts, talk.ts, link.ts).
// Signals to read, a few functions to write. Everything works with no server at all.
import { computed, effect, signal } from "@preact/signals";
import { localDay, zoneNow } from "./clock";
import { onBlocked } from "./db";
import type { Bodies, Entry, EntryOf, Kind, Limb, ProfileBody } from "./kinds";
import { PROFILE_DEFAULTS } from "./kinds";
import { noteWritten, now, nowForAt, openOffset } from "./offset";
import { keep, pending } from "./saving";
import { newDevice, StampClock } from "./stamp";
import { others, tellOthers } from "./tabs";
import { uuid7 } from "./uuid";
import * as view from "./view";

export type { Entry, EntryOf, Kind, Limb, Bodies } from "./kinds";
export type { Summary } from "./summary";
export { clockOff } from "./offset";
export { NotSaved, retry, saving, type Saving } from "./saving";
export { entries, lasting, profile, ready, summary } from "./view";

/** The wearer's settings with the defaults in place of what was never set. */
export const settings = computed<Required<ProfileBody>>(() => ({ ...PROFILE_DEFAULTS, ...view.profile.value?.body }));

/** Entries the server would not keep as they are, with its reason. They stay until put right (`amend`) or erased. */
export const attention = computed(() =>
  [...view.rows.value.values()].flatMap(({ entry, refused }) => (refused ? [{ entry, ...refused }] : [])),
);

export const clock = new StampClock(newDevice());
const afterWrite: (() => void)[] = [];

/** Called after each entry that was saved; sync.ts sends it then. */
export const onWrite = (then: () => void): void => void afterWrite.push(then);

/** An id for an entry about to be written: made when the tap starts, so that a tap can never become two entries. */
export const newId = (): string => uuid7(now());

/** When and how an entry is written. `at` RFC 3339 or ms; `id` from `newId`. Both default to now. */
export type WriteOptions = { at?: string | number; id?: string };

/**
 * Writes an entry. It is in `entries` before this returns; the promise resolves when it is safe on the phone's disk,
 * and rejects with NotSaved when it could not be put there (it then stays in memory, see `saving`).
 */
export function write<K extends Kind>(kind: K, limb: Limb | null, body: Bodies[K], { at, id = newId() }: WriteOptions = {}): Promise<EntryOf<K>> {
  const entry = {
    id, kind, limb, at: new Date(at ?? nowForAt()).toISOString(), zone: zoneNow(), stamp: clock.next(now()), erased: false, body,
  } as EntryOf<K>;
  noteWritten(id, Date.parse(entry.at));
  return put(entry, view.current(id) as EntryOf<K> | undefined);
}

/** Changes an entry: body, time or limb. The version before is kept. */
export function amend<K extends Kind>(entry: EntryOf<K>, change: { body?: Bodies[K]; at?: string | number; limb?: Limb | null }): Promise<EntryOf<K>> {
  const at = change.at === undefined ? {} : { at: new Date(change.at).toISOString() };
  return replace(entry, { ...change, ...at } as Partial<EntryOf<K>>);
}

/** Takes an entry out of the log. `restore` brings it back. */
export const erase = <K extends Kind>(entry: EntryOf<K>): Promise<EntryOf<K>> => replace(entry, { erased: true });

/** Brings an erased entry back as it was. */
export const restore = <K extends Kind>(entry: EntryOf<K>): Promise<EntryOf<K>> => replace(entry, { erased: false });

function replace<K extends Kind>(entry: EntryOf<K>, change: Partial<EntryOf<K>>): Promise<EntryOf<K>> {
  const standing = (view.current(entry.id) ?? entry) as EntryOf<K>; // what the screen holds may be a version behind
  clock.see(entry.stamp);
  clock.see(standing.stamp);
  return put({ ...standing, ...change, stamp: clock.next(now()) }, standing);
}

async function put<K extends Kind>(entry: EntryOf<K>, replaced: EntryOf<K> | undefined): Promise<EntryOf<K>> {
  try {
    await keep({ entry: entry as Entry, refused: null }, replaced as Entry | undefined);
    tellOthers([]);
  } finally {
    for (const then of afterWrite) then();
  }
  return entry;
}

/** The version of an entry that stands on this phone, live or erased, if it is among those in memory. */
export const current = view.current;

/**
 * What stands between the page and the phone's database. "blocked": another tab holds an older version of it open;
 * "slow": it has not answered for five seconds; "memory": there is none, and what is logged goes with the page unless a
 * server takes it.
 */
export const trouble = signal<"blocked" | "slow" | "memory" | null>(null);

/** Reads the phone's log. Call once, before the first screen; rejects never, see `trouble`. */
export async function open(): Promise<void> {
  const patience = setTimeout(() => (trouble.value ??= "slow"), 5000);
  onBlocked.tell = (blocked) => (trouble.value = blocked ? "blocked" : null);
  try {
    await Promise.all([view.open(pending), openOffset()]);
    trouble.value = null;
  } catch {
    trouble.value = "memory";
  }
  clearTimeout(patience);
  others((keys) => void view.refresh(keys, pending));
}

/** The day it is now for the wearer. */
export const todayDate = (): string => localDay(nowForAt(), zoneNow(), settings.value.day_starts);

let asked = false;
onWrite(() => {
  // Asked once there is something to lose; a phone that says no is still backed by the server.
  if (!asked) void navigator.storage?.persist?.();
  asked = true;
});

// What other devices wrote may carry stamps ahead of ours: what is written next has to come after it.
effect(() => {
  for (const { entries } of view.blocks.value.values()) for (const { stamp } of entries) clock.see(stamp);
});
effect(() => {
  for (const { entry } of view.rows.value.values()) clock.see(entry.stamp);
});
