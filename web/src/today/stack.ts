// Which socks a new total is made of, when that can be told from a tap: taking off the outer ones, or adding one from
// the drawer. Two stacks of one total are not the same fit, so anything less certain stays unnamed (null) and is asked.
import type { Entry } from "../log/kinds";

/** A sock as owned: `free` of `count` are neither worn nor in the wash. */
export type Owned = { id: string; name: string; ply: number; count: number; mark: string; state: "ready" | "wash" | "worn_out" };

/** The wearer's socks by id, from live entries; worn-out ones too, for old entries still name them. */
export function drawer(entries: readonly Entry[]): ReadonlyMap<string, Owned> {
  const socks = new Map<string, Owned>();
  for (const { kind, id, body } of entries)
    if (kind === "sock") socks.set(id, { id, name: body.name, ply: body.ply, count: body.count ?? 1, mark: body.mark ?? "", state: body.state ?? "ready" });
  return socks;
}

export const plies = (ids: readonly string[], socks: ReadonlyMap<string, Owned>): number[] | null => {
  const found = ids.map((id) => socks.get(id)?.ply);
  return found.every((ply) => ply !== undefined) ? (found as number[]) : null;
};

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);

/** The socks after going from `base` (inner first, null: unnamed) to `target` ply, or null where that is not certain. */
export function restack(base: { total: number | null; socks: readonly string[] | null }, target: number, socks: ReadonlyMap<string, Owned>): string[] | null {
  if (target === 0) return [];
  const known = base.total === 0 ? [] : base.socks;
  const worn = known && plies(known, socks);
  if (!known || !worn || sum(worn) !== (base.total ?? 0)) return null;
  for (let keep = known.length; keep > 0; keep--) if (sum(worn.slice(0, keep)) === target) return known.slice(0, keep);
  const more = target - sum(worn);
  const spare = [...socks.values()].filter(
    (sock) => sock.state === "ready" && sock.ply === more && sock.count > known.filter((id) => id === sock.id).length,
  );
  return more > 0 && spare[0] ? [...known, spare[0].id] : null;
}
