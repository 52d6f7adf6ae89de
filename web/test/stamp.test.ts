import assert from "node:assert/strict";
import { test } from "node:test";
import { isStamp, newDevice, StampClock } from "../src/log/stamp";
import { vectors } from "./vectors";

type Vectors = {
  next: { name: string; device: string; last: string; now_ms: number; stamp: string }[];
  see: { name: string; last: string; seen: string; after: string }[];
  order: { name: string; less: string; greater: string }[];
  valid: string[];
  invalid: unknown[];
};
const { next, see, order, valid, invalid } = vectors<Vectors>("stamps");

for (const { name, device, last, now_ms, stamp } of next)
  test(`next: ${name}`, () => assert.equal(new StampClock(device, last).next(now_ms), stamp));

for (const { name, last, seen, after } of see)
  test(`see: ${name}`, () => {
    const clock = new StampClock("00000000", last);
    clock.see(seen);
    assert.equal(clock.last, after);
  });

for (const { name, less, greater } of order) test(`order: ${name}`, () => assert.ok(less < greater));

test("what is a stamp and what is not", () => {
  for (const text of valid) assert.ok(isStamp(text), text);
  for (const text of invalid) assert.ok(!isStamp(text), String(text));
});

test("a clock never makes the same stamp twice, whatever the wall clock does", () => {
  const clock = new StampClock(newDevice());
  const made = Array.from({ length: 70_000 }, (_, i) => clock.next(1_900_000_000_000 - (i % 7)));
  assert.deepEqual(made, [...new Set(made)].sort());
});

test("a page's device part is eight hex digits, another for each page", () => {
  assert.match(newDevice(), /^[0-9a-f]{8}$/);
  assert.notEqual(newDevice(), newDevice());
});
