// What holds now, worked out once for all of Today: the time, what is on each limb, which socks are owned. The time moves
// on every half minute while the page is seen, and at once when it is seen again.
import { computed, effect, signal } from "@preact/signals";
import { entries, lasting, settings } from "../log/book";
import type { Limb } from "../log/kinds";
import { nowForAt } from "../log/offset";
import { drawer } from "./stack";
import { worn, type Worn } from "./wear";

export const now = signal(nowForAt());

/** Move on at once, so that what was just written lies in the past. */
export const tick = (): void => { now.value = nowForAt(); };

const tickIfSeen = (): void => { if (document.visibilityState === "visible") tick(); };

setInterval(tickIfSeen, 30e3);
document.addEventListener("visibilitychange", tickIfSeen);
addEventListener("pageshow", tick);
// Another tab or device may have written since: its entries must not seem to lie ahead.
effect(() => { if (entries.value.length) tick(); });

const wornOn = (limb: Limb) => computed(() => worn(entries.value, limb, now.value, settings.value.day_starts));
const on = { left: wornOn("left"), right: wornOn("right") };

/** What is on a limb. */
export const wornNow = (limb: Limb): Worn => on[limb].value;

/** The wearer's socks by id. */
export const owned = computed(() => drawer(lasting.value));
