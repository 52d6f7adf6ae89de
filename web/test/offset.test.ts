import assert from "node:assert/strict";
import { test } from "node:test";
import { measure, misdated } from "../src/log/measured";
import { clockOff, holds, noteWritten, now, nowForAt, offset } from "../src/log/offset";

const HOUR = 3600e3;
const YEAR = 365 * 24 * HOUR;
const raw = Date.parse("2031-03-02T07:10:00Z");
const set = (ahead: number) => (offset.value = { ahead, phone: raw });

test("the network's own delay is not taken for a wrong clock", () => {
  measure(raw, raw - 3000, raw + 3000);
  assert.equal(offset.value?.ahead, 0);
  set(30e3);
  assert.equal(now(raw), raw);
  assert.equal(clockOff.value, null);
});

test("an hour off: stamps follow the server, times stay the wearer's wall clock, and it is told", () => {
  set(HOUR);
  assert.equal(now(raw), raw - HOUR);
  assert.equal(nowForAt(raw), raw);
  assert.equal(clockOff.value, 60);
});

test("years off: stamps and times both follow the server", () => {
  for (const ahead of [-5 * YEAR, 5 * YEAR]) {
    set(ahead);
    assert.equal(now(raw), raw - ahead);
    assert.equal(nowForAt(raw), raw - ahead);
  }
});

test("a clock that was put right since is believed again", () => {
  assert.equal(holds({ ahead: 5 * YEAR, phone: raw }, raw - 5 * YEAR + HOUR), false);
  assert.equal(holds({ ahead: -5 * YEAR, phone: raw }, raw + 5 * YEAR + HOUR), false);
  assert.equal(holds({ ahead: 5 * YEAR, phone: raw }, raw + HOUR), true);
  assert.equal(holds({ ahead: -5 * YEAR, phone: raw }, raw + HOUR), true);
});

test("an answer without a time measures nothing", () => {
  set(HOUR);
  measure(NaN, raw, raw);
  assert.equal(offset.value?.ahead, HOUR);
});

test("what was written before the clock was known to be years off is named once, with the error of its time", () => {
  offset.value = null;
  noteWritten("a", raw, raw);
  noteWritten("for yesterday", raw - 24 * HOUR, raw);
  set(5 * YEAR);
  noteWritten("b", raw - 5 * YEAR, raw); // already corrected
  assert.deepEqual(misdated(), [["a", 5 * YEAR]]);
  assert.deepEqual(misdated(), []);
});

test("an hour off does not move what was written", () => {
  offset.value = null;
  noteWritten("a", raw, raw);
  set(HOUR);
  assert.deepEqual(misdated(), []);
});
