// What a skin check says, as it is put together finding by finding. Pure.
import { apart, type Spot } from "../limb/geometry";
import type { OwnLimb } from "../limb/names";
import type { Entry, EntryOf, Finding, Limb, SkinBody } from "../log/kinds";
import type { Timer } from "./timer";

export type What = Finding["what"];
export type Unwell = NonNullable<SkinBody["unwell"]>[number];

/** The commonest first, then the rest in the order of looking, feeling, being unwell. */
export const FIRST = ["redness", "blister", "open", "thickened", "swollen"] as const satisfies readonly What[];
export const REST = ["hot", "drainage", "smell", "spreading", "purple", "black", "pale_cold", "cold_wet_end", "rash", "itch", "numb", "weak"] as const satisfies readonly What[];
export const UNWELL = ["vomiting", "confusion", "fast_heart", "fast_breathing", "faint", "chest_pain", "short_breath", "coughing_blood", "severe_pain"] as const satisfies readonly Unwell[];

export const NOTHING: SkinBody = { clear: false, findings: [], fever_c: null, unwell: [] };
export const CLEAR: SkinBody = { ...NOTHING, clear: true };

const ONE_LOOK_MS = 90 * 60e3; // with no time of doffing, entries within this are one look
const SAME_PLACE_MM = 20; // as in insight/surface.py: about a fingertip and its aim

export const isEmpty = (body: SkinBody): boolean => !body.clear && !body.findings?.length && typeof body.fever_c !== "number" && !body.unwell?.length;

/** A blister and a burst one are one row of the list. */
export const rowOf = (what: What): What => (what === "broken_blister" ? "blister" : what);

export function tick(body: SkinBody, what: What, on: boolean): SkinBody {
  const others = (body.findings ?? []).filter((f) => rowOf(f.what) !== what);
  return { ...body, clear: false, findings: on ? [...others, { what, height: null, angle: null, fade_min: null, still_red: false, blanches: null, size_mm: null }] : others };
}

export const change = (body: SkinBody, index: number, to: Partial<Finding>): SkinBody =>
  ({ ...body, findings: (body.findings ?? []).map((f, i) => (i === index ? { ...f, ...to } : f)) });

export const placed = (finding: Finding): Spot | null =>
  typeof finding.height === "number" && typeof finding.angle === "number" ? { height: finding.height, angle: finding.angle } : null;

/**
 * "Still there" is over the limit only once the limit has passed; before that the mark is simply not gone yet. With no
 * time of doffing the wearer's word stands: it is there when it should not be.
 */
export const stillThere = (at: Timer): Partial<Finding> => ({ fade_min: null, still_red: at.state !== "waiting" });

/** "Gone", so many whole minutes after the leg came off. */
export const gone = (minutes: number): Partial<Finding> => ({ fade_min: Math.min(1440, Math.max(0, minutes)), still_red: false });

/** A mark that was there and has neither gone nor outstayed the limit. */
export const isPending = (finding: Finding): boolean => finding.what === "redness" && typeof finding.fade_min !== "number" && !finding.still_red;

/** The check that goes on: one with findings since the leg came off, or of the last while where that is not logged. */
export function goingOn(entries: readonly Entry[], side: Limb, offSince: number | null, now: number): EntryOf<"skin"> | null {
  const from = offSince ?? now - ONE_LOOK_MS;
  const last = entries.findLast((e): e is EntryOf<"skin"> => e.kind === "skin" && e.limb === side);
  return last && !last.body.clear && Date.parse(last.at) >= from ? last : null;
}

export type Before = { at: string; zone: string; what: What | "sore" };

/** What was last entered at the same place, in another entry: a finding, or else a sore mark. */
export function beforeAt(entries: readonly Entry[], { side, level, size }: OwnLimb, spot: Spot, except: string | null): Before | null {
  const near = (other: Spot) => apart(level, other, spot, size) <= SAME_PLACE_MM;
  let sore: Before | null = null;
  for (const entry of [...entries].reverse()) {
    if (entry.limb !== side || entry.id === except) continue;
    if (entry.kind === "skin")
      for (const finding of entry.body.findings ?? []) {
        const at = placed(finding);
        if (at && near(at)) return { at: entry.at, zone: entry.zone, what: finding.what };
      }
    if (entry.kind === "sore" && !entry.body.phantom && !sore && near(entry.body)) sore = { at: entry.at, zone: entry.zone, what: "sore" };
  }
  return sore;
}

/** Places of earlier findings, newest first, each once. */
export function earlierPlaces(entries: readonly Entry[], { side, level, size }: OwnLimb, except: string | null): Spot[] {
  const shown: Spot[] = [];
  for (const entry of [...entries].reverse())
    if (entry.kind === "skin" && entry.limb === side && entry.id !== except)
      for (const finding of entry.body.findings ?? []) {
        const at = placed(finding);
        if (at && shown.length < 12 && !shown.some((other) => apart(level, other, at, size) < 8)) shown.push(at);
      }
  return shown;
}
