// The signs that stand, most serious first; those the clinic has been told of come after the others of their level. They
// are the summary's, and those of entries that no summary has seen yet.
import { computed, effect, signal } from "@preact/signals";
import { entries, settings, summary, type Entry } from "../log/book";
import { localDay } from "../log/clock";
import { msOf } from "../log/stamp";
import type { Sign } from "../log/summary";
import { now } from "./now";

const WEIGHT = { emergency: 3, same_day: 2, review: 1, watch: 0 } as const;
const STANDS_MS = 3 * 24 * 3600e3; // so long an entry's sign stands by the phone's word alone

/** Skin checks and mishaps of the last days that the summary was made without. */
const fresh = computed<Entry[]>(() => {
  const from = new Date(now.value - STANDS_MS).toISOString();
  const seen = summary.value ? Date.parse(summary.value.now) : 0;
  const found = entries.value.filter((e) => (e.kind === "skin" || e.kind === "mishap") && e.at > from && msOf(e.stamp) > seen);
  // As in insight/signs/seen.py: a clear look on a later day ends it; one on the same day does not.
  const { day_starts } = settings.value;
  const day = (entry: Entry) => localDay(entry.at, entry.zone, day_starts);
  const clear = found.filter((e) => e.kind === "skin" && e.body.clear && !e.body.findings?.length).map(day).at(-1) ?? "";
  return found.filter((e) => e.kind === "mishap" || day(e) >= clear);
});

const here = signal<Sign[]>([]);

effect(() => {
  const found = fresh.value;
  const profile = settings.value;
  if (!found.length) here.value = [];
  else void import("../signs/here").then(({ signsHere }) => { if (fresh.peek() === found) here.value = signsHere(found, profile); }, () => {});
});

export const standing = computed<Sign[]>(() => {
  const told = summary.value ? [...summary.value.signs, ...Object.values(summary.value.limbs).flatMap((limb) => limb.signs)] : [];
  const known = new Set(told.map((sign) => sign.code));
  return [...told, ...here.value.filter((sign) => !known.has(sign.code))].sort(
    (a, b) => WEIGHT[b.level] - WEIGHT[a.level] || Number(!!a.told) - Number(!!b.told) || (a.since < b.since ? 1 : -1));
});
