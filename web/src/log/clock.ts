// Local days. A day runs from `dayStarts` o'clock to the same hour of the next day by the wall clock of the zone an
// entry was made in, so a night out belongs to the evening before and a journey does not move what was logged earlier.
// insight/clock.py follows the same rule; tests/vectors/days.json holds both to it.

// Newer browsers tell the zone at once; in others the asking takes as long as drawing a screen, and is done once a second
// at most.
declare const Temporal: { Now: { timeZoneId(): string } } | undefined;
const own = typeof Temporal === "undefined" ? undefined : Temporal.Now;

let zone = "";
let asked = -Infinity;

/** The zone the phone is in now. */
export function zoneNow(): string {
  if (own) return own.timeZoneId();
  if (performance.now() - asked < 1000) return zone;
  asked = performance.now();
  return (zone = Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC");
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** The wall clock of `zone` at an instant (RFC 3339 or ms): numbers, month 1-12. */
export function wall(at: string | number, zone: string): { year: number; month: number; day: number; hour: number; minute: number } {
  if (zone === own?.timeZoneId()) {
    const here = new Date(at); // the same clock, and no formatter to be made for it
    return { year: here.getFullYear(), month: here.getMonth() + 1, day: here.getDate(), hour: here.getHours(), minute: here.getMinutes() };
  }
  let format = formats.get(zone);
  if (!format) {
    format = new Intl.DateTimeFormat("en-u-ca-gregory-nu-latn", {
      timeZone: zone, hourCycle: "h23", year: "numeric", month: "numeric", day: "numeric", hour: "numeric", minute: "numeric",
    });
    formats.set(zone, format);
  }
  const part = Object.fromEntries(format.formatToParts(typeof at === "number" ? at : Date.parse(at)).map((p) => [p.type, Number(p.value)]));
  return { year: part["year"]!, month: part["month"]!, day: part["day"]!, hour: part["hour"]!, minute: part["minute"]! };
}

const QUARTER = 900e3;
const days = new Map<string, string>();

/** The local day, YYYY-MM-DD, that an instant belongs to. */
export function localDay(at: string | number, zone: string, dayStarts = 4): string {
  // Asking the wall clock takes as long as drawing a button. Clocks everywhere differ by whole quarters of an hour, so no
  // day begins within one of them, and each is asked once.
  const quarter = Math.floor((typeof at === "number" ? at : Date.parse(at)) / QUARTER);
  const key = `${quarter} ${dayStarts} ${zone}`;
  let date = days.get(key);
  if (date === undefined) {
    const { year, month, day, hour } = wall(quarter * QUARTER, zone);
    date = dateText(Date.UTC(year, month - 1, day - (hour < dayStarts ? 1 : 0)));
    if (days.size > 5000) days.clear();
    days.set(key, date);
  }
  return date;
}

/** Today. */
export const today = (now: number, dayStarts = 4): string => localDay(now, zoneNow(), dayStarts);

/** The day `days` after (before, if negative) a YYYY-MM-DD. */
export function addDays(date: string, days: number): string {
  const [year, month, day] = date.split("-").map(Number);
  return dateText(Date.UTC(year!, month! - 1, day! + days));
}

// Days are counted in UTC, where each has 24 hours; a bare date is never given to `new Date()`, which would guess a zone.
const dateText = (ms: number): string => new Date(ms).toISOString().slice(0, 10);
