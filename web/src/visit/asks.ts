// What the wearer brings to an appointment: visits, questions, needs, options. Each is an entry; order is kept by number.
import { amend, entries, erase, todayDate, write } from "../log/book";
import type { EntryOf } from "../log/kinds";

export type Ask = EntryOf<"question"> | EntryOf<"need">;
export type AskKind = Ask["kind"];

/** Questions or needs in the wearer's own order. */
export const asksOf = <K extends AskKind>(kind: K): EntryOf<K>[] =>
  (entries.value.filter((e) => e.kind === kind) as EntryOf<K>[]).sort((a, b) => (a.body.order ?? 0) - (b.body.order ?? 0) || (a.id < b.id ? -1 : 1));

export const options = (): EntryOf<"option">[] =>
  (entries.value.filter((e) => e.kind === "option") as EntryOf<"option">[]).sort((a, b) => (a.body.kind < b.body.kind ? -1 : a.body.kind > b.body.kind ? 1 : a.id < b.id ? -1 : 1));

const visits = (): EntryOf<"visit">[] => (entries.value.filter((e) => e.kind === "visit") as EntryOf<"visit">[]).sort((a, b) => (a.body.on < b.body.on ? -1 : 1));

/** The next visit from today on, and the last one before today. */
export const nextVisit = (): EntryOf<"visit"> | undefined => visits().find(({ body }) => body.on >= todayDate());
export const lastVisit = (): EntryOf<"visit"> | undefined => visits().findLast(({ body }) => body.on < todayDate());

/** Trouble with saving is told by the saving state; what was typed is on screen either way. */
const quietly = (done: Promise<unknown>): void => void done.catch(() => {});

export function addAsk(kind: AskKind, text: string): void {
  const order = Math.max(0, ...asksOf(kind).map(({ body }) => body.order ?? 0)) + 1;
  quietly(kind === "need" ? write("need", null, { text, firm: false, order }) : write("question", null, { text, order }));
}

export const removeAsk = (ask: Ask): void => quietly(ask.kind === "need" ? erase(ask) : erase(ask));

export const setFirm = (need: EntryOf<"need">, firm: boolean): void => quietly(amend(need, { body: { ...need.body, firm } }));

/** Moves one up: it takes the place of the one before it. */
export function moveUp(ask: Ask): void {
  const all: Ask[] = asksOf(ask.kind);
  const at = all.findIndex(({ id }) => id === ask.id);
  if (at < 1) return;
  const turned = [...all.slice(0, at - 1), all[at]!, all[at - 1]!, ...all.slice(at + 1)];
  turned.forEach((one, i) => {
    if ((one.body.order ?? 0) === i + 1) return;
    quietly(one.kind === "need" ? amend(one, { body: { ...one.body, order: i + 1 } }) : amend(one, { body: { ...one.body, order: i + 1 } }));
  });
}
