// When the next exchange with the server is due: one time, that is only ever brought forward, and not before the server
// said.
import { talk } from "./talk";
import type { Talk } from "./verdict";

/** What is done when the time has come; sync.ts sets it. */
export const onDue: { run: () => unknown } = { run: () => {} };

let timer: ReturnType<typeof setTimeout> | undefined;
let due = Infinity;
let notBefore = 0;

/** Syncs in `ms`, or earlier if that was already planned; not before the server said. */
export function soon(ms: number): void {
  const at = Math.max(Date.now() + ms, notBefore);
  if (at >= due) return;
  clearTimeout(timer);
  due = at;
  timer = setTimeout(() => {
    due = Infinity;
    onDue.run();
  }, at - Date.now());
}

/** Waits `wait` ms (null: until something happens), saying why. */
export function rest(next: Talk, wait: number | null): void {
  const before = talk.value;
  talk.value = next;
  if (wait === null) return;
  if (next === "offline" && before !== "offline") void askForSyncEvent();
  if (next === "too_old") void navigator.serviceWorker?.getRegistration().then((worker) => worker?.update()).catch(() => {});
  if (next !== "offline") notBefore = Date.now() + wait; // the server asked for time: it gets it
  soon(wait);
}

/** What the server asked for holds no longer: it is another, or knows this phone anew. */
export const noWaiting = (): void => { notBefore = 0; };

/** Where the browser can: a call of the service worker when the network is back, even with the page closed. */
async function askForSyncEvent(): Promise<void> {
  if (!navigator.serviceWorker?.controller) return;
  const { sync: events } = (await navigator.serviceWorker.ready) as { sync?: { register(tag: string): Promise<void> } };
  await events?.register("plytide").catch(() => {}); // switched off by the user: the other triggers remain
}
