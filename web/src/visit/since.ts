// What changed since the last visit, drawn up from the summary: plain before and after, nothing weighed.
import type { DaySummary, LimbSummary, Spot } from "../log/summary";
import { addDays } from "../log/clock";

/** A number then and now; null where too few days say it. */
export type Then = { then: number | null; now: number | null };

export type Since = {
  days: number;
  logged: number;
  peak: Then;
  hours: Then;
  comfort: Then;
  sore: number;
  findings: number;
  mishaps: number;
  newPlaces: string[];
  changes: { what: string; on: string }[];
};

/** Days at either end that are averaged. */
const SPAN = 7;
const ENOUGH = 3;

export function since(limb: LimbSummary, visit: string, today: string, name = (spot: Spot): string => spot.plain): Since {
  const days = limb.days.filter(({ date, logged }) => logged && date > visit && date <= today);
  const over = days.filter(({ partial }) => !partial);
  const first = over.filter(({ date }) => date <= addDays(visit, SPAN));
  const last = over.filter(({ date }) => date > addDays(today, -SPAN - 1));
  const both = (what: "peak" | "worn_h" | "comfort"): Then => ({ then: mean(first, what), now: mean(last, what) });
  const whole = Math.round((Date.parse(today + "T12:00Z") - Date.parse(visit + "T12:00Z")) / 86400e3);
  return {
    days: whole, logged: days.length, peak: both("peak"), hours: both("worn_h"), comfort: both("comfort"),
    sore: days.filter(({ sore_worst }) => (sore_worst ?? 0) > 0).length,
    findings: days.filter(({ skin }) => skin === "finding").length,
    mishaps: days.reduce((n, day) => n + day.mishaps, 0),
    newPlaces: limb.spots.filter((spot) => spot.first > visit).map(name),
    changes: limb.periods.flatMap(({ what, since }) => (what && since > visit ? [{ what, on: since }] : [])),
  };
}

function mean(days: readonly DaySummary[], what: "peak" | "worn_h" | "comfort"): number | null {
  const values = days.flatMap((day) => (day[what] === null ? [] : [day[what]!]));
  return values.length < ENOUGH ? null : Math.round((values.reduce((a, b) => a + b, 0) / values.length) * 10) / 10;
}
