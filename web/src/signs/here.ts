// Signs of what was entered on this phone and is in no summary yet: with no network, or no server at all, they stand all
// the same. They are those that one entry meets by itself; what takes several days is the server's to say.
import "../App"; // the first script stays in one piece: see today/beside.ts
import type { Entry, ProfileBody } from "../log/kinds";
import type { Sign } from "../log/summary";
import { entered, metBy, ruleOf, sourceOf, steps, titleOf } from "./rules";

/** The latest entry that meets a rule is its evidence. `fresh` are skin checks and mishaps, oldest first. */
export function signsHere(fresh: readonly Entry[], profile: ProfileBody): Sign[] {
  const signs = new Map<string, Sign>();
  for (const { kind, id, at, body } of fresh) {
    if (kind !== "skin" && kind !== "mishap") continue;
    for (const met of metBy(kind, body, profile))
      signs.set(met.code, {
        ...met, since: signs.get(met.code)?.since ?? at, evidence: [...(signs.get(met.code)?.evidence ?? []), id], title: titleOf(met),
        entered: `${entered(kind, body)} ${ruleOf(met, profile)}`, do: steps(met, profile), source: sourceOf(met), told: null,
      });
  }
  return [...signs.values()];
}
