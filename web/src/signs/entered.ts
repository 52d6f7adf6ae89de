// What the server says was entered, in the language spoken. Its sentence is a text of the table of signs with the blanks
// filled: what stands in them is read out, put into the reader's own words, and filled into the same text of that language.
// What cannot be read stays as the server said it.
import json from "../../../server/plytide/data/signs.json";
import type { Sign } from "../log/summary";
import { monthDay, number } from "../times";
import { signTexts, t, type Key } from "../words";
import { places } from "../words/en/places";

type Told = { rule: string; entered?: string; entered_never?: string; entered_also?: string };
type Group = Record<string, string>;

const english = new Map(json.rules.map((rule) => [rule.code, rule as unknown as Told]));
const GROUPS = ["finding", "unwell", "mishap", "tag", "flag", "fitting"] as const;
const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

export function ownEntered({ code, entered }: Pick<Sign, "code" | "entered">): string {
  const texts = signTexts(), source = english.get(code);
  const target = (texts?.rules as Record<string, Told> | undefined)?.[code];
  if (!texts || !source || !target) return entered;
  // A sign that names several places says its text once for each of them, and its rule after the last.
  const start = source.entered?.split("{")[0], next = start ? entered.lastIndexOf(` ${start}`) : -1;
  if (next > 0) return [entered.slice(0, next), entered.slice(next + 1)].map((one) => ownEntered({ code, entered: one })).join(" ");
  const ways: readonly [string, string][] = [
    [source.entered ?? json.words.entered, target.entered ?? texts.words.entered],
    [source.entered_never, target.entered_never], [source.entered_also, target.entered_also],
    [`${source.entered} ${source.entered_also}`, `${target.entered} ${target.entered_also}`],
  ].filter((way): way is [string, string] => way[0] !== undefined && way[1] !== undefined);
  for (const [from, to] of ways) {
    const found = blanks(`${from} ${source.rule}`, entered) ?? blanks(from, entered);
    if (found) return fill(entered.endsWith(lastWords(source.rule)) ? `${to} ${target.rule}` : to, found);
  }
  return entered;
}

const lastWords = (text: string): string => text.slice(text.lastIndexOf("}") + 1);

/** What stands in the blanks of a text, by name; null if it is not that text. */
function blanks(text: string, said: string): Map<string, string> | null {
  const names: string[] = [];
  const pattern = text.split(/(\{\w+\})/).map((part) => {
    if (!/^\{\w+\}$/.test(part)) return part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    names.push(part.slice(1, -1));
    return "(.+?)";
  }).join("");
  const found = new RegExp(`^${pattern}$`).exec(said);
  const own = found?.slice(1).map(inOwnWords);
  return own?.every((value) => value !== null) ? new Map(names.map((name, i) => [name, own[i]!])) : null;
}

const fill = (text: string, found: Map<string, string>): string => text.replace(/\{(\w+)\}/g, (all, name: string) => found.get(name) ?? all);

/** A number, a date, a place, a change of size, or things in a row. */
function inOwnWords(value: string): string | null {
  if (/^[+−-]?[\d.]+$/.test(value)) return number(Number(value.replace("−", "-")));
  const date = /^(\d+) ([A-Z][a-z]+)$/.exec(value), month = date ? MONTHS.indexOf(date[2]!) : -1;
  if (month >= 0) return monthDay(`2000-${String(month + 1).padStart(2, "0")}-${date![1]!.padStart(2, "0")}`);
  const size = /^([+-]?[\d.]+) (ply|h|cm)$/.exec(value);
  if (size) return `${size[1]!.startsWith("+") ? "+" : ""}${number(Number(size[1]))} ${size[2]}`;
  const place = Object.keys(places).find((key) => (places[key] as string).toLowerCase() === value.toLowerCase());
  return place ? inSentence(t(`places.${place}` as Key)) : inRow(value);
}

const inSentence = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

/** "a blister (took 32 minutes to fade) and vomiting": each known phrase is replaced; a letter left over is an unknown one. */
function inRow(value: string): string | null {
  const own: string[] = [];
  let left = value;
  for (const [from, to] of phrases()) left = left.replace(from, (_, n?: string) => `\u0001${own.push(n ? to.replace(/\{\w+\}/, number(Number(n))) : to) - 1}\u0001`);
  return /[a-z]/i.test(left) ? null : left.replace(/\u0001(\d+)\u0001/g, (_, i: string) => own[Number(i)]!);
}

/** English phrases and the own ones, the longest first: "a blister" is also the beginning of "a blister that has burst". */
function phrases(): readonly [RegExp, string][] {
  const from = json.words as unknown as Record<string, Group & string>, to = signTexts()!.words as unknown as Record<string, Group & string>;
  const pairs: [string, string][] = GROUPS.flatMap((group) => Object.keys(from[group]!).map((key): [string, string] => [from[group]![key]!, to[group]![key]!]));
  for (const name of ["fade", "still_red", "no_blanch", "fever"] as const) pairs.push([from[name]!, to[name]!]);
  pairs.push(["soreness of {n}", t("signs.soreness_of", { n: "{n}" })], ["less than a ply", t("signs.less_than_a_ply")]);
  pairs.sort((a, b) => b[0].length - a[0].length);
  const made = pairs.map(([one, other]): [RegExp, string] => [new RegExp(one.replace(/\{\w+\}/, "([\\d.]+)"), "g"), other]);
  return [...made, [/ and /g, ` ${to["and"]!} `]];
}
