// The limb's surface: where a stored spot is in space.
//
// A spot is stored as `height` (0 tip of the limb, 1 socket brim) and `angle` (degrees: 0 front, 90 outer, 180 back,
// 270 inner). Left and right limbs share the table: "outer" is outer on both. Three lengths, all from the tip, in mm:
// `u` along the table's typical limb (height x brim), `z` along the wearer's own limb, and x (outward), y (forward)
// across it. Stored spots are tied to landmarks, so they never move when the wearer's sizes change.
import type { LimbProfile } from "../log/kinds";
import { SIDES, table, type Level, type LevelTable, type Pair } from "./table";

export type Spot = { height: number; angle: number };
export type Point = readonly [number, number];
export type Radii = readonly [front: number, outer: number, back: number, inner: number];

/** The wearer's own sizes: length from the table's reference line to the tip, and [mm from tip, girth mm]. */
export type Size = { length: number | null; girths: readonly Pair[] };

export const TYPICAL: Size = { length: null, girths: [] };
export const RAD = Math.PI / 180;
const SHORTEST_STRETCH_MM = 20;
const TIP_MM = 5; // a tape nearer to the tip than this measures the rounded end, not a girth

/** The size that a limb of the profile states, or the typical one. */
export const sizeOf = (limb: Pick<LimbProfile, "length_cm" | "girths">): Size => ({
  length: limb.length_cm ? 10 * limb.length_cm : null,
  girths: (limb.girths ?? []).map((g) => [10 * g.from_end_cm, 10 * g.girth_cm] as const),
});

export const mod = (value: number, by: number) => ((value % by) + by) % by;

/** A smooth curve through points that never overshoots them: cubic, slopes by Fritsch and Butland (1984). */
export function monotone(xs: readonly number[], ys: readonly number[]): (x: number) => number {
  const last = xs.length - 1;
  if (last === 0) return () => ys[0]!;
  const h = xs.slice(1).map((x, i) => x - xs[i]!);
  const d = h.map((width, i) => (ys[i + 1]! - ys[i]!) / width);
  const m = xs.map((_, i) => {
    if (i === 0) return d[0]!;
    if (i === last) return d[last - 1]!;
    if (d[i - 1]! * d[i]! <= 0) return 0;
    const a = 2 * h[i]! + h[i - 1]!, b = h[i]! + 2 * h[i - 1]!;
    return (a + b) / (a / d[i - 1]! + b / d[i]!);
  });
  return (at) => {
    const x = Math.min(Math.max(at, xs[0]!), xs[last]!);
    let i = last - 1;
    while (i > 0 && xs[i]! > x) i--;
    const t = (x - xs[i]!) / h[i]!, s = 1 - t;
    return ys[i]! * (1 + 2 * t) * s * s + h[i]! * m[i]! * t * s * s + ys[i + 1]! * t * t * (3 - 2 * t) - h[i]! * m[i + 1]! * t * t * s;
  };
}

/** The surface of one limb: a level of the table at the wearer's size. Get it from `shape`, which keeps it. */
export class Shape {
  readonly table: LevelTable;
  readonly brim: number;
  readonly end: number;
  readonly heights: number[];
  readonly top: number;
  swell: (u: number) => number = () => 1;
  private readonly profiles;
  private readonly front;
  private readonly back;
  private readonly low;
  private readonly high;
  private readonly stretch;
  private last: { u: number; radii: Radii } | null = null; // neighbours are asked for height by height

  constructor(level: Level, size: Size = TYPICAL) {
    const own = (this.table = table.levels[level]);
    this.brim = own.brim_mm;
    this.end = own.end_mm;
    this.heights = own.rows.map((row) => row[0]!);
    this.top = this.heights.at(-1)!;
    this.profiles = SIDES.map((_, k) => monotone(this.heights, own.rows.map((row) => row[k + 1]!)));
    const knots = (pairs: Pair[]) => monotone(pairs.map((p) => p[0]), pairs.map((p) => p[1]));
    this.front = knots(own.squareness.front);
    this.back = knots(own.squareness.back);
    [this.low, this.high] = own.stretch_mm;
    const zone = this.high - this.low, grow = size.length ? size.length - own.typical_length_mm : 0;
    this.stretch = Math.max(SHORTEST_STRETCH_MM, zone + grow) / zone;
    this.fit(size.girths);
  }

