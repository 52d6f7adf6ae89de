// The rules that one entry alone can meet, judged on the phone so that what to do is there at once and offline. Same table
// and same answers as insight/rules.py: tests/vectors/signs.json holds both to them.
import json from "../../../server/plytide/data/signs.json";
import type { Finding, MishapBody, SkinBody } from "../log/kinds";
import type { Sign } from "../log/summary";
import { number } from "../times";
import { signTexts } from "../words";
import { fadeLimit, filled, type Risks } from "./fill";

export { fadeLimit, type Risks };

export type Level = Sign["level"];
type Kind = "skin" | "mishap";
type Body = Partial<SkinBody & MishapBody>;

type Clause = {
  kind: Kind; what?: string[]; any_flag?: ("hurt" | "head" | "cannot_stand")[]; risk?: string[]; any_unwell?: string[]; fever_at_least?: number;
  also?: string[]; finding?: string[]; over_limit?: boolean; blanches?: (boolean | null)[];
};
export type Rule = {
  code: string; level: Level; higher_risk: boolean; keep_off: boolean; alone?: boolean; when?: Clause[]; covers?: string[]; stands?: number; ended_by?: string[];
  title: string; rule: string; do: string[]; source: string; mark: string;
};
type Words = { entered: string; and: string; fade: string; still_red: string; no_blanch: string; fever: string } & Record<"finding" | "unwell" | "mishap" | "flag", Record<string, string>>;
type RuleText = Pick<Rule, "title" | "rule" | "do" | "source">;
type Texts = { levels: Record<Level, { off: string[]; on: string[] }>; whom: Record<string, string>; words: Words };
type Table = Texts & { rules: Rule[]; stands: Record<Level, number>; missed_looks: number };

export const table = json as unknown as Table;

/** The texts of signs in the language spoken, and of one rule. */
const texts = (): Texts => signTexts() ?? table;
const textOf = (code: string): RuleText | undefined => (signTexts()?.rules as Record<string, RuleText> | undefined)?.[code] ?? rules.get(code);

const rules = new Map(table.rules.map((rule) => [rule.code, rule]));
const LEVELS: readonly Level[] = ["emergency", "same_day", "review", "watch"]; // the most urgent first

/** A rule that is met: its level for this wearer, and whether the leg stays off. */
export type Met = { code: string; level: Level; keep_off: boolean };

/** Whether a mark that took this long is over the limit: 20 minutes are within a limit of 20, 21 are not. */
export const overLimit = (minutes: number, profile: Risks): boolean => minutes > fadeLimit(profile);

/** The rules that one skin or mishap entry meets, the most urgent first. */
export function metBy(kind: Kind, body: Body, profile: Risks): Met[] {
  const found = table.rules.filter((rule) => meets(rule, kind, body, profile));
  const covered = new Set(found.flatMap((rule) => rule.covers ?? []));
  const met = found.filter((rule) => !covered.has(rule.code)).map((rule) => atLevel(rule, profile));
  const graver = met.some((m) => m.level !== "watch"); // nothing reassures beside it
  return met.filter((m) => !(graver && rules.get(m.code)!.alone)).sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level));
}

/** Whether one entry meets a rule: any one of its clauses holds. */
export const meets = (rule: Rule, kind: Kind, body: Body, profile: Risks): boolean => (rule.when ?? []).some((clause) => holds(clause, kind, body, profile));

/** Someone looked at all of the limb and found nothing, whatever button was pressed; as insight/skin.py has it. */
export const isClear = (body: Body): boolean =>
  !!body.clear && !body.end_unseen && !body.findings?.length && !body.unwell?.length && (typeof body.fever_c !== "number" || metBy("skin", body, {}).length === 0);

/** One level up for those whose skin or blood supply forgives less; then the leg stays off too. */
export function atLevel(rule: Rule, profile: Risks): Met {
  const up = rule.higher_risk && (profile.higher_risk ?? []).length > 0;
  return { code: rule.code, level: LEVELS[Math.max(0, LEVELS.indexOf(rule.level) - Number(up))]!, keep_off: rule.keep_off || up };
}

