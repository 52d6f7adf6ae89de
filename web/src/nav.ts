// Addresses: `#/<screen>/<more>/<more>`. The screens themselves stand in screens/table.ts, fetched when first wanted.
import { signal } from "@preact/signals";

export type Route = { path: string; at: readonly string[] };

/** What a screen is given: the parts of its address after its name, `#/day/2031-03-02` -> ["2031-03-02"]. */
export type ScreenProps = Pick<Route, "at">;

const read = (): Route => {
  const [path = "", ...at] = location.hash.replace(/^#\/?/, "").split("/").map(decode);
  return { path: path || "today", at };
};

function decode(part: string): string {
  try { return decodeURIComponent(part); } catch { return part; }
}

export const route = signal<Route>(read());
addEventListener("hashchange", () => { route.value = read(); });

export const href = (...parts: string[]): string => "#/" + parts.map(encodeURIComponent).join("/");

/** Go to a screen; `instead` leaves no way back to the present one. */
export function go(to: string, instead = false): void {
  if (!instead) { location.hash = to; return; }
  history.replaceState(history.state, "", to);
  route.value = read();
}
