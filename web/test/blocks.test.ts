import assert from "node:assert/strict";
import { test } from "node:test";
import { fit } from "../src/log/batch";
import { blockKey, byBlock, makeBlock, mergeBlock } from "../src/log/blocks";
import type { Entry } from "../src/log/kinds";
import { uuid7 } from "../src/log/uuid";

const entry = (at: string, made = at, kind = "note", stamp = "000000000001-0000-00000000"): Entry =>
  ({ id: uuid7(Date.parse(made)), kind, limb: null, at, zone: "UTC", stamp, erased: false, body: { text: "" } }) as Entry;

test("an entry stays in its block when its time is put right", () => {
  const before = entry("2031-02-01T00:10:00.000Z");
  const after = { ...before, at: "2031-01-31T23:50:00.000Z", stamp: "000000000002-0000-00000000" };
  assert.equal(blockKey(before), "2031-02");
  const block = mergeBlock("2031-02", makeBlock("2031-02", [before]), [after]);
  assert.deepEqual(block, { key: "2031-02", from: after.at, to: after.at, entries: [after] });
});

test("what stands until it is changed is in one block that every span meets", () => {
  const sock = entry("2020-01-01T00:00:00.000Z", "2020-01-01T00:00:00.000Z", "sock");
  const block = makeBlock(blockKey(sock), [sock]);
  assert.ok(block.from <= "2031-01-01T00:00:00.000Z" && block.to >= "2031-01-01T00:00:00.000Z");
});

test("ids of other makes have a block too", () => {
  // the version 4 example of RFC 9562, appendix A.3
  assert.equal(blockKey({ id: "919108f7-52d1-4320-9bac-f847db4148a8", kind: "note" }), "other-9");
});

test("merging keeps the order in which entries came, so that a block half sent can be gone on with", () => {
  const [a, b, c] = ["05", "03", "04"].map((day) => entry(`2031-02-${day}T00:00:00.000Z`)) as [Entry, Entry, Entry];
  const newer = { ...a, stamp: "000000000002-0000-00000000" };
  const block = mergeBlock("2031-02", makeBlock("2031-02", [a, b]), [newer, c]);
  assert.deepEqual(block.entries, [newer, b, c]);
});

test("entries are shared out by block", () => {
  const groups = byBlock([entry("2031-02-01T00:00:00.000Z"), entry("2031-03-01T00:00:00.000Z"), entry("2031-02-02T00:00:00.000Z")]);
  assert.deepEqual([...groups].map(([key, group]) => [key, group.length]), [["2031-02", 2], ["2031-03", 1]]);
});

test("a request takes at most so many entries and a quarter of a megabyte, and never none", () => {
  const small = Array.from({ length: 600 }, () => entry("2031-02-01T00:00:00.000Z"));
  assert.equal(fit(small, 500).length, 500);
  const huge = { ...entry("2031-02-01T00:00:00.000Z"), body: { text: "x".repeat(300_000) } } as Entry;
  assert.equal(fit([huge, huge], 500).length, 1);
  assert.equal(fit([...small.slice(0, 10), huge], 500).length, 10);
  assert.equal(fit([], 500).length, 0);
});
