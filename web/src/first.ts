// Runs before the page is painted: keeps what is tapped until the rest has arrived (outside.ts takes it from here), and
// asks for the phone's database, which opens meanwhile. Nothing else belongs here; it delays first paint by its size.

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

const opening = indexedDB.open("plytide");
window.plytideDb = new Promise((done) => {
  opening.onerror = () => done(null);
  opening.onsuccess = () => {
    const db = opening.result;
    db.onversionchange = () => db.close(); // a newer page in another tab does not wait for this one to have arrived
    done(db);
  };
});
// Nothing was ever logged here: db.ts makes the database, and the shell may say what a first visit wants to know.
opening.onupgradeneeded = () => {
  opening.transaction!.abort();
  if (!/^es/.test(navigator.language)) document.documentElement.dataset["visit"] = "first";
};
