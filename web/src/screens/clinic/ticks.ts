// What a wearer ticks for a link, and the kinds of entries that each tick stands for. The server knows the same table.
import type { Kind } from "../../log/kinds";

export const TICKS = {
  ply: ["ply", "don", "doff", "adjust", "sock"],
  sore: ["sore"],
  skin: ["skin", "told"],
  comfort: ["comfort"],
  mishap: ["mishap"],
  change: ["change", "girth"],
  day: ["day", "activity"],
  need: ["need", "question", "option", "visit"],
  note: ["note"],
} as const satisfies Record<string, readonly Kind[]>;

export type Tick = keyof typeof TICKS;
export const ALL = Object.keys(TICKS) as Tick[];

export const kindsOf = (ticks: readonly Tick[]): Kind[] => ticks.flatMap((tick) => [...TICKS[tick]]);

/** The ticks that these kinds came from. */
export const ticksOf = (kinds: readonly Kind[] | null, notes: boolean): Tick[] =>
  ALL.filter((tick) => (tick === "note" ? notes : kinds === null || TICKS[tick].some((kind) => kinds.includes(kind))));
