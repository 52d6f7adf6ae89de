// Signs of what was entered on this phone and is in no summary yet: with no network, or no server at all, they stand all
// the same. They are those that one entry meets by itself; what takes several is the server's to say. How long they go on
// standing is the rule of insight/signs/seen.py, from the same table; tests/vectors/signs.json holds both to it.
import { addDays } from "../log/clock";
import type { Entry, EntryOf, Limb, ProfileBody } from "../log/kinds";
import type { Sign } from "../log/summary";
import { atLevel, entered, isClear, meets, ruleOf, sourceOf, steps, table, titleOf, type Rule } from "./rules";

/** An entry with the local day it belongs to. */
export type Dated = { entry: Entry; date: string };

type Standing = { code: string; run: Dated[] };

/** A sign and the limb it is about; null where it is about none in particular. `here`: the phone's own, in the reader's words. */
export type LimbSign = Sign & { side: Limb | null; here?: true };

/**
 * The signs of `log` (skin checks, mishaps and changes, oldest first) on `today` that rest on an entry which is `fresh`.
 * `grave`: others stand already, beside which nothing reassures.
 */
export function signsHere(log: readonly Dated[], profile: ProfileBody, today: string, fresh: (one: Dated) => boolean, grave: boolean): LimbSign[] {
  const found = (["left", "right"] as const).flatMap((side) =>
    standingOf(log.filter(({ entry }) => entry.limb === side), profile, today).filter(({ run }) => run.some(fresh)).map((one) => signOf(one, side, profile)));
  const sober = grave || found.some((sign) => sign.level !== "watch");
  return found.filter((sign) => !(sober && ruleOfCode(sign.code).alone));
}

const ruleOfCode = (code: string): Rule => table.rules.find((rule) => rule.code === code)!;

function signOf({ code, run }: Standing, side: Limb, profile: ProfileBody): LimbSign {
  const met = atLevel(ruleOfCode(code), profile);
  const { kind, body } = run.at(-1)!.entry as EntryOf<"skin"> | EntryOf<"mishap">;
  return {
    ...met, side, here: true, since: run[0]!.entry.at, evidence: run.map(({ entry }) => entry.id), title: titleOf(met),
    entered: `${entered(kind, body)} ${ruleOf(met, profile)}`, do: steps(met, profile), source: sourceOf(met), told: null,
  };
}

/** The rules that stand on `today`, with their entries; `log` is one limb's, oldest first. */
function standingOf(log: readonly Dated[], profile: ProfileBody, today: string): Standing[] {
  const found = table.rules.flatMap((rule): Standing[] => {
    const kinds = new Set((rule.when ?? []).map((clause) => clause.kind));
    if (kinds.size === 0) return [];
    const keep = rule.stands ?? table.stands[atLevel(rule, profile).level];
    const shows = ({ entry: { kind, body } }: Dated) => (kind === "skin" || kind === "mishap") && !(kind === "skin" && isClear(body)) && meets(rule, kind, body, profile);
    const about = log.filter(({ entry }) => kinds.has(entry.kind as "skin"));
    const run = lately(kinds.has("mishap") ? about.filter(shows) : looked(about, shows), keep, today);
    return run.length && !ended(rule, run, log) ? [{ code: rule.code, run }] : [];
  });
  return found.filter((one) => !found.some((other) => covers(other, one)));
}

/** The checks that meet a rule and have not been followed by a look that ends it. */
function looked(checks: readonly Dated[], shows: (check: Dated) => boolean): Dated[] {
  let run: Dated[] = [];
  const missed = new Set<string>();
  for (const check of checks) {
    const body = check.entry.kind === "skin" ? check.entry.body : null;
    if (shows(check)) {
      run.push(check);
      missed.clear();
    } else if (body && !body.end_unseen && run.length && check.date > run.at(-1)!.date) {
      missed.add(check.date);
      if (isClear(body) || missed.size >= table.missed_looks) { run = []; missed.clear(); }
    }
  }
  return run;
}

/** The entries of one run, if its last one is no older than `keep` days. */
function lately(run: readonly Dated[], keep: number, today: string): Dated[] {
  if (!run.length || addDays(run.at(-1)!.date, keep) < today) return [];
  let start = run.length - 1;
  while (start && addDays(run[start - 1]!.date, Math.max(keep, 1)) >= run[start]!.date) start--;
  return run.slice(start);
}

const ended = (rule: Rule, run: readonly Dated[], log: readonly Dated[]): boolean =>
  !!rule.ended_by?.some((kind) => log.some(({ entry }) => entry.kind === kind && entry.at > run.at(-1)!.entry.at));

/** Whether `other` says already, from the same entries, what `one` would. */
function covers(other: Standing, one: Standing): boolean {
  const covered = table.rules.find((rule) => rule.code === other.code)?.covers ?? [];
  return covered.includes(one.code) && one.run.every((item) => other.run.includes(item));
}
