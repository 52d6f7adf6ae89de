// What each answer of the server tells of the phone's clock, and of what was written before it was known. Apart from
// offset.ts, which the first screen waits for.
import { writeMeta } from "./local";
import { NOISE_MS, offset, unproven, ZONE_MIX_UP_MS } from "./offset";

/** Entries that turn out to carry a time far off, with the ms to take from it. Each is named once. */
export function misdated(): [id: string, by: number][] {
  const ahead = offset.value?.ahead ?? 0;
  const found = [...unproven].map(([id, used]): [string, number] => [id, ahead - used]);
  unproven.clear();
  return found.filter(([, by]) => Math.abs(by) > ZONE_MIX_UP_MS);
}

/** Takes a measurement: the server said `server` to a request sent at `sent` and answered at `got` (phone's clock). */
export function measure(server: number, sent: number, got: number): void {
  if (!Number.isFinite(server)) return;
  const ahead = Math.round((sent + got) / 2 - server);
  const known = offset.value;
  offset.value = { ahead, phone: got };
  if (!known || Math.abs(known.ahead - ahead) > NOISE_MS) void writeMeta("offset", offset.value).catch(() => {}); // it is measured again next time
}
