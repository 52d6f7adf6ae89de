// The time between taking the leg off and the wearer's limit for marks to fade. Pure: instants are ms since 1970.

const MINUTE = 60e3;
const FORGOTTEN = 3 * 3600e3; // after this the time of a mark can no longer be told from the clock

export type Timer =
  | { state: "waiting"; since: number; until: number; left: number; share: number }
  | { state: "due"; since: number; until: number; minutes: number }
  | { state: "none" };

/** Where the timer stands; the limit itself is still within the limit. `since`: when the leg came off, null where that is not logged. */
export function timer(since: number | null, limitMin: number, now: number): Timer {
  if (since === null || now < since || now - since > FORGOTTEN) return { state: "none" };
  const until = since + limitMin * MINUTE, left = until - now;
  if (left >= 0) return { state: "waiting", since, until, left, share: left / (until - since) };
  return { state: "due", since, until, minutes: Math.floor((now - since) / MINUTE) };
}

/** 6:12 for what is left, counted up so that 0:00 is the end and not a second before. */
export function countdown(left: number): string {
  const seconds = Math.ceil(left / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/** Whole minutes since the leg came off, or null where no time can be told. */
export const minutesSince = (at: Timer, now: number): number | null => (at.state === "none" ? null : Math.floor((now - at.since) / MINUTE));
