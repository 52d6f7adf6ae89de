// The one table of screens. A new screen adds a line here, its words in words/areas.ts, and is reached, listed under More
// and fetched when first wanted; only Today is in the entry script.
import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import type { IconName } from "./parts/Icon";
import type { Area } from "./words";

/** What a screen is given: the parts of its address after its name, `#/day/2031-03-02` -> ["2031-03-02"]. */
export type ScreenProps = { at: readonly string[] };

export type Screen = {
  path: string;
  load: () => Promise<ComponentType<ScreenProps>>;
  words: readonly Area[];
  /** Its place under More, with the words `more.<path>` and `more.<path>_small`; none if it is reached from elsewhere. */
  more?: { group: "log" | "read" | "clinic" | "phone"; icon: IconName };
};

export const SCREENS: readonly Screen[] = [
  { path: "more", load: () => import("./screens/More").then((m) => m.More), words: ["more"] },
  { path: "first", load: () => import("./screens/FirstRun").then((m) => m.FirstRun), words: ["first", "settings"], more: { group: "phone", icon: "check" } },
  { path: "log", load: () => import("./screens/Log").then((m) => m.Log), words: ["quick", "entry"], more: { group: "log", icon: "plus" } },
  { path: "pack", load: () => import("./screens/Pack").then((m) => m.Pack), words: ["socks"], more: { group: "log", icon: "bag" } },
  { path: "socks", load: () => import("./screens/Socks").then((m) => m.Socks), words: ["socks"], more: { group: "log", icon: "list" } },
  { path: "way", load: () => import("./screens/WhichWay").then((m) => m.WhichWay), words: ["way"], more: { group: "log", icon: "hand" } },
  { path: "stack", load: () => import("./screens/OtherSock").then((m) => m.OtherSock), words: ["stack"] },
  { path: "sore", load: () => import("./screens/Sore").then((m) => m.Sore), words: ["sore", "limb", "places"], more: { group: "log", icon: "spot" } },
  { path: "day", load: () => import("./screens/Day").then((m) => m.Day), words: ["entry", "places"], more: { group: "read", icon: "list" } },
  { path: "entry", load: () => import("./screens/EntryEdit").then((m) => m.EntryEdit), words: ["entry", "places"] },
  { path: "pattern", load: () => import("./screens/Pattern").then((m) => m.Pattern), words: ["pattern"], more: { group: "read", icon: "more" } },
  { path: "signs", load: () => import("./screens/Signs").then((m) => m.Signs), words: ["signs", "entry", "places"], more: { group: "read", icon: "eye" } },
  { path: "attention", load: () => import("./screens/Attention").then((m) => m.Attention), words: ["entry", "places"], more: { group: "phone", icon: "phone_bad" } },
  { path: "link", load: () => import("./screens/Clinic").then((m) => m.Clinic), words: ["clinic"], more: { group: "clinic", icon: "link" } },
  { path: "settings", load: () => import("./screens/Settings").then((m) => m.Settings), words: ["settings"], more: { group: "phone", icon: "level" } },
  { path: "pair", load: () => import("./screens/Pair").then((m) => m.Pair), words: ["pair"], more: { group: "phone", icon: "phone" } },
  { path: "about", load: () => import("./screens/About").then((m) => m.About), words: ["about"], more: { group: "phone", icon: "more" } },
];

export type Route = { path: string; at: readonly string[] };

const read = (): Route => {
  const [path = "", ...at] = location.hash.replace(/^#\/?/, "").split("/").map(decode);
  return { path: path || "today", at };
};

function decode(part: string): string {
  try { return decodeURIComponent(part); } catch { return part; }
}

export const route = signal<Route>(read());
addEventListener("hashchange", () => { route.value = read(); });

export const href = (...parts: string[]): string => "#/" + parts.map(encodeURIComponent).join("/");

/** Go to a screen; `instead` leaves no way back to the present one. */
export function go(to: string, instead = false): void {
  if (!instead) { location.hash = to; return; }
  history.replaceState(history.state, "", to);
  route.value = read();
}
