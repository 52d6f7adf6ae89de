// What the ticked answers say together: leaflets name the deep and the high signs; the wearer hears both, never a count.
import data from "../../../server/plytide/data/fit.json";

export type Level = keyof typeof data.levels;
export type Step = "where" | "depth" | "donning" | "moving";
export type Says = "deep" | "high" | "either";
export type Answer = { id: string; step: Step; says: Says };

export const STEPS: readonly Step[] = ["where", "depth", "donning", "moving"];

export const answers = (level: Level): readonly Answer[] => data.levels[level] as readonly Answer[];

export type Weighed = {
  deep: Answer[];
  high: Answer[];
  /** "deep", "high": all that was ticked points one way. "mixed": both ways. "trap": only what can be either. "none". */
  verdict: "deep" | "high" | "mixed" | "trap" | "none";
  /** Pain at the end was ticked: it can be either, whatever else points one way. */
  end: boolean;
};

/** Sorts what was ticked. One answer never settles it where the end hurts: that can be sinking in or swelling. */
export function weigh(level: Level, ticked: readonly string[]): Weighed {
  const chosen = answers(level).filter(({ id }) => ticked.includes(id));
  const deep = chosen.filter(({ says }) => says === "deep");
  const high = chosen.filter(({ says }) => says === "high");
  const end = chosen.some(({ says }) => says === "either");
  const verdict = deep.length && high.length ? "mixed" : deep.length ? "deep" : high.length ? "high" : end ? "trap" : "none";
  return { deep, high, verdict, end };
}
