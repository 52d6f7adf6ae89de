// The sentence beside the large number. What is judged comes from the summary; here it is only put beside what is on now.
import type { Worn } from "./wear";
import { isSilent, type Forecast, type LimbSummary, type Silent, type Usual } from "../log/summary";
import { number } from "../moments";
import { said, t } from "../words";

export type Band = { hours: readonly number[]; low: readonly number[]; mid: readonly number[]; high: readonly number[] };

/** The usual day as drawn: the middle half of days. */
export function band(limb: LimbSummary | undefined): Band | null {
  return bandOf(limb?.usual);
}

/** The middle half of days of a usual part, null where it says nothing. */
export function bandOf(usual: Usual | Silent | undefined): Band | null {
  if (!usual || isSilent(usual)) return null;
  const { hours, p25, p50, p75 } = usual;
  return hours.length > 1 ? { hours, low: p25, mid: p50, high: p75 } : null;
}

/** A line of the band at an hour: straight between its points, level beyond its ends. */
export function along(hours: readonly number[], values: readonly number[], hour: number): number {
  const after = hours.findIndex((h) => h >= hour);
  if (after === 0) return values[0]!;
  if (after < 0) return values.at(-1)!;
  const [a, b] = [hours[after - 1]!, hours[after]!];
  return values[after - 1]! + ((values[after]! - values[after - 1]!) * (hour - a)) / (b - a);
}

/** Hours since the leg first went on today. */
export const hoursOn = (worn: Worn, now: number): number => (worn.today[0] ? Math.max(0, (now - worn.today[0].begun) / 3600e3) : 0);

export type Reading = { lead: string; more: string[] };

/** The reading for a limb that has `total` ply on. `today` is the wearer's local day, `ceiling` the clinic's own. */
export function plyReading(total: number | null, worn: Worn, limb: LimbSummary | undefined, now: number, today: string, ceiling: number): Reading {
  if (total === null) return { lead: t("today.lead_unknown"), more: [] };
  const more: string[] = [];
  const usual = band(limb);
  const hour = hoursOn(worn, now);
  const hours = number(Math.max(1, Math.round(hour)));
  const mid = usual && Math.round(along(usual.hours, usual.mid, hour));
  const above = mid === null ? null : total - mid;
  let lead = t("today.lead_ply");
  if (total >= ceiling) {
    lead = total === ceiling ? t("today.lead_ceiling") : t("today.lead_past", { n: total - ceiling });
    if (mid !== null) more.push(t("today.usual_is", { hours, n: mid }));
  } else if (above !== null) {
    lead = above === 0 ? t("today.lead_usual", { hours })
      : t(above > 0 ? "today.lead_above" : "today.lead_below", { n: Math.abs(above), hours });
  }
  const peak = forecast(limb, today);
  if (peak && peak.likely.high >= total) {
    const low = Math.max(total, peak.likely.low);
    const range = low === peak.likely.high ? String(low) : `${low}\u2060–\u2060${peak.likely.high}`;
    more.push(t("today.peak", { range, odds: said(peak.likely.words) }));
  }
  if (total === ceiling - 1) more.push(t("today.below_ceiling", { n: ceiling }));
  if (!usual && more.length === 0) more.push(limb && isSilent(limb.usual) ? said(limb.usual.reason) : t("today.no_usual"));
  return { lead, more };
}

function forecast(limb: LimbSummary | undefined, today: string): Forecast | null {
  const told = limb && !isSilent(limb.forecast) ? limb.forecast : null;
  return told?.date === today ? told : null;
}
