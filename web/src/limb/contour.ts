// Level lines of a field on a grid, and lines as small smooth SVG paths.
import type { Point } from "./geometry";

export type Line = Point[];
type Field = readonly (readonly number[])[];

export const distance = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);
export const same = (a: Point, b: Point) => a[0] === b[0] && a[1] === b[1];

/**
 * Lines along which `field[row][column]` is `level`, as points [row, column], higher ground on one side throughout.
 * Marching squares. A line that leaves the grid is open; a closed one repeats its first point.
 */
export function levelLines(field: Field, level: number): Line[] {
  const columns = field[0]!.length;
  const after = new Map<number, number>(); // a side of a cell: number of its first node, times two, plus 1 when it goes down
  const node = (j: number, i: number) => j * columns + i;
  const side = (a: number, b: number) => (Math.abs(a - b) === 1 ? 2 * Math.min(a, b) : 2 * Math.min(a, b) + 1);
  const high = (n: number) => field[Math.floor(n / columns)]![n % columns]! >= level;
  for (let j = 0; j + 1 < field.length; j++)
    for (let i = 0; i + 1 < columns; i++) {
      const corners = [node(j, i), node(j, i + 1), node(j + 1, i + 1), node(j + 1, i)];
      const entries = [0, 1, 2, 3].filter((k) => !high(corners[(k + 3) % 4]!) && high(corners[k]!));
      for (const k of [0, 1, 2, 3].filter((c) => high(corners[(c + 3) % 4]!) && !high(corners[c]!))) {
        const m = entries.reduce((best, entry) => ((entry - k + 4) % 4 < (best - k + 4) % 4 ? entry : best));
        after.set(side(corners[(k + 3) % 4]!, corners[k]!), side(corners[(m + 3) % 4]!, corners[m]!));
      }
    }
  const cross = (s: number): Point => {
    const a = s >> 1, b = s & 1 ? a + columns : a + 1;
    const [j, i] = [Math.floor(a / columns), a % columns], [m, n] = [Math.floor(b / columns), b % columns];
    const low = field[j]![i]!, t = (level - low) / (field[m]![n]! - low);
    return [j + t * (m - j), i + t * (n - i)];
  };
  const ends = new Set(after.values());
  const sorted = [...after.keys()].sort((a, b) => a - b);
  const lines: Line[] = [];
  for (const start of [...sorted.filter((s) => !ends.has(s)), ...sorted]) { // open lines from where they come in
    const line: Line = [];
    let at = start;
    for (let next = after.get(at); next !== undefined; next = after.get(at)) {
      line.push(cross(at));
      after.delete(at);
      at = next;
    }
    if (line.length) lines.push([...line, cross(at)]);
  }
  return lines;
}

/** The line with the points left out that lie within `slack` of what remains (Douglas and Peucker). */
export function thin(line: Line, slack: number): Line {
  if (line.length < 3) return line;
  const first = line[0]!, last = line.at(-1)!;
  const length = distance(first, last);
  const off = (p: Point) =>
    length === 0 ? distance(p, first) : Math.abs((last[0] - first[0]) * (first[1] - p[1]) - (first[0] - p[0]) * (last[1] - first[1])) / length;
  let far = 1;
  for (let i = 2; i < line.length - 1; i++) if (off(line[i]!) > off(line[far]!)) far = i;
  if (off(line[far]!) <= slack) return [first, last];
  return [...thin(line.slice(0, far + 1), slack).slice(0, -1), ...thin(line.slice(far), slack)];
}

/** A path that rounds the line off: quadratic curves through the middles of its pieces. */
export function smooth(line: Line): string {
  const pen = new Pen();
  if (line.length < 3) return pen.move(line[0]!) + pen.to("l", line.at(-1)!);
  const closed = same(line[0]!, line.at(-1)!);
  const middles = line.slice(1).map((p, i): Point => [(p[0] + line[i]![0]) / 2, (p[1] + line[i]![1]) / 2]);
  const curves: [Point, Point][] = closed
    ? middles.map((middle, i) => [line[i]!, middle])
    : [...middles.slice(1, -1).map((middle, i): [Point, Point] => [line[i + 1]!, middle]), [line.at(-2)!, line.at(-1)!]];
  return pen.move(closed ? middles.at(-1)! : line[0]!) + curves.map(([by, to]) => pen.bend(by, to)).join("") + (closed ? "z" : "");
}

/** A path of straight pieces. */
export function straight(line: Line, closed = false): string {
  const pen = new Pen();
  return pen.move(line[0]!) + line.slice(1).map((p) => pen.to("l", p)).join("") + (closed ? "z" : "");
}

/** Writes relative path commands in tenths of a unit, without letting their rounding add up. */
class Pen {
  private x = 0;
  private y = 0;
  private handle: Point | null = null;

  /** Lift and set down at `p`. */
  move(p: Point): string {
    [this.x, this.y, this.handle] = [tenths(p[0]), tenths(p[1]), null];
    return "M" + written(this.x) + next(this.y);
  }

  /** A quadratic curve to `p`. Where the last curve's mirrored handle will do for `by`, it is not written. */
  bend(by: Point, p: Point): string {
    const x = tenths(by[0]), y = tenths(by[1]);
    if (this.handle) {
      const mirrored: Point = [2 * this.x - this.handle[0], 2 * this.y - this.handle[1]];
      if (Math.max(Math.abs(mirrored[0] - x), Math.abs(mirrored[1] - y)) <= 4) {
        this.handle = mirrored;
        return this.to("t", p);
      }
    }
    this.handle = [x, y];
    return this.to("q", by, p);
  }

  /** One relative command (l, q, t) to the last of `points`. */
  to(command: string, ...points: Point[]): string {
    let out = "";
    let at: Point = [this.x, this.y];
    for (const p of points) {
      at = [tenths(p[0]), tenths(p[1])];
      out += (out ? next : written)(at[0] - this.x) + next(at[1] - this.y);
    }
    [this.x, this.y] = at;
    return command + out;
  }
}

/** A length in whole tenths, halves upwards: the same in Python and in a browser. */
const tenths = (value: number) => Math.floor(value * 10 + 0.5);

function written(value: number): string {
  const whole = Math.floor(Math.abs(value) / 10), part = Math.abs(value) % 10, sign = value < 0 ? "-" : "";
  return part ? `${sign}${whole || ""}.${part}` : `${sign}${whole}`;
}

const next = (value: number) => (value < 0 ? "" : " ") + written(value);

/** A stroke of changing width as the closed outline of it; `width(t)` with t from 0 to 1 along its points. */
export function brush(line: Line, width: (t: number) => number): Line {
  const left: Line = [], right: Line = [];
  line.forEach((p, i) => {
    const a = line[Math.max(i - 1, 0)]!, b = line[Math.min(i + 1, line.length - 1)]!;
    const reach = width(i / (line.length - 1)) / 2 / (distance(a, b) || 1);
    const dx = (b[1] - a[1]) * reach, dy = (a[0] - b[0]) * reach;
    left.push([p[0] + dx, p[1] + dy]);
    right.unshift([p[0] - dx, p[1] - dy]);
  });
  return [...left, ...right, left[0]!];
}
