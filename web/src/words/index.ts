// The one way to screen text: t("area.key", params). Text lives by area in words/<language>/<area>.ts. English: what the
// first screen needs is in the entry script, the rest comes with the other screens. Another language is one file of its
// own, fetched before the first screen of who reads it; until then, and without it, English serves.
import { signal } from "@preact/signals";
import { common } from "./en/common";
import { today } from "./en/today";
import type * as rest from "./en/rest";
import type * as spanish from "./es";
import type { Words } from "./shape";

type First = { common: typeof common; today: typeof today };
type Rest = typeof rest;
type Areas = { [A in keyof Rest]: A extends keyof First ? First[A] & Rest[A] : Rest[A] };
export type Area = keyof Areas;
export type Key = { [A in Area]: `${A}.${keyof Areas[A] & string}` }[Area];
export type SignTexts = typeof spanish.signTexts;
type Own = Record<Area, Words> & Pick<typeof spanish, "said" | "signTexts" | "refusals">; // a language has every text, or it does not compile
type Learnt = Partial<Record<Area, Words>>;

export const LANGS = ["en", "es"] as const;
export type Lang = (typeof LANGS)[number];

const english: Learnt = { common, today };
let own: Own | null = null;

let asked: Lang = "en";

/** The language of the words; screens follow it as it changes. */
export const lang = signal<Lang>("en");

const wanted = (): readonly string[] => (typeof navigator === "undefined" ? [] : navigator.languages ?? [navigator.language]);
const language = (tag: string) => tag.toLowerCase().split("-")[0];

/** What the phone asks for first among the languages there are. */
export const phoneLang = (): Lang => wanted().map(language).find((one): one is Lang => (LANGS as readonly unknown[]).includes(one)) ?? "en";

/** Dates and numbers follow the reader's own region within the language. */
export const locale = (): string => wanted().find((tag) => language(tag) === lang.value) ?? lang.value;

/** Speaks a language from now on, once its words are there; without them it stays with what it speaks. */
export async function speak(next: Lang): Promise<void> {
  asked = next;
  if (next === "es") own ??= (await import("./es")) satisfies Own;
  else if (own) await needEnglish();
  if (asked === next) lang.value = next;
}

/** Adds English words to areas. */
export function learn(more: Learnt): void {
  for (const area of Object.keys(more) as Area[]) english[area] = { ...english[area], ...more[area] };
}

const needEnglish = async (): Promise<void> => learn(await import("./en/rest"));

/** Fetches the words of the other screens. */
export const needWords = async (): Promise<void> => (lang.value === "en" ? needEnglish() : undefined);

/** The texts of signs in the language spoken; null in English, whose are in the table of signs itself. */
export const signTexts = (): SignTexts | null => (lang.value === "es" ? own!.signTexts : null);

/** A sentence of the server, which speaks English, in the language spoken. */
export const said = (text: string): string => (lang.value === "es" ? own!.said(text) : text);

/** Why the server did not take something: the sentence of its code in the language spoken, or its own where there is none. */
export const refusal = ({ code, why }: { code?: string; why?: string }): string => (lang.value === "es" && own!.refusals[code ?? ""]) || (why ?? "");

let plural: Intl.PluralRules | undefined;

/** The text under `key`, with `{name}` places filled from `params`. */
export function t(key: Key, params: Record<string, string | number> = {}): string {
  const dot = key.indexOf("."), area = key.slice(0, dot) as Area, name = key.slice(dot + 1);
  let text = (lang.value === "en" ? null : own)?.[area]?.[name] ?? english[area]?.[name];
  if (text === undefined) throw new Error(`No words for ${key}: its area is not in words/en/rest.ts`);
  if (typeof text !== "string") {
    if (plural?.resolvedOptions().locale !== lang.value) plural = new Intl.PluralRules(lang.value);
    text = plural!.select(Number(params["n"])) === "one" ? text.one : text.other;
  }
  return text.replace(/\{(\w+)\}/g, (all, name: string) => String(params[name] ?? all));
}