/** Whether every key of a clause holds. A key this version does not know never holds. */
function holds(clause: Clause, kind: Kind, body: Body, profile: Risks): boolean {
  const findings = body.findings ?? [], limit = fadeLimit(profile);
  const tests: { [K in keyof Required<Clause>]: () => boolean } = {
    kind: () => clause.kind === kind,
    what: () => clause.what!.includes(body.what ?? ""),
    any_flag: () => clause.any_flag!.some((flag) => body[flag] === true),
    risk: () => (profile.higher_risk ?? []).some((risk) => clause.risk!.includes(risk)),
    any_unwell: () => (body.unwell ?? []).some((word) => clause.any_unwell!.includes(word)),
    fever_at_least: () => (body.fever_c ?? 0) >= clause.fever_at_least!,
    also: () => findings.some((f) => clause.also!.includes(f.what)),
    finding: () => findings.some((f) => isFinding(f, clause, limit)),
    over_limit: () => clause.finding !== undefined, // the two that narrow `finding` are read with it
    blanches: () => clause.finding !== undefined,
  };
  return Object.keys(clause).every((key) => tests[key as keyof Clause]?.() ?? false);
}

function isFinding(finding: Finding, clause: Clause, limit: number): boolean {
  const over = finding.still_red === true || (finding.fade_min ?? 0) > limit;
  return clause.finding!.includes(finding.what)
    && (clause.over_limit === undefined || clause.over_limit === over)
    && (clause.blanches === undefined || clause.blanches.includes(finding.blanches ?? null));
}

/** One skin or mishap entry in words: "a blister and a temperature of 38.2 °C". */
export function whatWasEntered(kind: Kind, body: Body): string {
  const { words } = texts();
  if (kind === "mishap") {
    const flags = Object.keys(words.flag).filter((flag) => body[flag as "hurt"] === true).map((flag) => words.flag[flag]!);
    return listed([...(body.what && words.mishap[body.what] ? [words.mishap[body.what]!] : []), ...flags]);
  }
  const said = (body.findings ?? []).filter((f) => words.finding[f.what]).map(findingInWords);
  if (typeof body.fever_c === "number") said.push(words.fever.replace("{value}", number(body.fever_c)));
  return listed([...said, ...(body.unwell ?? []).flatMap((word) => words.unwell[word] ?? [])]);
}

/** "You entered a blister." */
export const entered = (kind: Kind, body: Body): string => texts().words.entered.replace("{what}", whatWasEntered(kind, body));

export function findingInWords(finding: Finding): string {
  const { words } = texts();
  const more: string[] = [];
  if (finding.still_red) more.push(words.still_red);
  else if (typeof finding.fade_min === "number") more.push(words.fade.replace("{minutes}", String(finding.fade_min)));
  if (finding.blanches === false) more.push(words.no_blanch);
  return words.finding[finding.what]! + (more.length ? ` (${more.join(", ")})` : "");
}

/** Things in a row, each once: "a, b and c". */
function listed(said: readonly string[]): string {
  const once = [...new Set(said)];
  return once.length > 1 ? `${once.slice(0, -1).join(", ")} ${texts().words.and} ${once.at(-1)!}` : once.join("");
}

/** What to do, in order: the level's own lines, then the rule's, with the wearer's own telephone numbers. */
export const steps = (met: Met, profile: Risks): string[] =>
  [...texts().levels[met.level][met.keep_off ? "off" : "on"], ...textOf(met.code)!.do].map((line) => whole(line, profile));

export const titleOf = (met: Met): string => textOf(met.code)!.title;
export const ruleOf = (met: Met, profile: Risks): string => whole(textOf(met.code)!.rule, profile);
export const sourceOf = (met: Met): string => textOf(met.code)!.source;

const whole = (text: string, profile: Risks): string => filled(text, texts().whom, profile);
