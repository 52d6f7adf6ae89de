// Pairing this phone with a server's logbook, by a one-time code. What the phone holds is never touched by it: a first
// pairing carries it over, a code of another logbook is refused, a revoked phone keeps its log and can be paired again.
import { erase } from "./book";
import { sendAllAgain } from "./exchange";
import { readStanding } from "./local";
import { pending } from "./saving";
import { startAfresh } from "./sync";
import * as view from "./view";

/** A device of the logbook; times RFC 3339. `this` is the one in your hand. */
export type Device = { id: string; name: string; made_at: string; seen_at: string; this: boolean };

/** A code for one more device: shown as K7QM-4XTD, good until `expires`; `squares` is the QR code of its address, by row. */
export type PairCode = { code: string; expires: string; url: string; squares: readonly string[] };

/**
 * The server said no, or nothing. `code`: wrong, used, expired, locked, other_logbook, offline, …; `why` the server's
 * sentence, if any; `triesLeft` before the code locks.
 */
export class PairingFailed extends Error {
  constructor(readonly code: string, readonly why: string, readonly triesLeft: number | null) {
    super(code);
  }
}

/** Pairs this phone. Resolves when the first exchange is done or has been put off; rejects with PairingFailed. */
export async function pairWith(code: string, name = deviceName()): Promise<void> {
  const { logbook } = await readStanding();
  const own = logbook === null ? profiles() : [];
  const made = await ask<{ logbook: string }>("POST", "/api/pair", { code, name, logbook: logbook || null });
  // Also when it is the logbook it was before: the server may have been rebuilt, and sending again costs little.
  await sendAllAgain({ logbook: made.logbook, epoch: null });
  await view.refresh([], pending);
  await startAfresh();
  // Settings made on this phone before it knew the logbook are the newer ones, but not the ones the wearer lives by.
  if (profiles().length > own.length) for (const one of own) await erase(one);
}

const profiles = () => view.entries.value.filter((entry) => entry.kind === "profile");

export const devices = async (): Promise<Device[]> => (await ask<{ devices: Device[] }>("GET", "/api/devices")).devices;

/** Shuts a device out. Its own log stays on it. */
export const revoke = (id: string): Promise<unknown> => ask("DELETE", `/api/devices/${encodeURIComponent(id)}`);

export const newCode = (): Promise<PairCode> => ask("POST", "/api/pair/codes");

/** One call to the server, answered in JSON; rejects with PairingFailed, offline or with the server's own code. */
export async function ask<T>(method: string, url: string, body?: unknown): Promise<T> {
  let response: Response;
  let answer: T & { code?: string; why?: string; tries_left?: number };
  try {
    response = await fetch(url, {
      method, redirect: "error", signal: AbortSignal.timeout(15e3),
      ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { "content-type": "application/json" } }),
    });
    answer = await response.json();
  } catch {
    throw new PairingFailed("offline", "", null);
  }
  if (!response.ok) throw new PairingFailed(answer.code ?? "later", answer.why ?? "", answer.tries_left ?? null);
  return answer;
}

/** What the list of devices calls this one until the wearer renames it: the kind of machine, nothing more. */
function deviceName(): string {
  const agent = navigator.userAgent;
  return ["iPhone", "iPad", "Android", "Windows", "Macintosh", "Linux"].find((kind) => agent.includes(kind)) ?? "";
}
