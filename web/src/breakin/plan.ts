// A break-in plan as the clinic gave it, and where in it the wearer is. A step is gained only by a day on which the leg
// was worn and every look at the skin was clear; any other day leaves the step where it is. It never goes back by itself:
// a finding is told to the clinic, who may say to go back.
import type { Entry } from "../log/kinds";
import { localDay } from "../log/clock";
import type { BreakInStep } from "../log/kinds";
import { isQuiet } from "../skin/due";

export type DayStep = { minutes: number; times: number };

/** The plan day by day. */
export const byDay = (steps: readonly BreakInStep[]): DayStep[] =>
  steps.flatMap(({ minutes, times = 1, days = 1 }) => Array<DayStep>(days).fill({ minutes, times }));

export type WornDay = { date: string; worn: boolean; looked: boolean; clear: boolean };

/** Each local day since `since` with anything said of wear or skin, for one limb. */
export function wornDays(entries: readonly Entry[], limb: string, dayStarts: number): WornDay[] {
  const days = new Map<string, WornDay>();
  for (const entry of entries) {
    if (entry.limb !== limb) continue;
    const date = localDay(entry.at, entry.zone, dayStarts);
    const day = days.get(date) ?? { date, worn: false, looked: false, clear: true };
    if (entry.kind === "don" || entry.kind === "ply") day.worn = true;
    if (entry.kind === "skin" && (!entry.body.end_unseen || !isQuiet(entry.body))) { // what was not looked at is not clear
      day.looked = true;
      day.clear &&= entry.body.clear && (entry.body.findings ?? []).length === 0;
    }
    days.set(date, day);
  }
  return [...days.values()].sort((a, b) => (a.date < b.date ? -1 : 1));
}

export type Place = { step: DayStep; number: number; of: number; gained: number; done: boolean; held: "skin" | "no_look" | null };

/** Where the plan stands on `today`: the step of the day, and why yesterday's was not gained, if it was not. */
export function place(steps: readonly BreakInStep[], days: readonly WornDay[], today: string): Place | null {
  const plan = byDay(steps);
  if (plan.length === 0) return null;
  const before = days.filter(({ date, worn }) => date < today && worn);
  const gained = before.filter(({ looked, clear }) => looked && clear).length;
  const last = before.at(-1);
  const held = !last || (last.looked && last.clear) ? null : last.looked ? "skin" : "no_look";
  const at = Math.min(gained, plan.length - 1);
  return { step: plan[at]!, number: at + 1, of: plan.length, gained, done: gained >= plan.length, held };
}

/**
 * The slowest of three published handouts, for a newcomer whose clinic gave no steps yet: 30 minutes once; then three
 * times 30, 45 and 60; then 15 minutes more a time each day (clinic handout, read). Handouts disagree: none is the rule.
 */
export const SLOWEST: readonly BreakInStep[] = [
  { minutes: 30, times: 1, days: 1 },
  ...[30, 45, 60, 75, 90, 105, 120, 135, 150].map((minutes) => ({ minutes, times: 3, days: 1 })),
];
