// What a view shows of the surface: a grid of places with their depth and light, and the lines drawn from it.
import { distance, levelLines, thin, type Line } from "./contour";
import { mod, type Point } from "./geometry";
import { relief } from "./relief";
import type { Quarter, View } from "./table";
import type { Frame } from "./views";

const ROWS = 36, COLUMNS = 30;
const RELIEF = 2.5; // landmarks are drawn this much stronger than they stand out
const FLAT = 0.35; // light falls on the unrolled end as if it were this much less deep: at full depth it looks like a cone
const LIGHT = [-0.5, -0.42, 0.76] as const; // from the upper left and the front; x right, y down, z towards the eye
const STEP_MM = 9; // between depth lines
const FIRST_MM = 2.5; // the highest one below the nearest point
const DEEPEST = { side: 0.36, end: 0.1 }; // below this share of the depth the lines would crowd along the outline
const SHADES = [0.3, 0.5, 0.68]; // light below which one more layer of shade is laid
const CLOSE = 0.2; // view units between ends that are one point
const SHORTEST = 9; // view units; a shorter line is a speck
const FENCE = -9;

/** Rows of places [u, angle], each with its depth towards the eye in mm and the light on it, up to 1. */
export type Ground = { places: Point[][]; depth: number[][]; light: number[][] };

/** The surface as a view shows it, landmarks raised. */
export function ground(frame: Frame, view: View): Ground {
  const { places, depth } = view === "end" ? endGrid(frame) : sideGrid(frame, view);
  return { places, depth, light: lit(frame, view, places, depth) };
}

const steps = (n: number) => Array.from({ length: n + 1 }, (_, i) => i);

function sideGrid(frame: Frame, view: Quarter): Omit<Ground, "light"> {
  const { limb } = frame, places: Point[][] = [], depth: number[][] = [];
  const shares = steps(COLUMNS).map((i) => Math.sin(Math.PI * (i / COLUMNS - 0.5)));
  for (const j of steps(ROWS)) {
    const u = limb.top * Math.max(j / ROWS, 0.01) ** 1.5;
    const row = shares.map((share) => frame.turned(view, u, share));
    places.push(row.map(([angle]) => [u, angle]));
    depth.push(row.map(([angle, d]) => d + (RELIEF * relief(limb, u, angle) * d) / (limb.radius(u, angle) || 1)));
  }
  return { places, depth };
}

function endGrid(frame: Frame): Omit<Ground, "light"> {
  const { limb } = frame, places: Point[][] = [], depth: number[][] = [];
  const angles = steps(2 * COLUMNS).map((i) => (360 * i) / (2 * COLUMNS)), rows = ROWS / 2;
  for (const j of steps(rows)) {
    const u = limb.end * Math.max(j / rows, 0.02) ** 2;
    places.push(angles.map((angle) => [u, angle]));
    depth.push(angles.map((angle) => RELIEF * relief(limb, u, angle) * downward(frame, u, angle) - limb.zOfU(u)));
  }
  return { places, depth };
}

/** How much of the surface's normal points down, towards an eye below the end. */
function downward(frame: Frame, u: number, angle: number): number {
  const step = u * 0.02;
  const rise = (frame.limb.radius(u + step, angle) - frame.limb.radius(u - step, angle)) / (2 * step);
  return rise / Math.hypot(1, rise);
}

/** Cosine between the surface, as the picture has it, and the light. */
function lit(frame: Frame, view: View, places: Point[][], depth: number[][]): number[][] {
  const scale = view === "end" ? FLAT * frame.endScale : frame.scale;
  const at = places.map((row, j) => row.map(([u, angle], i) => [...frame.project(view, u, angle), scale * depth[j]![i]!] as const));
  const rows = at.length, columns = at[0]!.length;
  return at.map((row, j) => row.map((_, i) => {
    const [east, west] = view === "end"
      ? [row[(i + 1) % (columns - 1)]!, row[mod(i - 1, columns - 1)]!]
      : [row[Math.min(i + 1, columns - 1)]!, row[Math.max(i - 1, 0)]!];
    const north = at[Math.min(j + 1, rows - 1)]![i]!, south = at[Math.max(j - 1, 0)]![i]!;
    const [ax, ay, az] = [east[0] - west[0], east[1] - west[1], east[2] - west[2]];
    const [bx, by, bz] = [north[0] - south[0], north[1] - south[1], north[2] - south[2]];
    const x = ay * bz - az * by, y = az * bx - ax * bz, z = ax * by - ay * bx;
    const towards = (x * LIGHT[0] + y * LIGHT[1] + z * LIGHT[2]) / (Math.hypot(x, y, z) || 1);
    return z >= 0 ? towards : -towards;
  }));
}

