// Landmarks as form: what bones, tendons and muscles add to the smooth surface, for drawing only.
//
// The map between spots and pictures never uses relief, so a redrawn landmark can never move what somebody logged.
import { mod, RAD, type Point, type Shape } from "./geometry";
import type { Feature, Pair } from "./table";

const SPLINE_STEPS = 8;
const RING_STEPS = 24;
const REACH = 3; // a landmark's form has faded out at this many widths

/** One landmark's form: `amount` mm high along a line of [u, angle], fading over `width` mm to either side. */
type Ridge = {
  amount: number;
  width: number;
  line: Point[];
  low: number; // from here
  high: number; // to here it is felt, in u
  middle: number; // degrees
  spread: number; // degrees to either side of the middle that the line itself goes
};

/** A Catmull-Rom curve through the points; closed where the last repeats the first. */
export function spline(points: readonly Pair[]): Point[] {
  const first = points[0]!, last = points.at(-1)!;
  const closed = points.length > 3 && first[0] === last[0] && first[1] === last[1];
  const p = closed ? [points.at(-2)!, ...points, points[1]!] : [first, ...points, last];
  const out: Point[] = [];
  for (let i = 0; i + 3 < p.length; i++) {
    const [a, b, c, d] = [p[i]!, p[i + 1]!, p[i + 2]!, p[i + 3]!];
    for (let step = 0; step < SPLINE_STEPS; step++) {
      const t = step / SPLINE_STEPS;
      const at = (k: 0 | 1) =>
        (2 * b[k] + (c[k] - a[k]) * t + (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k]) * t * t + (3 * b[k] - a[k] - 3 * c[k] + d[k]) * t ** 3) / 2;
      out.push([at(0), at(1)]);
    }
  }
  return [...out, last];
}

/** A landmark as points [u, angle]; a ring goes once round its centre. */
export function featureLine(limb: Shape, feature: Feature): Point[] {
  if (feature.kind !== "ring") return spline(feature.pts).map(([height, angle]) => [height * limb.brim, angle]);
  const [height, angle] = feature.pts[0]!;
  const u = height * limb.brim, r = feature.pts[1]![0] * limb.brim, wide = r / limb.radius(u, angle) / RAD;
  return Array.from({ length: RING_STEPS + 1 }, (_, i) => {
    const turn = (2 * Math.PI * i) / RING_STEPS;
    return [u + r * Math.cos(turn), angle + wide * Math.sin(turn)] as const;
  });
}

const kept = new WeakMap<Shape, Ridge[]>();

/** The landmarks that raise or sink the surface. */
function ridges(limb: Shape): Ridge[] {
  let found = kept.get(limb);
  if (found) return found;
  found = limb.table.features.filter((f) => f.relief).map((feature) => {
    const [height, angle] = feature.pts[0]!;
    const ringed = (): Point[] => [[height * limb.brim, angle], [height * limb.brim, angle]];
    const line = feature.kind === "ring" ? ringed() : featureLine(limb, feature).filter((_, i) => i % 2 === 0);
    const us = line.map((p) => p[0]), angles = line.map((p) => p[1]), reach = REACH * feature.width;
    const [from, to] = [Math.min(...angles), Math.max(...angles)];
    return {
      amount: feature.relief, width: feature.width, line,
      low: Math.min(...us) - reach, high: Math.max(...us) + reach, middle: (to + from) / 2, spread: (to - from) / 2,
    };
  });
  kept.set(limb, found);
  return found;
}

/** Millimetres that the landmarks add to the surface at a point. */
export function relief(limb: Shape, u: number, angle: number): number {
  const r = limb.radius(u, angle);
  let total = 0;
  for (const ridge of ridges(limb)) {
    if (u <= ridge.low || u >= ridge.high) continue;
    const beside = Math.abs(mod(ridge.middle - angle + 180, 360) - 180) - ridge.spread;
    if (beside * RAD * r > REACH * ridge.width) continue;
    let nearest = (REACH * ridge.width) ** 2;
    for (let i = 0; i + 1 < ridge.line.length; i++) {
      const [u0, a0] = ridge.line[i]!, [u1, a1] = ridge.line[i + 1]!;
      const x = (mod(a0 - angle + 180, 360) - 180) * RAD * r, y = u0 - u;
      const dx = (a1 - a0) * RAD * r, dy = u1 - u0;
      const t = Math.max(0, Math.min(1, -(x * dx + y * dy) / (dx * dx + dy * dy || 1)));
      nearest = Math.min(nearest, (x + t * dx) ** 2 + (y + t * dy) ** 2);
    }
    total += ridge.amount * Math.exp(-nearest / ridge.width ** 2);
  }
  return total;
}
