// The signs that stand, most serious first; those the clinic has been told of come after the others of their level. They
// are the summary's, and those of entries that no summary has seen yet.
import { computed, effect, signal } from "@preact/signals";
import { fetched } from "../fetched";
import { entries, settings, summary, todayDate } from "../log/book";
import { localDay } from "../log/clock";
import type { Limb } from "../log/kinds";
import { msOf } from "../log/stamp";
import type { Dated, LimbSign } from "../signs/stand";
import { now } from "./now";

const WEIGHT = { emergency: 3, same_day: 2, review: 1, watch: 0 } as const;
const LOOK_BACK_MS = 60 * 24 * 3600e3; // as in insight/signs/seen.py: no rule stands for longer
const KINDS: readonly string[] = ["skin", "mishap", "change"];

const isFresh = ({ entry }: Dated): boolean => msOf(entry.stamp) > (summary.value ? Date.parse(summary.value.now) : 0);

/** Skin checks, mishaps and changes of late with their local days, oldest first; nothing where the summary has them all. */
const late = computed<Dated[]>(() => {
  const from = new Date(now.value - LOOK_BACK_MS).toISOString(), all = entries.value, { day_starts } = settings.value;
  const log: Dated[] = [];
  for (let i = all.length - 1; i >= 0 && all[i]!.at > from; i--) {
    const entry = all[i]!;
    if (KINDS.includes(entry.kind)) log.push({ entry, date: localDay(entry.at, entry.zone, day_starts) });
  }
  return log.some(isFresh) ? log.reverse() : [];
});

const told = computed<LimbSign[]>(() => {
  const { signs = [], limbs = {} } = summary.value ?? {};
  return [
    ...signs.map((sign) => ({ ...sign, side: null })),
    ...Object.entries(limbs).flatMap(([side, limb]) => limb.signs.map((sign) => ({ ...sign, side: side as Limb }))),
  ];
});

const here = signal<LimbSign[]>([]);

effect(() => {
  const log = late.value, profile = settings.value, today = todayDate(), grave = told.value.some((sign) => sign.level !== "watch");
  if (!log.length) here.value = [];
  else fetched(() => import("../signs/stand"), ({ signsHere }) => { if (late.peek() === log) here.value = signsHere(log, profile, today, isFresh, grave); });
});

export const standing = computed<LimbSign[]>(() => {
  const known = (sign: LimbSign) => told.value.some((other) => other.code === sign.code && (other.side === sign.side || other.side === null));
  return [...told.value, ...here.value.filter((sign) => !known(sign))].sort(
    (a, b) => WEIGHT[b.level] - WEIGHT[a.level] || Number(!!a.told) - Number(!!b.told) || (a.since < b.since ? 1 : -1));
});
