// Fetches beside.ts at once, and alongside the reading of the log, so that it is nearly always there with the first screen.
import { signal } from "@preact/signals";

export const beside = signal<typeof import("./beside") | null>(null);

// Without it (first visit, connection lost in between) Today still counts; the figure and the signs come next time.
void import("./beside").then((fetched) => { beside.value = fetched; }, () => {});
