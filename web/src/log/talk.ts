// How this phone stands with its server, as the screens show it. What is done about it is in sync.ts, which comes after
// the first screen.
import { computed, signal } from "@preact/signals";
import type { Talk } from "./verdict";
import * as view from "./view";

export const talk = signal<Talk>("idle");
export const why = signal<string | null>(null);

/** Entries the server does not have yet. */
export const waiting = computed(
  () =>
    [...view.rows.value.values()].filter((row) => !row.refused).length +
    view.standing.value.resend.reduce((sum, part) => sum + part.n - part.sent, 0),
);

/**
 * `talk` "idle" with `waiting` 0: the server has everything, as of `lastSync` (ms, phone's clock). `paired` false: a
 * logbook on this phone alone. `why`: the server's own sentence, if it gave one.
 */
export const syncState = computed(() => ({
  paired: view.standing.value.logbook !== null,
  talk: talk.value,
  waiting: waiting.value,
  lastSync: view.standing.value.lastSync,
  why: why.value,
}));
