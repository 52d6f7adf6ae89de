// Lines of charts, as SVG paths; numbers are kept short.

export const r = (n: number): number => Math.round(n * 10) / 10;

export type Point = [x: number, y: number];

/** Steps: level until the next change, then straight up or down. Where a line is not known it is not drawn: see callers. */
export const stepsPath = (points: readonly Point[]): string => points.map(([x, y], i) => (i === 0 ? `M${r(x)} ${r(y)}` : `H${r(x)}V${r(y)}`)).join("");

/** A curve through points that never overshoots them sideways. Only for what is an average; never over taps. */
export function smooth(points: readonly Point[]): string {
  let d = `M${r(points[0]![0])} ${r(points[0]![1])}`;
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1]!;
    const [x1, y1] = points[i]!;
    const reach = (x1 - x0) / 2.2;
    d += `C${r(x0 + reach)} ${r(y0)} ${r(x1 - reach)} ${r(y1)} ${r(x1)} ${r(y1)}`;
  }
  return d;
}

/** Whole hours to mark on an axis of `width`, no closer than their labels are wide. */
export function hourTicks(hours: number, width: number, size: number): number[] {
  if (hours < 1) return [0];
  const step = [1, 2, 3, 4, 6, 12, 24].find((s) => (width / hours) * s > size * 2.6) ?? 24;
  return Array.from({ length: Math.floor(Math.floor(hours) / step) + 1 }, (_, i) => i * step);
}
