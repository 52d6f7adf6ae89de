// What the phone has and the server has not acknowledged, and what an answer of the server does to it. Pure: the
// database work around it is in local.ts; tests/vectors/merge.json holds it to the server's rules.
import type { Entry } from "./kinds";
import { winner } from "./merge";

/** Why the server would not keep an entry: `code` for programs, `why` for the wearer. */
export type Refused = { code: string; why: string };

/** The newest version of an entry, waiting to be sent; or, when `refused`, waiting for the wearer to put it right. */
export type Row = { entry: Entry; refused: Refused | null };

/** The server's word on one entry of a batch. */
export type Answer = { id: string; stamp: string } & (
  | { r: "ok" | "dup" }
  | { r: "stale"; winner: Entry }
  | { r: "restamped"; stamp2: string; moved?: Record<string, string> }
  | ({ r: "refused" } & Refused)
);

/** One entry on the phone: `held` is the version in its block, `row` the one in the outbox. */
export type Kept = { held: Entry | undefined; row: Row | undefined };

/**
 * What is kept after an answer. A row goes only when the answer is about that very version: an edit made while the
 * request was on its way has another stamp, stays, and is sent next.
 */
export function acknowledge({ held, row }: Kept, answer: Answer): Kept {
  const mine = row?.entry.stamp === answer.stamp ? row.entry : held?.stamp === answer.stamp ? held : undefined;
  if (answer.r === "refused") return mine ? { held, row: { entry: mine, refused: { code: answer.code, why: answer.why } } } : { held, row };
  const settled =
    answer.r === "stale" ? answer.winner
    : answer.r === "restamped" ? mine && { ...mine, stamp: answer.stamp2, ...(answer.moved && { moved: answer.moved }) }
    : mine;
  return {
    // The server's version replaces the one it is about even where its stamp is smaller (a stamp from the future is
    // moved back); against any other version the greater stamp wins as ever.
    held: !settled || held?.stamp === answer.stamp ? settled ?? held : winner(held, settled),
    row: row?.entry.stamp === answer.stamp ? undefined : row,
  };
}
