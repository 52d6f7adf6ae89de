// What the small forms share: which leg they speak of, saving, and the way back with what was just logged to undo.
import { signal } from "@preact/signals";
import { settings, write, type Bodies, type Entry, type EntryOf, type Kind, type Limb } from "../log/book";
import { go, href } from "../nav";
import { prefs } from "../prefs";
import { sides } from "../today/fits";

/** What was logged last from one of these forms, for Undo on the list of them. */
export const lastLogged = signal<Entry | null>(null);

/** The leg a form is about: the one that Today shows. */
export function shownLimb(): Limb {
  const own = sides(settings.value);
  return own.includes(prefs.value.side) ? prefs.value.side : own[0]!;
}

/** Writes an entry and returns to the list of forms. The entry is on screen at once; the saving state tells of trouble. */
export function log<K extends Kind>(kind: K, limb: Limb | null, body: Bodies[K]): void {
  write(kind, limb, body).then(remember, () => {});
  go(href("log"));
}

const remember = (entry: EntryOf<Kind>): void => { lastLogged.value = entry as Entry; };
