// How this phone shows things: theme, hand, language. They are the phone's, not the wearer's log, so they never travel.
import { effect, signal } from "@preact/signals";
import { fetched } from "./fetched";
import { lang, phoneLang, speak, type Lang } from "./words";

export type Theme = "auto" | "light" | "dark" | "contrast";
export type Hand = "right" | "left";
export type Prefs = {
  theme: Theme;
  hand: Hand;
  /** The leg shown on Today where there are two, or before the profile says which. */
  side: "left" | "right";
  /** What Today counts where the socket is fitted by socks and by something else. */
  fit: string;
  language: "auto" | Lang;
  /** The doffing (ms since 1970) after which the wearer did not want to be asked for a look at the skin. */
  notNow: number;
};

const KEY = "plytide-look";
const DEFAULTS: Prefs = { theme: "auto", hand: "right", side: "right", fit: "ply", language: "auto", notNow: 0 };

function kept(): Prefs {
  try {
    return { ...DEFAULTS, ...(JSON.parse(localStorage.getItem(KEY) ?? "{}") as Partial<Prefs>) };
  } catch {
    return DEFAULTS; // storage is switched off or holds something else: the defaults serve
  }
}

export const prefs = signal<Prefs>(kept());

export function setPrefs(change: Partial<Prefs>): void {
  prefs.value = { ...prefs.value, ...change };
  try { localStorage.setItem(KEY, JSON.stringify(prefs.value)); } catch { /* shown now, asked again next time */ }
}

effect(() => {
  const { theme, hand } = prefs.value;
  const root = document.documentElement.dataset;
  if (theme === "light" || theme === "dark") root["theme"] = theme;
  else delete root["theme"];
  if (theme === "contrast") root["contrast"] = "more";
  else delete root["contrast"];
  root["hand"] = hand;
});

/** Whether the words of the language wanted are there: false while they are fetched, null when they could not be. */
export const spoken = signal<boolean | null>(false);

const speakAsSet = async (): Promise<void> => {
  const { language } = prefs.value;
  try {
    await speak(language === "auto" ? phoneLang() : language);
    spoken.value = true;
  } catch (error) {
    spoken.value = null;
    throw error;
  }
};

effect(() => fetched(speakAsSet, () => {}));

effect(() => { document.documentElement.lang = lang.value; });
