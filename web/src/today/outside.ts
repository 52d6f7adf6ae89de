// Taps that began outside the page: on the shell before the script had come, from an icon's shortcut or a tag's link.
import { signal } from "@preact/signals";
import { fetched } from "../fetched";
import { settings } from "../log/book";
import { earlyTaps } from "../log/early";
import type { Limb } from "../log/kinds";
import { go, href } from "../nav";
import { prefs } from "../prefs";
import { fits, sides, type Fit } from "./fits";
import { tick, wornNow } from "./now";
import { putOn, takeOff, tapPly } from "./taps";

/** A link that would log the same again within a minute waits here for a yes; `off`: it asked for ply with the leg off. */
export type Asked = { what: "up" | "down" | "on" | "off"; why: "again" | "off" };
export const asked = signal<Asked | null>(null);

const LOGS = ["up", "down", "on", "off"] as const;
const isLog = (what: string): what is Asked["what"] => (LOGS as readonly string[]).includes(what);

/** The leg and the thing counted that Today shows now. */
export function shownNow(): { limb: Limb; fit: Fit; counted: readonly Fit[]; own: readonly Limb[] } {
  const own = sides(settings.value);
  const limb = own.includes(prefs.value.side) ? prefs.value.side : own[0]!;
  const counted = fits(settings.value, limb);
  return { own, limb, counted, fit: counted.find((one) => one === prefs.value.fit) ?? counted[0]! };
}

/** Does what a tap or a link says, to the leg that Today shows. */
export function heed(what: string): void {
  if (what === "sore" || what === "skin") return go(href(what, shownNow().limb));
  if (!isLog(what)) return;
  tick();
  const { limb, fit } = shownNow();
  const state = wornNow(limb);
  if (what === "on") { if (!state.on) putOn(limb, state.next ?? { total: null, socks: null }); return; }
  if (what === "off") { if (state.on) takeOff(limb); return; }
  const isOff = !state.on && (state.next !== null || state.last !== null);
  if (isOff) asked.value = { what, why: "off" };
  else if (fit === "ply") tapPly(limb, what === "up" ? 1 : -1);
  else fetched(() => import("./beside"), ({ tapStep }) => tapStep(limb, fit, what === "up" ? 1 : -1));
}

/** The wearer's answer to what was asked. */
export function answer(yes: boolean): void {
  const question = asked.value;
  asked.value = null;
  if (!yes || !question) return;
  fetched(() => import("../log/link"), ({ noteLogged }) => noteLogged(question.what));
  heed(question.what);
}

/** Takes what came before the page was ready, then what its address asks for. Call once, with the log read. */
export function heedOutside(): void {
  earlyTaps(({ what }) => heed(what));
  if (!new URLSearchParams(location.search).has("log")) return;
  fetched(() => import("../log/link"), ({ takeLink }) =>
    void takeLink(({ what, again }) => {
      if (again && isLog(what)) asked.value = { what, why: "again" };
      else heed(what);
    }));
}
