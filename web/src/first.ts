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
    const button = (event.target as Element).closest<HTMLElement>("[data-tap]");
    if (button && window.plytideTaps?.push({ what: button.dataset["tap"]!, at: Date.now() })) button.ariaBusy = "true";
  },
  true,
);

const opening = (window.plytideDb = indexedDB.open("plytide"));
opening.onsuccess = () => {
  opening.result.onversionchange = (event) => (event.target as IDBDatabase).close(); // a newer page in another tab need not wait for this one
};
// Nothing was ever logged here: db.ts makes the database, and the shell says what a first visit wants to know.
opening.onupgradeneeded = () => {
  opening.transaction!.abort();
  document.documentElement.id = "first";
};
