import assert from "node:assert/strict";
import { test } from "node:test";
import { uuid7, uuidTime } from "../src/log/uuid";

test("the example of RFC 9562, appendix A.6", () => {
  // unix_ts_ms 0x017F22E279B0 (22 February 2022, 14:22:22 GMT-05:00), rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F
  const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  assert.equal(uuid7(0x017f22e279b0, random), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
  assert.equal(uuidTime("017f22e2-79b0-7cc3-98c4-dc0c0c07398f"), Date.parse("2022-02-22T14:22:22-05:00"));
});

test("version and variant stand whatever the random bytes are", () => {
  for (const byte of [0x00, 0xff]) assert.match(uuid7(1, new Uint8Array(10).fill(byte)), /^00000000-0001-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-/);
});

test("ids sort by the time they were made, to the last 48-bit millisecond", () => {
  const times = [0, 1, 255, 256, 2 ** 32 - 1, 2 ** 32, 2 ** 40, 2 ** 48 - 1];
  const ids = times.map((ms) => uuid7(ms));
  assert.deepEqual(ids, [...ids].sort());
  assert.deepEqual(ids.map(uuidTime), times);
});

test("only version 7 tells its time", () => {
  // the version 4 example of RFC 9562, appendix A.3
  assert.equal(uuidTime("919108f7-52d1-4320-9bac-f847db4148a8"), null);
});