/** Lines of equal depth below the socket edge, as points of the picture. */
export function depthLines(frame: Frame, view: View, seen: Ground): Line[] {
  const nearest = Math.max(...seen.depth.flat()), deepest = Math.min(...seen.depth.flat());
  const lines: Line[] = [];
  const last = deepest + (view === "end" ? DEEPEST.end : DEEPEST.side) * (nearest - deepest);
  for (let level = nearest - FIRST_MM; level > last; level -= STEP_MM)
    for (const line of levelLines(seen.depth, level)) {
      const places = line.map((at) => between(seen.places, at));
      lines.push(...drawn(frame, view, runs(places, (p) => inSocket(frame, view, p)), SHORTEST));
    }
  return lines;
}

/** The shaded areas below the socket edge, one list for each layer of shade, as closed lines. */
export function shades(frame: Frame, view: View, seen: Ground): Line[][] {
  const rows = seen.light.length, columns = seen.light[0]!.length;
  const left = view === "end" ? 0 : 1; // the end goes round: only its rim needs a fence
  const post = Array<number>(left).fill(FENCE), fence = Array<number>(columns + 2 * left).fill(FENCE);
  return SHADES.map((shade) => {
    const dark = seen.light.map((row) => [...post, ...row.map((light) => shade - light), ...post]);
    return levelLines([fence, ...dark, fence], 0).flatMap((line) => {
      const places = line.map(([j, i]): Point => {
        const [u, angle] = between(seen.places, [Math.min(Math.max(j - 1, 0), rows - 1), Math.min(Math.max(i - left, 0), columns - 1)]);
        return [view === "end" ? u : Math.min(u, frame.limb.edge(angle)), angle];
      });
      return drawn(frame, view, [[...places, places[0]!]], 4 * SHORTEST);
    });
  });
}

/** Lines of places as thinned lines of the picture; those shorter than `shortest` left out. */
export function drawn(frame: Frame, view: View, lines: Point[][], shortest: number, slack = 0.4): Line[] {
  return lines.flatMap((line) => {
    const points = line.map(([u, angle]) => frame.project(view, u, angle));
    const length = points.reduce((sum, p, i) => (i ? sum + distance(p, points[i - 1]!) : 0), 0);
    if (length < shortest) return [];
    if (distance(points[0]!, points.at(-1)!) < CLOSE) points[points.length - 1] = points[0]!;
    return [thin(points, slack)];
  });
}

/** Whether a place lies below the usual socket edge; all of the end does. */
export const inSocket = (frame: Frame, view: View, [u, angle]: Point) => view === "end" || u <= frame.limb.edge(angle) + 0.5;

/** The unbroken stretches of items to keep. */
export function runs<T>(items: readonly T[], keep: (item: T) => boolean): T[][] {
  const out: T[][] = [[]];
  for (const item of items) {
    if (keep(item)) out.at(-1)!.push(item);
    else if (out.at(-1)!.length) out.push([]);
  }
  return out.at(-1)!.length ? out : out.slice(0, -1);
}

/** The place at a fractional [row, column] of the grid. */
function between(places: Point[][], at: Point): Point {
  const j = Math.min(Math.floor(at[0]), places.length - 2), i = Math.min(Math.floor(at[1]), places[0]!.length - 2);
  const down = at[0] - j, across = at[1] - i;
  const mix = (a: Point, b: Point, t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (mod(b[1] - a[1] + 180, 360) - 180) * t];
  return mix(mix(places[j]![i]!, places[j]![i + 1]!, across), mix(places[j + 1]![i]!, places[j + 1]![i + 1]!, across), down);
}
