// The mark that is waited for, and what there is to ask of it while the leg is off. Pure, and apart from check.ts: Today
// asks the same question and needs none of the limb's geometry for it.
import type { Entry, EntryOf, Finding, Limb, SkinBody } from "../log/kinds";
import type { Timer } from "./timer";

const ONE_LOOK_MS = 90 * 60e3; // with no time of doffing, entries within this are one look

/**
 * "Still there" is over the limit only once the limit has passed; before that the mark is simply not gone yet. With no
 * time of doffing the wearer's word stands: it is there when it should not be.
 */
export const stillThere = (at: Timer): Partial<Finding> => ({ fade_min: null, still_red: at.state !== "waiting" });

/** "Gone", so many whole minutes after the leg came off. */
export const gone = (minutes: number): Partial<Finding> => ({ fade_min: Math.min(1440, Math.max(0, minutes)), still_red: false });

/** "Gone later": at the earliest in the first whole minute after the limit. */
export const goneLate = (minutes: number, limit: number): Partial<Finding> => gone(Math.max(minutes, Math.floor(limit) + 1));

/** A mark that was there and has neither gone nor outstayed the limit. */
export const isPending = (finding: Finding): boolean => finding.what === "redness" && typeof finding.fade_min !== "number" && !finding.still_red;

/** Nothing was found, whether or not all of it could be looked at. */
export const isQuiet = (body: SkinBody): boolean => !body.findings?.length && typeof body.fever_c !== "number" && !body.unwell?.length;

/** The check that goes on: one with findings since the leg came off, or of the last while where that is not logged. */
export function goingOn(entries: readonly Entry[], side: Limb, offSince: number | null, now: number): EntryOf<"skin"> | null {
  const from = offSince ?? now - ONE_LOOK_MS;
  const last = entries.findLast((e): e is EntryOf<"skin"> => e.kind === "skin" && e.limb === side);
  return last && !last.body.clear && Date.parse(last.at) >= from ? last : null;
}

/** `mark`: a mark was found and is waited for. `look`: nobody has looked since the leg came off. */
export type Asking = { about: "mark" | "look"; entry: EntryOf<"skin"> | null };

/** What to ask while the leg is off; null where it was looked at and nothing is open. One look a day is asked for, not more. */
export function asking(entries: readonly Entry[], side: Limb, offSince: number, isToday: (entry: Entry) => boolean): Asking | null {
  const entry = goingOn(entries, side, offSince, offSince);
  if (entry?.body.findings?.some(isPending)) return { about: "mark", entry };
  const last = entries.findLast((e) => e.kind === "skin" && e.limb === side);
  return last && (isToday(last) || Date.parse(last.at) >= offSince) ? null : { about: "look", entry: null };
}

/** A check with all the marks that are waited for answered alike. */
export const answered = (body: SkinBody, to: Partial<Finding>): SkinBody =>
  ({ ...body, findings: (body.findings ?? []).map((finding) => (isPending(finding) ? { ...finding, ...to } : finding)) });
