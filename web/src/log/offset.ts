// The phone's clock against the server's. A phone may be years off after a flat battery; it is told from the `now` in
// every answer of the server, and the difference is kept for the next start.
import { computed, signal } from "@preact/signals";
import { readMeta } from "./local";

/** `ahead`: ms by which the phone's clock is ahead of the server's, when it read `phone`. */
export type Offset = { ahead: number; phone: number };

/** Below this the difference is the network's, and nobody's business. */
export const NOISE_MS = 60e3;
/** A clock set right by hand under a wrong zone is off by at most this. Its wall time, which days follow, is right. */
export const ZONE_MIX_UP_MS = 14 * 3600e3;
/** From here on the wearer is told. */
const WARN_MS = 5 * 60e3;

export const offset = signal<Offset | null>(null);

/** Minutes by which the phone's clock is off (positive: ahead), when it is worth telling; else null. */
export const clockOff = computed(() => {
  const ahead = offset.value?.ahead ?? 0;
  return Math.abs(ahead) >= WARN_MS ? Math.round(ahead / 60e3) : null;
});

/** Whether a measured offset still tells anything about a clock that now reads `raw`. */
export function holds({ ahead, phone }: Offset, raw: number): boolean {
  if (raw < phone) return false; // it was set back since
  return ahead >= 0 || -ahead < ZONE_MIX_UP_MS || raw < phone - ahead; // far behind, and now past the server's time: set right
}

/** Now, for stamps and ids: the server's clock as far as it is known. */
export function now(raw = Date.now()): number {
  const known = offset.value;
  return known && Math.abs(known.ahead) > NOISE_MS && holds(known, raw) ? raw - known.ahead : raw;
}

/** Now, for the time an entry is about: the phone's clock, unless it is further off than any mix-up of zones. */
export function nowForAt(raw = Date.now()): number {
  const known = offset.value;
  return known && Math.abs(known.ahead) > ZONE_MIX_UP_MS && holds(known, raw) ? raw - known.ahead : raw;
}

/** Entries written as of now since the clocks were last compared, and the ms by which their time was corrected then. */
export const unproven = new Map<string, number>();

/** Notes an entry that was just written for the time `at` (ms). */
export function noteWritten(id: string, at: number, raw = Date.now()): void {
  if (Math.abs(at - nowForAt(raw)) < WARN_MS) unproven.set(id, raw - nowForAt(raw));
}

/** Brings back what was measured before. */
export async function openOffset(): Promise<void> {
  offset.value ??= (await readMeta<Offset>("offset")) ?? null;
}
