// Parts of the page that come after the first screen. One that cannot be had (no network, and it was never kept; or a
// newer page has taken the place of its file) is told on Today and can be fetched again; what hangs on it waits for that
// and is not dropped.
import { signal } from "@preact/signals";
import { saving } from "./log/book";

const lost = new Set<() => Promise<void>>();

/** Whether a part could not be had. */
export const missing = signal(false);

/** Fetches a part and hands it to `then`: now, or when it can be had. */
export function fetched<T>(fetching: () => Promise<T>, then: (part: T) => void): void {
  const attempt = () => fetching().then(then, () => {
    lost.add(attempt);
    missing.value = true;
  });
  void attempt();
}

async function tryLost(): Promise<void> {
  const again = [...lost];
  lost.clear();
  await Promise.all(again.map((attempt) => attempt()));
  missing.value = lost.size > 0;
}
addEventListener("online", () => void tryLost());

/** Fetches what is missing, at the wearer's word. */
export async function fetchAgain(): Promise<void> {
  await tryLost();
  if (missing.value) await openAnew();
}

/** Where parts of this page are not to be had but a page is, it is a newer one: it takes the place of this. Never while there are entries that only this page holds. */
export async function openAnew(): Promise<void> {
  if (saving.value.unsaved.length) return;
  if (await fetch("/").then(({ ok }) => ok, () => false)) location.reload();
}
