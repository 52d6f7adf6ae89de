// Plain names of places on the limb, from the table both sides read: `<level>_<region>`, and quarter and third for the
// few places that are in no region. Another language writes these out in full.
import { table, SIDES } from "../../limb/table";
import type { Words } from "../shape";

const QUARTERS = { front: "Front", outer: "Outer side", back: "Back", inner: "Inner side" } as const;

export const places: Words = Object.fromEntries([
  ...Object.entries(table.levels).flatMap(([level, { regions }]) => regions.map((r) => [`${level}_${r.id}`, r.plain] as const)),
  ...SIDES.flatMap((side) => ["lower", "middle", "upper"].map((third) => [`${side}_${third}`, `${QUARTERS[side]}, ${third} third`] as const)),
]);
