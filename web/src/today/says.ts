// What the other buttons of Today write: steps of a dial or pump, which socks are on, why.
import { amend, entries, erase, newId, write } from "../log/book";
import type { EntryOf, Limb, PlyBody } from "../log/kinds";
import { now, owned, tick, wornNow } from "./now";
import { restack } from "./stack";
import { begin, done, endBurst, entryOf, going, justSwitched, putOn, told, type Means } from "./taps";

/** One step of what the socket is fitted by. */
export function tapStep(limb: Limb, what: Means, by: 1 | -1): void {
  if (justSwitched()) return;
  tick();
  const running = going(limb, what);
  const tap = running ?? begin(limb, what, { total: null, socks: null });
  tap.last = Date.now();
  tap.by += by;
  if (!running) told(write("adjust", limb, { what, by: tap.by }, { id: tap.id, at: now.value }));
  else {
    const entry = entryOf(tap.id, "adjust")!;
    told(tap.by === 0 ? erase(entry) : amend(entry, { body: { ...entry.body, by: tap.by } }));
  }
  done.value = tap.by === 0 ? null : { id: tap.id, limb, undone: false, from: null };
}

/** Says which socks are on: a change of ply, or, with the total as it was, putting right the last entry that had none. */
export function sayStack(limb: Limb, socks: readonly string[], total: number): void {
  tick();
  endBurst();
  const { on } = wornNow(limb);
  const standing = entries.value.findLast((e) => e.limb === limb && (e.kind === "ply" || e.kind === "don"));
  if (!on) return putOn(limb, { total, socks });
  if (standing && on.socks === null && on.total === total) {
    const body = { ...standing.body, total, socks: [...socks] };
    told(standing.kind === "ply" ? amend(standing, { body: body as PlyBody }) : amend(standing as EntryOf<"don">, { body }));
    done.value = { id: standing.id, limb, undone: false, from: null };
    return;
  }
  const id = newId();
  told(write("ply", limb, { total, socks: [...socks] }, { id, at: now.value }));
  done.value = { id, limb, undone: false, from: { total: on.total, socks: on.socks } };
}

/** Says the total, without naming socks. */
export function sayTotal(limb: Limb, total: number): void {
  tick();
  endBurst();
  const { on } = wornNow(limb);
  if (!on) return putOn(limb, { total, socks: null });
  if (on.total === total) return;
  const id = newId();
  told(write("ply", limb, { total, socks: restack(on, total, owned.value) }, { id, at: now.value }));
  done.value = { id, limb, undone: false, from: { total: on.total, socks: on.socks } };
}

/** Adds the reason to the last change. */
export function sayWhy(id: string, why: NonNullable<PlyBody["why"]> | null): void {
  const entry = entryOf(id, "ply");
  if (entry) told(amend(entry, { body: { ...entry.body, why } }));
}
