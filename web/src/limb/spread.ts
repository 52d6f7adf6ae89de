// Marks drawn side by side: those that would lie on each other are moved apart, as little as that takes. The places
// themselves stay where they are; whoever draws joins each mark to its place.
import type { Point } from "./geometry";

const ROUNDS = 60;

/**
 * `points` moved so that no two are nearer than `gap`, nor any nearer than `room` to `fixed`, which stays. Same order; the
 * same points give the same answer, so that a picture does not change by being drawn again.
 */
export function spread(points: readonly Point[], gap: number, fixed: Point | null = null, room = gap): Point[] {
  const at = points.map(([x, y]): [number, number] => [x, y]);
  for (let round = 0; round < ROUNDS; round++) {
    let moved = false;
    for (let i = 0; i < at.length; i++) {
      if (fixed) moved = part(at[i]!, fixed, room, i) || moved;
      for (let j = 0; j < i; j++) moved = partBoth(at[i]!, at[j]!, gap, i) || moved;
    }
    if (!moved) break;
  }
  return at;
}

/** The way from `b` to `a`; for two at one point, a way of their own by their place in the row. */
function way(a: Point, b: Point, i: number): [x: number, y: number, length: number] {
  const x = a[0] - b[0], y = a[1] - b[1], length = Math.hypot(x, y);
  return length > 1e-6 ? [x / length, y / length, length] : [Math.cos(2.4 * i), Math.sin(2.4 * i), 0];
}

function part(a: [number, number], b: Point, gap: number, i: number): boolean {
  const [x, y, length] = way(a, b, i), more = gap - length;
  if (more <= 0.01) return false;
  a[0] += x * more;
  a[1] += y * more;
  return true;
}

function partBoth(a: [number, number], b: [number, number], gap: number, i: number): boolean {
  const [x, y, length] = way(a, b, i), half = (gap - length) / 2;
  if (half <= 0.01) return false;
  a[0] += x * half;
  a[1] += y * half;
  b[0] -= x * half;
  b[1] -= y * half;
  return true;
}
