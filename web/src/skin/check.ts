// What a skin check says, as it is put together finding by finding. Pure.
import { apart, type Spot } from "../limb/geometry";
import type { OwnLimb } from "../limb/names";
import type { Entry, Finding, SkinBody } from "../log/kinds";
import { isQuiet } from "./due";

export type What = Finding["what"];
export type Unwell = NonNullable<SkinBody["unwell"]>[number];

/** The commonest first, then the rest in the order of looking, feeling, being unwell. */
export const FIRST = ["redness", "blister", "open", "thickened", "swollen"] as const satisfies readonly What[];
export const REST = ["hot", "drainage", "smell", "spreading", "purple", "black", "pale_cold", "cold_wet_end", "rash", "itch", "numb", "weak"] as const satisfies readonly What[];
export const UNWELL = ["vomiting", "confusion", "fast_heart", "fast_breathing", "faint", "chest_pain", "short_breath", "coughing_blood", "severe_pain"] as const satisfies readonly Unwell[];

export const NOTHING: SkinBody = { clear: false, findings: [], fever_c: null, unwell: [] };
export const CLEAR: SkinBody = { ...NOTHING, clear: true };

const SAME_PLACE_MM = 20; // as in insight/surface.py: about a fingertip and its aim

/** Nothing is said yet. */
export const isEmpty = (body: SkinBody): boolean => !body.clear && !body.end_unseen && isQuiet(body);

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
