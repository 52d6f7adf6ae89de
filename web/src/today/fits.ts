// What a limb's socket is fitted by, and so what Today counts: ply, steps of a dial or pump, or both.
import type { Entry, Limb, ProfileBody } from "../log/kinds";
import type { Means } from "./taps";
import type { Worn } from "./wear";

export type Fit = "ply" | Means;

const FROM_PROFILE = { socks: "ply", dial: "dial", strap: "strap", vacuum: "vacuum", air_bladder: "air_bladder", pads: "pad" } as const;

/** The sides the wearer has a limb on; both while the profile does not say. */
export const sides = (profile: ProfileBody): readonly Limb[] =>
  profile.limbs?.length ? profile.limbs.map((limb) => limb.side) : ["left", "right"];

export function fits(profile: ProfileBody, limb: Limb): readonly Fit[] {
  const by = profile.limbs?.find((one) => one.side === limb)?.fitted_by;
  return by?.length ? by.map((one) => FROM_PROFILE[one]) : ["ply"];
}

/** Steps since the leg first went on today, by what is turned or pumped. */
export function stepsOf(what: Means, entries: readonly Entry[], limb: Limb, worn: Worn): number {
  const from = worn.today[0]?.begun;
  if (from === undefined) return 0;
  return entries.reduce(
    (sum, e) => (e.kind === "adjust" && e.limb === limb && e.body.what === what && Date.parse(e.at) >= from ? sum + (e.body.by ?? 0) : sum), 0);
}
