// Heat as dots on a hexagonal grid, in a few sizes: more heat, larger dots. limb/overlay.py draws the same.
import type { HeatPoint } from "../log/summary";
import { shape, surfacePoint, type Point, type Size } from "./geometry";
import type { Path } from "./draw";
import type { Level, Side, View } from "./table";
import { frame } from "./views";

const SAMPLE_MM = 8; // about how far apart the reading samples heat
const REACH_MM = 18; // how far from a sample there may be a dot
const ALONE = 0.4; // weight under which a point is too far from all samples to have their value in full
const SIZES = 5;
const PITCH = 8; // view units between dots
const RISE = (PITCH * Math.sqrt(3)) / 2;
const FAINTEST = 0.08; // share of the most heat below which no dot is drawn

type Source = { at: readonly [number, number, number]; value: number };

/** One path for each size of dot. Only the proportion to the greatest value counts. */
export function halftone(level: Level, side: Side, view: View, size: Size, heat: readonly HeatPoint[]): Path[] {
  const most = Math.max(0, ...heat.map((h) => h.value));
  if (most <= 0) return [];
  const pictures = frame(level, side, size), limb = shape(level, size);
  const scale = view === "end" ? pictures.endScale : pictures.scale;
  const near = new Map<string, { x: number; y: number; sources: Source[] }>();
  for (const h of heat) {
    const at = pictures.toView(view, h);
    if (!at) continue;
    const source = { at: surfacePoint(level, h, size), value: h.value / most };
    for (const [x, y] of nodes(at, REACH_MM * scale)) {
      const key = `${x} ${y}`;
      const node = near.get(key) ?? { x, y, sources: [] };
      node.sources.push(source);
      near.set(key, node);
    }
  }
  const dots = Array<string>(SIZES + 1).fill("");
  for (const { x, y, sources } of near.values()) {
    const hit = pictures.fromView(view, x, y);
    if (!hit) continue;
    const value = between(limb.point(hit.height * limb.brim, hit.angle), sources);
    if (value >= FAINTEST) dots[Math.ceil(Math.sqrt(value) * SIZES)] += `M${x.toFixed(1)} ${y.toFixed(1)}h0`;
  }
  return dots.map((d, n): Path => [`limb-heat limb-heat-${n}`, d]).filter(([, d]) => d);
}

/** The nodes of the dots' grid within `reach` of a point. */
function nodes(at: Point, reach: number): Point[] {
  const out: Point[] = [];
  for (let j = Math.ceil((at[1] - reach) / RISE); j <= (at[1] + reach) / RISE; j++)
    for (let i = Math.floor((at[0] - reach) / PITCH); i <= Math.ceil((at[0] + reach) / PITCH); i++) {
      const x = (i + (Math.abs(j) % 2) / 2) * PITCH, y = j * RISE;
      if (Math.hypot(x - at[0], y - at[1]) <= reach) out.push([x, y]);
    }
  return out;
}

/** The value at a point amid sampled ones: their average, the near ones counting most; nothing far from all. */
function between(here: readonly [number, number, number], sources: readonly Source[]): number {
  let total = 0, sum = 0;
  for (const { at, value } of sources) {
    const far = Math.hypot(here[0] - at[0], here[1] - at[1], here[2] - at[2]) / SAMPLE_MM;
    const weight = Math.exp(-(far * far) / 2);
    total += weight;
    sum += weight * value;
  }
  return sum / Math.max(total, ALONE);
}
