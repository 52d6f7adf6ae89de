// The drawer as sums need it: which socks are free to be put on, and ids for a stack of plies.
import type { Entry, LimbProfile } from "../log/kinds";
import { drawer, type Owned } from "../today/stack";

export type Free = { socks: ReadonlyMap<string, Owned>; free: Owned[] };

/**
 * The ready socks that are not on the leg, each as often as there are of it, thickest first. With a pin lock only those
 * with a hole for the pin, if any of the drawer says that it has one.
 */
export function freeSocks(entries: readonly Entry[], on: readonly string[], limb: LimbProfile | undefined, also: Owned["state"][] = ["ready"]): Free {
  const socks = drawer(entries);
  const holes = new Set(entries.filter((e) => e.kind === "sock" && e.body.pin_hole).map((e) => e.id));
  const pin = (limb?.suspension?.includes("pin_lock") ?? false) && holes.size > 0;
  const free = [...socks.values()].filter((sock) => also.includes(sock.state) && (!pin || holes.has(sock.id))).flatMap((sock) => {
    const worn = on.filter((id) => id === sock.id).length;
    return Array<Owned>(Math.max(0, sock.count - worn)).fill(sock);
  });
  return { socks, free: free.sort((a, b) => b.ply - a.ply || (a.name < b.name ? -1 : 1)) };
}

/** Socks for these plies, each taken from the free ones once; plies that are not free are left out. */
export function pick(plies: readonly number[], free: readonly Owned[]): Owned[] {
  const left = [...free];
  return plies.flatMap((ply) => {
    const i = left.findIndex((sock) => sock.ply === ply);
    return i < 0 ? [] : left.splice(i, 1);
  });
}

/** The wearer's own name, with the thickness where the name does not say it. */
export const nameOf = (sock: Owned, ply: string): string => (sock.name.includes(String(sock.ply)) ? sock.name : `${sock.name}, ${ply}`);
