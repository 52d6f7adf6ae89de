// The days of the pattern, one slot a day however much was logged, so that gaps stay gaps.
import { addDays } from "../log/clock";
import type { DaySummary } from "../log/summary";

/** A day in its place on the axis; `day` null where nothing was logged. */
export type Slot = { date: string; day: DaySummary | null };

/** The `count` days that end with `last`, oldest first. */
export function slots(days: readonly DaySummary[], last: string, count: number): Slot[] {
  const known = new Map(days.filter((d) => d.logged).map((d) => [d.date, d]));
  return Array.from({ length: count }, (_, i) => {
    const date = addDays(last, i - count + 1);
    return { date, day: known.get(date) ?? null };
  });
}

/** Half the width of the running average, in days: nine days in all, an odd number round each. */
const HALF = 4;

/**
 * The running average of start or peak at each slot: the mean over the logged days of the nine around it. A day that is
 * not over counts for its start but not for its peak. Null where fewer than two days have a number.
 */
export function average(all: readonly Slot[], what: "start" | "peak"): (number | null)[] {
  return all.map((_, i) => {
    const near = all.slice(Math.max(0, i - HALF), i + HALF + 1);
    const values = near.flatMap(({ day }) => (day && day[what] !== null && !(what === "peak" && day.partial) ? [day[what]!] : []));
    return values.length < 2 ? null : values.reduce((a, b) => a + b, 0) / values.length;
  });
}

/** The mean hours a day over the days that are over and have hours; null where there are none. */
export function meanHours(all: readonly Slot[]): number | null {
  const hours = all.flatMap(({ day }) => (day && !day.partial && day.worn_h !== null ? [day.worn_h] : []));
  return hours.length ? hours.reduce((a, b) => a + b, 0) / hours.length : null;
}

/** Runs of slots without a break, for lines that must not bridge a gap wider than the average can speak for. */
export function runs<T>(values: readonly (T | null)[]): [number, T][][] {
  const out: [number, T][][] = [];
  values.forEach((value, i) => {
    if (value === null) return;
    const open = out.at(-1);
    if (open && open.at(-1)![0] === i - 1) open.push([i, value]);
    else out.push([[i, value]]);
  });
  return out;
}
