// What is on the limb now, from its entries: the sittings of today and the set to start the next donning from.
// When a sitting goes on and when it ends follows insight/wear.py; tests/vectors/wear.json holds both to it.
import { localDay, zoneNow } from "../log/clock";
import type { Entry, EntryOf, Limb } from "../log/kinds";

export type Put = { total: number | null; socks: readonly string[] | null };
export type Step = Put & { ms: number };

/** One stretch with the leg on, from `begun` to `until`, the last instant the log vouches for. */
export type Sitting = { date: string; begun: number; until: number; donned: boolean; doffed: boolean; steps: Step[] };

export type Worn = {
  /** What is on, or null while the leg is off or nothing was logged. */
  on: (Put & { since: number }) | null;
  /** When the leg came off, if a doffing of today or of the last hours says so: marks fade on over the turn of the day. */
  offSince: number | null;
  /** An earlier day that ended without a doffing, and no word since. */
  openDay: string | null;
  /** Sittings of today, oldest first. */
  today: Sitting[];
  /** What to offer for the next donning: the last set of today, or what the last start was. */
  next: (Put & { from: "last" | "start" }) | null;
  /** The latest entry of today, or a doffing of the last hours, that says something about wear. */
  last: Entry | null;
};

const HOUR = 3600e3;
const SILENCE = 6 * HOUR; // the longest silence that wear carries over into the next local day
const SITTING = 24 * HOUR; // the longest sitting that is believed
const SAME_ACT = HOUR / 2; // a donning told twice, or the ply tapped just before it
const JUST_OFF = 3 * HOUR; // as long as the time of a mark can be told (skin/timer.ts)
const AHEAD = 5 * 60e3; // another device's clock may run a little before this one; its entries count all the same
const LOOK_BACK = 3 * 24 * HOUR; // entries read in full; before that only the last start is looked for

const isWear = (entry: Entry) => entry.kind === "don" || entry.kind === "doff" || entry.kind === "ply" || entry.kind === "adjust";

const stillOn = (sitting: Sitting, ms: number, date: string): boolean =>
  ms >= sitting.begun && ms - sitting.begun <= SITTING && (date === sitting.date || ms - sitting.until <= SILENCE);

/** Sittings of one limb's wear entries, which come in the order of their times. */
export function sittings(entries: readonly Entry[], dayStarts: number): Sitting[] {
  const all: Sitting[] = [];
  let open: Sitting | null = null;
  for (const entry of entries) {
    const ms = Date.parse(entry.at);
    const date = localDay(ms, entry.zone, dayStarts);
    const goesOn: boolean = !!open && (entry.kind === "doff" ? ms >= open.begun && ms - open.begun <= SITTING : stillOn(open, ms, date));
    if (!goesOn) open = null;
    if (entry.kind === "doff") {
      if (open) { open.until = ms; open.doffed = true; }
      open = null;
      continue;
    }
    if (!open || (entry.kind === "don" && ms - open.begun > SAME_ACT)) {
      open = { date, begun: ms, until: ms, donned: entry.kind === "don", doffed: false, steps: [] };
      all.push(open);
    }
    tell(open, entry, ms);
  }
  return all;
}

function tell(sitting: Sitting, entry: Entry, ms: number): void {
  sitting.until = Math.max(sitting.until, ms);
  if (entry.kind === "don") sitting.donned = true;
  if (entry.kind !== "don" && entry.kind !== "ply") return;
  const total = entry.body.total ?? null;
  if (total !== null || sitting.steps.length === 0) sitting.steps.push({ ms, total, socks: entry.body.socks ?? null });
}

/** What is on `limb` at `now` (ms since 1970). `entries` are live and in the order of their times. */
export function worn(entries: readonly Entry[], limb: Limb, now: number, dayStarts: number): Worn {
  const from = new Date(now - LOOK_BACK).toISOString();
  const ahead = new Date(now + AHEAD).toISOString();
  const start = entries.findLastIndex((entry) => entry.at < from) + 1; // of thousands, the last days' alone are looked at
  const recent = entries.slice(start).filter((entry) => entry.limb === limb && isWear(entry) && entry.at <= ahead);
  const today = localDay(now, zoneNow(), dayStarts);
  const all = sittings(recent, dayStarts);
  const latest = all.at(-1);
  const open = latest && !latest.doffed && stillOn(latest, now, today) ? latest : null;
  const ofToday = all.filter((sitting) => sitting.date === today || sitting === open);
  const put = open?.steps.at(-1) ?? { total: null, socks: null };
  const last = recent.at(-1);
  const lastDay = last && localDay(last.at, last.zone, dayStarts);
  const told = last && (lastDay === today || open || (last.kind === "doff" && now - Date.parse(last.at) < JUST_OFF)) ? last : null;
  return {
    on: open && { total: put.total, socks: put.socks, since: open.begun },
    offSince: !open && told?.kind === "doff" ? Date.parse(told.at) : null,
    openDay: !open && latest && !latest.doffed && latest.date !== today ? latest.date : null,
    today: ofToday,
    next: nextSet(entries, limb, ofToday),
    last: told,
  };
}

/** Later in the day one goes on with what was on; in the morning one starts as one last started. */
function nextSet(entries: readonly Entry[], limb: Limb, ofToday: readonly Sitting[]): Worn["next"] {
  const lately = ofToday.at(-1)?.steps.at(-1);
  if (lately && lately.total !== null) return { total: lately.total, socks: lately.socks, from: "last" };
  const latest = (kind: "don" | "ply") => entries.findLast((entry) => entry.limb === limb && entry.kind === kind && entry.body.total != null) as EntryOf<"don" | "ply"> | undefined;
  const start = latest("don");
  const last = start ?? latest("ply");
  return last ? { total: last.body.total!, socks: last.body.socks ?? null, from: start ? "start" : "last" } : null;
}
