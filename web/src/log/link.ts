// Logging that begins outside the page: an icon's shortcut or a link on a tag opens `/?log=up`. Opening an address alone
// never writes: the page does, when a person can see it.

/** What a link asks for: "up", "down", "sore", "skin" …; `again`: the same was logged this way a minute ago, so ask. */
export type LinkAsk = { what: string; again: boolean };

const MINUTE = 60e3;
const KEY = "plytide.link"; // {what, at}: shared by the tabs, and still there when the next tag opens a new one

/** Calls `then` with what the address asks for, once the page is in view; the address is then clean, so that a reload does not ask again. */
export async function takeLink(then: (ask: LinkAsk) => void): Promise<void> {
  const address = new URL(location.href);
  const what = address.searchParams.get("log");
  if (!what) return;
  await inView();
  address.searchParams.delete("log");
  history.replaceState(history.state, "", address.pathname + address.search + address.hash);
  const again = loggedLately(what, Date.now());
  if (!again) noteLogged(what);
  then({ what, again });
}

/** Notes that a link has logged; call it when the wearer answers the question of `again` with yes. */
export function noteLogged(what: string): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ what, at: Date.now() }));
  } catch {
    // no room: then the next one is not asked about
  }
}

function loggedLately(what: string, now: number): boolean {
  try {
    const last = JSON.parse(localStorage.getItem(KEY) ?? "null") as { what: string; at: number } | null;
    return last?.what === what && Math.abs(now - last.at) < MINUTE;
  } catch {
    return false;
  }
}

/** Resolves when a person can see the page: not in a background tab, not while the browser loads it on a guess. */
function inView(): Promise<void> {
  const page = document as Document & { prerendering?: boolean };
  const seen = () => page.visibilityState === "visible" && !page.prerendering;
  if (seen()) return Promise.resolve();
  return new Promise((resolve) => {
    const look = () => {
      if (!seen()) return;
      document.removeEventListener("visibilitychange", look);
      document.removeEventListener("prerenderingchange", look);
      resolve();
    };
    document.addEventListener("visibilitychange", look);
    document.addEventListener("prerenderingchange", look);
  });
}
