// Sums of socks, as insight/stacks.py makes them, for what the phone must answer offline: which stacks make a total, the
// shortest way there from what is on, the fewest socks to take along. Stacks are plies, inner first. Exact, never a guess.

export type Supply = ReadonlyMap<number, number>;

const sum = (plies: readonly number[]) => plies.reduce((a, b) => a + b, 0);

/** How many socks there are of each ply. */
export function supply(plies: readonly number[]): Map<number, number> {
  const out = new Map<number, number>();
  for (const ply of plies) out.set(ply, (out.get(ply) ?? 0) + 1);
  return out;
}

/** Stacks that make `total` with at most `layers` socks: fewest layers first, then the thickest sock inside. */
export function stacks(total: number, of: Supply, layers: number, listed = 3): number[][] {
  const plies = [...of.keys()].filter((ply) => ply > 0).sort((a, b) => b - a);
  const found: number[][] = [];
  for (let count = 0; count <= layers && found.length < listed; count++) {
    found.push(...sums(total, count, plies, of));
    if (total === 0 && found.length) break;
  }
  return found.slice(0, listed);
}

function sums(total: number, count: number, plies: readonly number[], of: Supply): number[][] {
  if (count === 0) return total === 0 ? [[]] : [];
  const out: number[][] = [];
  for (const [i, ply] of plies.entries()) {
    if (ply * count < total) break; // even the thickest left are too thin
    for (let n = Math.min(of.get(ply) ?? 0, count, Math.floor(total / ply)); n > 0; n--)
      for (const rest of sums(total - n * ply, count - n, plies.slice(i + 1), of)) out.push([...Array<number>(n).fill(ply), ...rest]);
  }
  return out;
}

export type Move = { off: number; on: number; kept: number; stack: number[] };

/** The fewest socks taken off and put on between the stack on the leg and `total`; only outer socks come off. */
export function shortest(on: readonly number[], total: number, free: Supply, layers: number): Move | null {
  let best: Move | null = null;
  for (let keep = on.length; keep >= 0; keep--) {
    const stays = on.slice(0, keep), rest = total - sum(stays);
    if (rest < 0 || keep > layers) continue;
    const spare = new Map(free);
    for (const ply of on.slice(keep)) spare.set(ply, (spare.get(ply) ?? 0) + 1);
    for (const added of stacks(rest, spare, layers - keep)) {
      const move = { off: on.length - keep, on: added.length, kept: keep, stack: [...stays, ...added] };
      if (!best || move.off + move.on < best.off + best.on || (move.off + move.on === best.off + best.on && move.stack.length < best.stack.length)) best = move;
    }
  }
  return best;
}

export type Load = { socks: number[]; missing: number[] };

/**
 * The fewest socks to take along, and of those the least ply in all, that make every target there is a way to make, added
 * to what is on. `layers` counts those on the leg too; `free` is without them. `missing`: targets nothing owned can make.
 */
export function carry(on: readonly number[], free: Supply, targets: readonly number[], layers: number): Load {
  const base = sum(on), room = layers - on.length;
  const wanted = [...new Set(targets)].filter((target) => target > base).sort((a, b) => a - b);
  const below = [...new Set(targets)].filter((target) => target < base);
  const most = [...free].filter(([ply]) => ply > 0).map(([ply, n]): [number, number] => [ply, Math.max(0, Math.min(n, room))]).sort((a, b) => b[0] - a[0]);
  const whole = reach(most.flatMap(([ply, n]) => Array<number>(n).fill(ply)), room);
  const possible = wanted.filter((target) => whole.has(target - base));
  const missing = [...below, ...wanted.filter((target) => !whole.has(target - base))];
  for (let size = 0; size <= most.reduce((n, [, count]) => n + count, 0); size++) {
    let best: number[] | null = null;
    for (const set of choose(most, size)) {
      if (best && sum(set) >= sum(best)) continue;
      const made = reach(set, room);
      if (possible.every((target) => made.has(target - base))) best = set;
    }
    if (best) return { socks: best, missing };
  }
  return { socks: [], missing };
}

/** The sums that at most `room` of these socks can make. */
function reach(set: readonly number[], room: number): Set<number> {
  let layers: Set<number>[] = [new Set([0])];
  for (const ply of set) {
    const next = layers.map((sums) => new Set(sums));
    layers.forEach((sums, used) => {
      if (used >= room) return;
      next[used + 1] ??= new Set();
      for (const made of sums) next[used + 1]!.add(made + ply);
    });
    layers = next;
  }
  return new Set(layers.flatMap((sums) => [...sums]));
}

/** Every set of `size` socks, thickest first. */
function* choose(most: readonly [number, number][], size: number): Generator<number[]> {
  if (size === 0) { yield []; return; }
  const [first, ...rest] = most;
  if (!first) return;
  const [ply, count] = first;
  for (let n = Math.min(count, size); n >= 0; n--)
    for (const tail of choose(rest, size - n)) yield [...Array<number>(n).fill(ply), ...tail];
}
