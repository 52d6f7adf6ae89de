// Runs before the page is painted and keeps what is tapped until the rest has arrived: book.ts takes it from here.
// Nothing else belongs here; it delays first paint by its size.

/** A tap on a `data-tap` button before the page was ready: `what` it says, `at` ms since 1970. */
export type EarlyTap = { what: string; at: number };

declare global {
  interface Window {
    plytideTaps?: EarlyTap[] | undefined;
  }
}

window.plytideTaps = [];
addEventListener(
  "click",
  (event) => {
    const button = (event.target as Element | null)?.closest<HTMLElement>("[data-tap]");
    if (!button || !window.plytideTaps) return;
    window.plytideTaps.push({ what: button.dataset["tap"] ?? "", at: Date.now() });
    button.setAttribute("aria-busy", "true");
  },
  true,
);
