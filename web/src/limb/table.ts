// The one table of the limb, which the server reads too. server/plytide/limb/ is this folder in Python.
import json from "../../../server/plytide/data/limb.json";

export type Level = "transtibial" | "knee_disarticulation" | "transfemoral";
export type Side = "left" | "right";
export type View = "front" | "inner" | "back" | "outer" | "end";
export type Quarter = Exclude<View, "end">;
export type Pair = readonly [number, number];

export type Region = { id: string; trade: string; plain: string; height: Pair; angle: Pair; load: "tolerant" | "sensitive" | "varies" };
export type Feature = { id: string; kind: "line" | "ring" | "scar" | "soft"; relief: number; width: number; ink: number; pts: Pair[] };

export type LevelTable = {
  typical_length_mm: number;
  reference: { name: string; mm: number };
  brim_mm: number;
  end_mm: number;
  cap_mm: Record<Quarter, number>;
  cap_power: number;
  squareness: { front: Pair[]; back: Pair[] };
  trim_mm: Record<Quarter, number>;
  other_leg: { midline_mm: number; crotch_mm: number } | null;
  stretch_mm: Pair;
  rows: number[][];
  regions: Region[];
  features: Feature[];
};

export const table = json as unknown as { view: Record<string, number>; levels: Record<Level, LevelTable> };

export const SIDES: readonly Quarter[] = ["front", "outer", "back", "inner"]; // in the order of the table's columns
export const VIEWS: readonly View[] = ["front", "inner", "back", "outer", "end"];
