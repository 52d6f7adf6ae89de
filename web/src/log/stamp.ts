// Hybrid logical clock stamps, `mmmmmmmmmmmm-cccc-dddddddd`: milliseconds, counter, device, in hex. Comparing two
// stamps as strings compares them as events. The same rules stand in server/plytide/stamps.py; tests/vectors/stamps.json
// holds both to them.

const COUNTER_MAX = 0xffff;
const MS_MAX = 0xffff_ffff_ffff;
const FORM = /^[0-9a-f]{12}-[0-9a-f]{4}-[0-9a-f]{8}$/;

export const isStamp = (text: unknown): text is string => typeof text === "string" && FORM.test(text);

export const msOf = (stamp: string): number => parseInt(stamp.slice(0, 12), 16);
export const counterOf = (stamp: string): number => parseInt(stamp.slice(13, 17), 16);

export const makeStamp = (ms: number, counter: number, device: string): string =>
  `${ms.toString(16).padStart(12, "0")}-${counter.toString(16).padStart(4, "0")}-${device}`;

/** A clock of this page. `device` is 8 hex digits; `last` the greatest stamp it has made or seen. */
export class StampClock {
  constructor(public device: string, public last = "") {}

  /** A stamp greater than every stamp made or seen, as near to `nowMs` as that allows. */
  next(nowMs: number): string {
    let ms = Math.min(Math.max(Math.trunc(nowMs), 0), MS_MAX);
    let counter = 0;
    if (this.last && ms <= msOf(this.last)) {
      ms = msOf(this.last);
      counter = counterOf(this.last) + 1;
      if (counter > COUNTER_MAX) [ms, counter] = [ms + 1, 0];
    }
    return (this.last = makeStamp(ms, counter, this.device));
  }

  /** Begin again from what will be seen, as another device: the stamps of one device only ever grow, and the server rests on that. */
  beginAgain(device: string): void {
    this.device = device;
    this.last = "";
  }

  /** Take note of a stamp from elsewhere, so that what is written next comes after it. */
  see(stamp: string): void {
    if (stamp > this.last) this.last = stamp;
  }
}

/** A page's own device part. Random per page: two tabs of one phone must never make the same stamp for one entry. */
export const newDevice = (): string =>
  [...crypto.getRandomValues(new Uint8Array(4))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
