// What the big buttons write. Each tap is one entry at once; taps within a few seconds of each other amend that entry, and
// a tap that only takes the last one back erases it. Steps of a dial, and what is said afterwards, are in says.ts.
import { signal } from "@preact/signals";
import { amend, current, erase, newId, restore, write } from "../log/book";
import { PLY_MAX, type AdjustBody, type Entry, type EntryOf, type Limb } from "../log/kinds";
import { now, owned, tick, wornNow } from "./now";
import { restack } from "./stack";
import type { Put } from "./wear";

/** Taps closer than this are about one change. */
export const BURST_MS = 4000;

export type Means = AdjustBody["what"];

/** What was last done here: the row under the buttons speaks of it, Undo takes it back. */
export type Done = { id: string; limb: Limb; undone: boolean; from: Put | null };
export const done = signal<Done | null>(null);

type Burst = { id: string; limb: Limb; about: "ply" | Means; from: Put; by: number; last: number };
let burst: Burst | null = null;

/** Putting on and taking off put other things under the thumb: a second tap on them this soon is still the first intent. */
const SWITCH_MS = 500;
let switched = 0;
export const justSwitched = (): boolean => Date.now() - switched < SWITCH_MS;

// A write that cannot be kept is told by the saving signal, which every screen shows; nothing is left to do here.
export const told = (written: Promise<unknown>): void => void written.catch(() => {});

export const entryOf = <K extends Entry["kind"]>(id: string, kind: K): EntryOf<K> | null => {
  const entry = current(id);
  return entry?.kind === kind ? (entry as EntryOf<K>) : null;
};

/** What is written next is another change, however soon. */
export const endBurst = (): void => { burst = null; };

/** The burst this tap belongs to, or null if it begins one. */
export function going(limb: Limb, about: Burst["about"]): Burst | null {
  if (!burst || burst.limb !== limb || burst.about !== about || Date.now() - burst.last > BURST_MS) return null;
  const entry = current(burst.id);
  return entry && !entry.erased ? burst : null;
}

export function begin(limb: Limb, about: Burst["about"], from: Put): Burst {
  burst = { id: newId(), limb, about, from, by: 0, last: 0 };
  return burst;
}

/** One ply more (1) or fewer (-1). From nothing known, the first tap also says that the leg is on. */
export function tapPly(limb: Limb, by: 1 | -1): void {
  if (justSwitched()) return;
  tick();
  const on = wornNow(limb).on;
  const running = going(limb, "ply");
  const total = (on?.total ?? 0) + by;
  if (total < 0 || total > PLY_MAX) return;
  const tap = running ?? begin(limb, "ply", { total: on?.total ?? null, socks: on?.socks ?? null });
  tap.last = Date.now();
  const begun = entryOf(tap.id, "don");
  const socks = restack(tap.from, total, owned.value);
  const back = total === tap.from.total;
  if (!running) told(on ? write("ply", limb, { total, socks }, { id: tap.id, at: now.value }) : write("don", limb, { total, socks }, { id: tap.id, at: now.value }));
  else if (begun) told(amend(begun, { body: { ...begun.body, total, socks } }));
  else {
    const entry = entryOf(tap.id, "ply")!;
    told(back ? erase(entry) : amend(entry, { body: { ...entry.body, total, socks } }));
  }
  done.value = running && !begun && back ? null : { id: tap.id, limb, undone: false, from: tap.from };
}

export function putOn(limb: Limb, put: Put): void {
  switched = Date.now();
  tick();
  endBurst();
  const id = newId();
  told(write("don", limb, put.total === null ? {} : { total: put.total, socks: put.socks && [...put.socks] }, { id, at: now.value }));
  done.value = { id, limb, undone: false, from: null };
}

export function takeOff(limb: Limb): void {
  switched = Date.now();
  tick();
  endBurst();
  const id = newId();
  told(write("doff", limb, {}, { id, at: now.value }));
  done.value = { id, limb, undone: false, from: null };
}

/** Takes back what was last done, or puts it back. */
export function undo(last: Entry): void {
  endBurst();
  const before = done.value;
  const entry = current(last.id) ?? last;
  told(entry.erased ? restore(entry) : erase(entry));
  done.value = { id: entry.id, limb: entry.limb ?? "right", undone: !entry.erased, from: before?.id === entry.id ? before.from : null };
  tick();
}
