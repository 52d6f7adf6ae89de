// The day's wool: each sock a block from when it went on to when it came off, lying on the ones under it.
import { plies, type Owned } from "./stack";
import type { Sitting } from "./wear";
import type { Entry } from "../log/kinds";

/** `from` and `to` in hours since the leg first went on; `base` the ply under the block. */
export type Strand = { ply: number; base: number; from: number; to: number };

/** Ply over time while known: [hour, total] points of one unbroken stretch, the last repeated at its end. */
export type Line = [number, number][];

export type Wool = { strands: Strand[]; lines: Line[] };

type Open = { key: string; ply: number; base: number; from: number };

/** Blocks and level lines of today's sittings; the last goes on to `now` while it is open. */
export function wool(today: readonly Sitting[], now: number, open: boolean, socks: ReadonlyMap<string, Owned>): Wool {
  const strands: Strand[] = [];
  const lines: Line[] = [];
  const begun = today[0]?.begun ?? now;
  const hour = (ms: number) => Math.max(0, (ms - begun) / 3600e3);
  today.forEach((sitting, index) => {
    const end = hour(open && index === today.length - 1 ? Math.max(now, sitting.until) : sitting.until);
    let on: Open[] = [];
    let line: Line = [];
    const close = (keep: number, at: number) => {
      for (const { ply, base, from } of on.slice(keep)) if (at > from) strands.push({ ply, base, from, to: at });
      on = on.slice(0, keep);
    };
    for (const step of sitting.steps) {
      if (step.total === null) continue;
      const at = hour(step.ms);
      const layers = blocks(step.total, step.socks, socks, on);
      const same = layers.findIndex((layer, i) => on[i]?.key !== layer.key || on[i]?.ply !== layer.ply);
      close(same < 0 ? layers.length : same, at);
      for (const layer of layers.slice(on.length)) on.push({ ...layer, base: on.reduce((sum, one) => sum + one.ply, 0), from: at });
      line.push([at, step.total]);
    }
    close(0, end);
    if (line.length) lines.push([...line, [end, line.at(-1)![1]]]);
  });
  return { strands, lines };
}

/** Steps of a dial or pump through the day: a line for each sitting, from 0 where the leg first went on. */
export function stepLines(today: readonly Sitting[], adjusts: readonly Entry[], now: number, open: boolean): Line[] {
  const begun = today[0]?.begun ?? now;
  const hour = (ms: number) => (ms - begun) / 3600e3;
  let steps = 0;
  return today.map((sitting, i) => {
    const line: Line = [[hour(sitting.begun), steps]];
    const end = open && i === today.length - 1 ? Math.max(now, sitting.until) : sitting.until;
    for (const entry of adjusts) {
      const ms = Date.parse(entry.at);
      if (entry.kind !== "adjust" || ms < sitting.begun || ms > sitting.until) continue;
      steps += entry.body.by ?? 0;
      line.push([hour(ms), steps]);
    }
    line.push([hour(end), steps]);
    return line;
  });
}

/** The layers of a total: its socks; where they are not named, what was added or taken since the layers before. */
function blocks(total: number, ids: readonly string[] | null, socks: ReadonlyMap<string, Owned>, before: readonly Open[]): { key: string; ply: number }[] {
  const known = ids && plies(ids, socks);
  if (known && known.reduce((a, b) => a + b, 0) === total) return known.flatMap((ply, i) => (ply ? [{ key: ids[i]!, ply }] : []));
  const layers: { key: string; ply: number }[] = [];
  let left = total;
  for (const { key, ply } of before) {
    if (left <= 0) break;
    layers.push({ key, ply: Math.min(ply, left) });
    left -= ply;
  }
  if (left > 0) layers.push({ key: "", ply: left });
  return layers;
}
