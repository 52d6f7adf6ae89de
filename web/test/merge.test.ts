import assert from "node:assert/strict";
import { test } from "node:test";
import type { Entry } from "../src/log/kinds";
import { byTime, mergeInto, winner } from "../src/log/merge";
import { acknowledge, type Answer, type Row } from "../src/log/outbox";
import { vectors } from "./vectors";

type Vectors = {
  merge: { name: string; ops: Entry[]; table: Entry[] }[];
  acknowledge: { name: string; local: Entry; outbox: Entry; answer: Answer; local_after: Entry; outbox_after: Entry | null; attention?: true }[];
  pull: { name: string; local: Entry | null; outbox: Entry | null; incoming: Entry; local_after: Entry }[];
};
const { merge, acknowledge: acknowledged, pull } = vectors<Vectors>("merge");
const byId = (a: Entry, b: Entry) => (a.id < b.id ? -1 : 1);

for (const { name, ops, table } of merge) {
  test(`merge: ${name}`, () => {
    const merged = new Map<string, Entry>();
    mergeInto(merged, ops);
    assert.deepEqual([...merged.values()].sort(byId), [...table].sort(byId));
  });
  test(`merge, backwards and twice: ${name}`, () => {
    const merged = new Map<string, Entry>();
    mergeInto(merged, [...ops].reverse());
    assert.equal(mergeInto(merged, ops), false);
    assert.deepEqual([...merged.values()].sort(byId), [...table].sort(byId));
  });
}

/** What stands on the phone: the version at rest with the outbox over it. */
const local = (held: Entry | undefined, row: Row | undefined) => (row ? winner(held, row.entry) : held);

for (const { name, outbox, answer, local_after, outbox_after, attention } of acknowledged) {
  test(`acknowledge: ${name}`, () => {
    const kept = acknowledge({ held: undefined, row: { entry: outbox, refused: null } }, answer);
    assert.deepEqual(local(kept.held, kept.row), local_after);
    assert.deepEqual(kept.row && !kept.row.refused ? kept.row.entry : null, outbox_after);
    assert.equal(!!kept.row?.refused, !!attention);
  });
  test(`acknowledge for a version at rest that is sent again: ${name}`, () => {
    const sent = outbox.stamp === answer.stamp;
    const kept = acknowledge({ held: outbox, row: undefined }, answer);
    if (sent) assert.deepEqual(local(kept.held, kept.row), local_after);
    else assert.deepEqual(kept.held, local_after);
    assert.equal(!!kept.row?.refused, !!attention);
  });
}

for (const { name, local: before, outbox, incoming, local_after } of pull)
  test(`pull: ${name}`, () => {
    const held = new Map(before && before.stamp !== outbox?.stamp ? [[before.id, before]] : []);
    mergeInto(held, [incoming]);
    assert.deepEqual(local(held.get(incoming.id), outbox ? { entry: outbox, refused: null } : undefined), local_after);
  });

test("entries are read in the order they happened, then by id", () => {
  const entry = (at: string, id: string) => ({ at, id });
  const sorted = [entry("2031-01-01", "b"), entry("2031-01-01", "a"), entry("2030-12-31", "c")].sort(byTime);
  assert.deepEqual(sorted.map((one) => one.id), ["c", "a", "b"]);
});
