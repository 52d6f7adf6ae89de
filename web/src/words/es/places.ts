// Spanish names of places on the limb, from the table that has them.
import type { Words } from "../shape";
import table from "../../../../server/plytide/data/places.es.json";

const { levels, quarters, thirds } = table;

export const places: Words = Object.fromEntries([
  ...Object.entries(levels).flatMap(([level, names]) => Object.entries(names).map(([id, name]) => [`${level}_${id}`, name] as const)),
  ...Object.entries(quarters).flatMap(([side, quarter]) => Object.entries(thirds).map(([third, part]) => [`${side}_${third}`, `${quarter}, ${part}`] as const)),
]);
