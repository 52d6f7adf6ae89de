// Times and numbers as the reader writes them: those of the first screen. times.ts has them and the rest.
import { signal } from "@preact/signals";
import { addDays, today, zoneNow } from "./log/clock";
import { locale, t } from "./words";

/** Whether times and dates are written yet: the first of a page takes longer to make than the screen, which is drawn before. */
export const dated = signal(true);
const NOT_YET = "\u2007";

const made = new Map<string, Intl.DateTimeFormat>();

export function format(zone: string, options: Intl.DateTimeFormatOptions, at: number): string {
  if (!dated.value) return NOT_YET;
  const key = locale() + zone + JSON.stringify(options);
  let formatter = made.get(key);
  if (!formatter) made.set(key, (formatter = new Intl.DateTimeFormat(locale(), { timeZone: zone, ...options })));
  return formatter.format(at);
}

const ms = (at: string | number) => (typeof at === "number" ? at : Date.parse(at));

const customs = new Map<string, boolean>();

/** Whether the reader's custom is a clock of twelve hours; asked once a language, as asking takes long. */
function twelve(): boolean {
  if (!dated.value) return false;
  const known = customs.get(locale()) ?? new Intl.DateTimeFormat(locale(), { hour: "numeric" }).resolvedOptions().hour12 ?? false;
  customs.set(locale(), known);
  return known;
}

/** 07:10, or 7:10 am where that is the custom. */
export const clock = (at: string | number, zone = zoneNow()) => format(zone, { hour: twelve() ? "numeric" : "2-digit", minute: "2-digit" }, ms(at));

export const noon = (date: string) => Date.parse(`${date}T12:00:00Z`);

/** Thursday 12 June. */
export const longDay = (date: string) => format("UTC", { weekday: "long", day: "numeric", month: "long" }, noon(date));

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

/** Whole hours for long spans, minutes under an hour. */
export const span = (millis: number) =>
  millis < 3600e3 ? t("common.minutes", { n: Math.max(0, Math.floor(millis / 60e3)) }) : t("common.hours", { n: Math.round(millis / 3600e3) });

const numbers = new Map<string, Intl.NumberFormat>(); // making one takes as long as using it a hundred times

/** A number in the reader's own digits and marks, with a real minus sign. */
export function number(value: number): string {
  if (value >= 0 && value < 1000 && Number.isInteger(value)) return String(value); // as every language here writes it
  const format = numbers.get(locale()) ?? new Intl.NumberFormat(locale());
  numbers.set(locale(), format);
  return format.format(value).replace("-", "−");
}
