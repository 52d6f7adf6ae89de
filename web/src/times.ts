// Times, dates and lists as the reader writes them; those of the first screen come from moments.ts.
import { addDays, today } from "./log/clock";
import { format, noon, onDay, nearDay } from "./moments";
import { locale } from "./words";

export { clock, longDay, nearDay, number, onDay, span } from "./moments";

/** 12 June 2031. */
export const fullDate = (date: string) => format("UTC", { day: "numeric", month: "long", year: "numeric" }, noon(date));

/** 12 Jun, or as short as the reader's custom has it. */
export const monthDay = (date: string) => format("UTC", { day: "numeric", month: "short" }, noon(date));

/** Thu. */
export const shortDay = (date: string) => format("UTC", { weekday: "short" }, noon(date));

/** June 2031. */
export const monthName = (date: string) => format("UTC", { month: "long", year: "numeric" }, noon(date));

/** The day weeks begin with where the reader is: 1 Monday to 7 Sunday. Monday where the browser does not know. */
export function weekStart(): number {
  const known = new Intl.Locale(locale()) as Intl.Locale & { weekInfo?: { firstDay: number }; getWeekInfo?: () => { firstDay: number } };
  return (known.getWeekInfo?.() ?? known.weekInfo)?.firstDay ?? 1;
}

/** Seven short names of weekdays, beginning with `first` (1 Monday to 7 Sunday). */
export const weekdayNames = (first: number): string[] =>
  Array.from({ length: 7 }, (_, i) => shortDay(addDays("2024-01-01", first - 1 + i))); // 1 January 2024 was a Monday

/** After a word such as "since": today, yesterday, Tuesday, 12 June. */
export const plainDay = (date: string, dayStarts: number, now = Date.now()): string =>
  date >= addDays(today(now, dayStarts), -1) ? onDay(date, dayStarts, now) : nearDay(date, dayStarts, now);

/** "10, 11 and 12". */
export const inRow = (parts: readonly string[]): string => new Intl.ListFormat(locale(), { type: "conjunction" }).format(parts);
