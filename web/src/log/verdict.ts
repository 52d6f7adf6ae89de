// What each answer of the server means for the phone. Nothing here ever costs an entry: whatever the answer, the outbox
// stays as it is unless the server has said of an entry, by its id and stamp, what became of it.

/** How the talk with the server stands; the words on the screen follow it. */
export type Talk = "idle" | "sending" | "offline" | "pair_again" | "too_old" | "later" | "full";

/**
 * `take`: read the answer. `restart`: this server is another than before (restored from a backup): cursor to 0, send
 * everything again. `halve`: the batch was too big. `rest`: nothing to do but wait `wait` ms (null: until something
 * happens, such as pairing).
 */
export type Verdict = { act: "take" | "restart" | "halve" | "rest"; talk: Talk; wait: number | null };

const HOUR = 3600e3;

/** ms to wait after `fails` failures in a row: 2 s doubling to 5 min, spread by `chance` (0-1) so that phones part. */
export const backoff = (fails: number, chance = Math.random()): number => Math.min(2000 * 2 ** fails, 300e3) * (0.75 + chance / 2);

/** `status` 0: no answer. `retryAfter`: the header as it came, in seconds or as a date. */
export function verdict(status: number, retryAfter: string | null, fails: number, now = Date.now()): Verdict {
  const wait = Math.max(asked(retryAfter, now), backoff(fails));
  switch (status) {
    case 200: return { act: "take", talk: "idle", wait: 0 };
    case 401: return { act: "rest", talk: "pair_again", wait: null };
    case 409: return { act: "restart", talk: "later", wait };
    case 413: return { act: "halve", talk: "later", wait };
    case 426: return { act: "rest", talk: "too_old", wait: HOUR };
    case 507: return { act: "rest", talk: "full", wait };
    case 0: return { act: "rest", talk: "offline", wait };
    default: return { act: "rest", talk: "later", wait };
  }
}

function asked(retryAfter: string | null, now: number): number {
  if (!retryAfter) return 0;
  const seconds = Number(retryAfter);
  const ms = Number.isFinite(seconds) ? seconds * 1000 : Date.parse(retryAfter) - now;
  return Math.min(Math.max(ms || 0, 0), HOUR);
}
