// The one way to screen text: t("area.key", params). Text lives by area in words/<language>/<area>.ts; what the first
// screen needs is in the entry script, the rest comes with the other screens.
import { common } from "./en/common";
import { today } from "./en/today";
import type * as rest from "./en/rest";

/** A text, or its plural forms chosen by the parameter `n`. `{name}` marks a parameter. */
export type Text = string | { one: string; other: string };
export type Words<K extends string = string> = Record<K, Text>;
type First = { common: typeof common; today: typeof today };
type Rest = typeof rest;
type Areas = { [A in keyof Rest]: A extends keyof First ? First[A] & Rest[A] : Rest[A] };
export type Area = keyof Areas;
export type Key = { [A in Area]: `${A}.${keyof Areas[A] & string}` }[Area];

const loaded: Partial<Record<Area, Words>> = { common, today };

/** The language of the words; dates and numbers follow `locale`, the reader's own region within that language. */
export const lang = "en";
export const locale = typeof navigator === "undefined" || !navigator.language.startsWith(lang) ? lang : navigator.language;
const plural = new Intl.PluralRules(lang);

/** Adds words to areas. */
export function learn(more: Partial<Record<Area, Words>>): void {
  for (const area of Object.keys(more) as Area[]) loaded[area] = { ...loaded[area], ...more[area] };
}

/** Fetches the words of the other screens. */
export const needWords = async (): Promise<void> => learn(await import("./en/rest"));

/** The text under `key`, with `{name}` places filled from `params`. */
export function t(key: Key, params: Record<string, string | number> = {}): string {
  const dot = key.indexOf(".");
  let text = loaded[key.slice(0, dot) as Area]?.[key.slice(dot + 1)];
  if (text === undefined) throw new Error(`No words for ${key}: its area is not in words/en/rest.ts`);
  if (typeof text !== "string") text = plural.select(Number(params["n"])) === "one" ? text.one : text.other;
  return text.replace(/\{(\w+)\}/g, (all, name: string) => String(params[name] ?? all));
}
