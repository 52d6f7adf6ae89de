// Fetches beside.ts at once, and alongside the reading of the log, so that it is nearly always there with the first screen.
import { signal } from "@preact/signals";
import { fetched } from "../fetched";

export const beside = signal<typeof import("./beside") | null>(null);

/** Shows it. Call once the number and the buttons are painted, which come first. */
export const showBeside = (): void => fetched(() => import("./beside"), (part) => { beside.value = part; });

void import("./beside").catch(() => {}); // told when it is wanted
