// Times, dates and lists as the reader writes them.
import { addDays, today, zoneNow } from "./log/clock";
import { locale, t } from "./words";

const made = new Map<string, Intl.DateTimeFormat>();

function format(zone: string, options: Intl.DateTimeFormatOptions, at: number): string {
  const key = locale() + zone + JSON.stringify(options);
  let formatter = made.get(key);
  if (!formatter) made.set(key, (formatter = new Intl.DateTimeFormat(locale(), { timeZone: zone, ...options })));
  return formatter.format(at);
}

const ms = (at: string | number) => (typeof at === "number" ? at : Date.parse(at));

const customs = new Map<string, boolean>();

/** Whether the reader's custom is a clock of twelve hours; asked once a language, as asking takes long. */
function twelve(): boolean {
  const known = customs.get(locale()) ?? new Intl.DateTimeFormat(locale(), { hour: "numeric" }).resolvedOptions().hour12 ?? false;
  customs.set(locale(), known);
  return known;
}

/** 07:10, or 7:10 am where that is the custom. */
export const clock = (at: string | number, zone = zoneNow()) => format(zone, { hour: twelve() ? "numeric" : "2-digit", minute: "2-digit" }, ms(at));

const noon = (date: string) => Date.parse(`${date}T12:00:00Z`);

/** Thursday 12 June. */
export const longDay = (date: string) => format("UTC", { weekday: "long", day: "numeric", month: "long" }, noon(date));

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

/** Today, Yesterday, Tuesday (within a week), else 12 June. */
export function nearDay(date: string, dayStarts: number, now = Date.now()): string {
  const present = today(now, dayStarts);
  if (date === present) return t("common.today");
  if (date === addDays(present, -1)) return t("common.yesterday");
  if (date < present && date > addDays(present, -7)) return format("UTC", { weekday: "long" }, noon(date));
  return format("UTC", { day: "numeric", month: "long" }, noon(date));
}

/** The same within a sentence: today, yesterday, on Tuesday, on 12 June. */
export function onDay(date: string, dayStarts: number, now = Date.now()): string {
  const present = today(now, dayStarts);
  if (date === present) return t("common.on_today");
  if (date === addDays(present, -1)) return t("common.on_yesterday");
  return t("common.on_day", { day: nearDay(date, dayStarts, now) });
}

/** After a word such as "since": today, yesterday, Tuesday, 12 June. */
export const plainDay = (date: string, dayStarts: number, now = Date.now()): string =>
  date >= addDays(today(now, dayStarts), -1) ? onDay(date, dayStarts, now) : nearDay(date, dayStarts, now);

/** Whole hours for long spans, minutes under an hour. */
export const span = (millis: number) =>
  millis < 3600e3 ? t("common.minutes", { n: Math.max(0, Math.floor(millis / 60e3)) }) : t("common.hours", { n: Math.round(millis / 3600e3) });

/** "10, 11 and 12". */
export const inRow = (parts: readonly string[]): string => new Intl.ListFormat(locale(), { type: "conjunction" }).format(parts);

const numbers = new Map<string, Intl.NumberFormat>(); // making one takes as long as using it a hundred times

/** A number in the reader's own digits and marks, with a real minus sign. */
export function number(value: number): string {
  const format = numbers.get(locale()) ?? new Intl.NumberFormat(locale());
  numbers.set(locale(), format);
  return format.format(value).replace("-", "−");
}
