// The time as Today shows it: moves on every half minute while the page is seen, and at once when it is seen again.
import { effect, signal } from "@preact/signals";
import { entries } from "../log/book";
import { nowForAt } from "../log/offset";

export const now = signal(nowForAt());

/** Move on at once, so that what was just written lies in the past. */
export const tick = (): void => { now.value = nowForAt(); };

setInterval(() => { if (document.visibilityState === "visible") tick(); }, 30e3);
document.addEventListener("visibilitychange", tick);
addEventListener("pageshow", tick);
// Another tab or device may have written since: its entries must not seem to lie ahead.
effect(() => { if (entries.value.length) tick(); });