  /** Swell the typical limb so that it has the girths measured, exactly, at their heights. */
  private fit(girths: readonly Pair[]): void {
    const at = new Map<number, number[]>();
    for (const [z, girth] of girths) {
      const u = this.uOfZ(z);
      if (u >= TIP_MM) at.set(u, [...(at.get(u) ?? []), girth]);
    }
    if (!at.size) return;
    const us = [...at.keys()].sort((a, b) => a - b);
    const factors = us.map((u) => at.get(u)!.reduce((sum, g) => sum + g, 0) / at.get(u)!.length / this.girth(u));
    this.swell = monotone(us, factors);
    this.last = null;
  }

  /** Own millimetres from the tip. Only the shaft between bony landmarks grows with the limb's length. */
  zOfU(u: number): number {
    if (u <= this.low) return u;
    return this.low + (Math.min(u, this.high) - this.low) * this.stretch + Math.max(0, u - this.high);
  }

  /** The table's millimetres from the tip: the inverse of `zOfU`. */
  uOfZ(z: number): number {
    if (z <= this.low) return z;
    const shaft = (this.high - this.low) * this.stretch;
    return z <= this.low + shaft ? this.low + (z - this.low) / this.stretch : this.high + (z - this.low - shaft);
  }

  /** Radius in mm towards front, outer, back, inner at `u`. */
  radii(u: number): Radii {
    if (this.last?.u === u) return this.last.radii;
    const swell = this.swell(u);
    const radii = this.profiles.map((profile, k) => profile(u) * swell * this.rounding(u, this.table.cap_mm[SIDES[k]!])) as unknown as Radii;
    this.last = { u, radii };
    return radii;
  }

  /** How much of its radius a side has kept at `u`, on the rounded end that begins at `cap`. */
  private rounding(u: number, cap: number): number {
    const power = this.table.cap_power;
    return u >= cap ? 1 : Math.max(0, 1 - (1 - Math.max(u, 0) / cap) ** power) ** (1 / power);
  }

  /** Exponent of the superellipse in the front or back half at `u`; 2 is an ellipse, more is squarer. */
  square(u: number, front: boolean): number {
    return front ? this.front(u) : this.back(u);
  }

  /** Distance in mm from the limb's axis to its surface. */
  radius(u: number, angle: number): number {
    const [front, outer, back, inner] = this.radii(u);
    const s = Math.sin(angle * RAD), c = Math.cos(angle * RAD);
    const a = s >= 0 ? outer : inner, b = c >= 0 ? front : back;
    if (a <= 0 || b <= 0) return 0;
    const n = this.square(u, c >= 0);
    return (Math.abs(s / a) ** n + Math.abs(c / b) ** n) ** (-1 / n);
  }

  /** The surface in space: x outward, y forward, z up from the tip, in mm. */
  point(u: number, angle: number): [x: number, y: number, z: number] {
    const r = this.radius(u, angle);
    return [r * Math.sin(angle * RAD), r * Math.cos(angle * RAD), this.zOfU(u)];
  }

  /** Length in mm of a tape round the limb at `u`. */
  girth(u: number): number {
    const around = Array.from({ length: 360 }, (_, degree) => this.point(u, degree));
    return around.reduce((sum, [x, y], i) => {
      const [nextX, nextY] = around[(i + 1) % 360]!;
      return sum + Math.hypot(nextX - x, nextY - y);
    }, 0);
  }

  /** Where the usual socket edge runs, as `u`. */
  edge(angle: number): number {
    const t = this.table.trim_mm, s = Math.sin(angle * RAD), c = Math.cos(angle * RAD);
    return (c >= 0 ? t.front : t.back) * c * c + (s >= 0 ? t.outer : t.inner) * s * s;
  }
}

const shapes = new Map<string, Shape>();

/** The surface for a level and size; made once and kept. */
export function shape(level: Level, size: Size = TYPICAL): Shape {
  const key = JSON.stringify([level, size]);
  let found = shapes.get(key);
  if (!found) shapes.set(key, (found = new Shape(level, size)));
  return found;
}

/** Where a stored spot is in space: [x outward, y forward, z up from the tip] in mm. */
export function surfacePoint(level: Level, { height, angle }: Spot, size: Size = TYPICAL): [number, number, number] {
  const limb = shape(level, size);
  return limb.point(height * limb.brim, angle);
}

/** Straight through the limb from spot to spot, in mm. */
export const apart = (level: Level, a: Spot, b: Spot, size: Size = TYPICAL): number => {
  const p = surfacePoint(level, a, size), q = surfacePoint(level, b, size);
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
};

/** A spot as it is stored: coarser heights would move a spot at the very tip by millimetres. */
export const rounded = ({ height, angle }: Spot): Spot => ({
  height: Math.round(Math.min(Math.max(height, 0), 1) * 1e6) / 1e6,
  angle: (Math.round(mod(angle, 360) * 10) / 10) % 360,
});
