// Other tabs of the same phone: each is told what changed on disk and reads it again.

const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("plytide") : undefined;

/** Tells the other tabs that the outbox changed, and these blocks. */
export const tellOthers = (keys: readonly string[]): void => channel?.postMessage({ keys });

/** Calls `then` with the keys of changed blocks whenever another tab has changed the log. */
export function others(then: (keys: readonly string[]) => void): void {
  channel?.addEventListener("message", (event: MessageEvent<{ keys: readonly string[] }>) => then(event.data.keys));
}
