// Fetches beside.ts once the first screen is painted; the shell has told the browser of it before (modulepreload).
import { signal } from "@preact/signals";
import { fetched } from "../fetched";

export const beside = signal<typeof import("./beside") | null>(null);

/** Shows it. Call once the number and the buttons are painted, which come first. */
export const showBeside = (): void => fetched(() => import("./beside"), (part) => { beside.value = part; });
