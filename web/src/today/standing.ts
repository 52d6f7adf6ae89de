// The signs that stand, most serious first; those the clinic has been told of come after the others of their level.
import type { Sign, Summary } from "../log/summary";

const WEIGHT = { emergency: 3, same_day: 2, review: 1, watch: 0 } as const;

export function standing(summary: Summary | null): Sign[] {
  if (!summary) return [];
  const all = [...summary.signs, ...Object.values(summary.limbs).flatMap((limb) => limb.signs)];
  return all.sort((a, b) => WEIGHT[b.level] - WEIGHT[a.level] || Number(!!a.told) - Number(!!b.told) || (a.since < b.since ? 1 : -1));
}
