import assert from "node:assert/strict";
import { test } from "node:test";
import { backoff, verdict } from "../src/log/verdict";

const now = Date.parse("2031-03-02T07:10:00Z");
const of = (status: number, retryAfter: string | null = null, fails = 0) => verdict(status, retryAfter, fails, now);

test("each answer has its meaning", () => {
  assert.equal(of(200).act, "take");
  assert.equal(of(409).act, "restart");
  assert.equal(of(413).act, "halve");
  assert.deepEqual(of(401), { act: "rest", talk: "pair_again", wait: null });
  assert.equal(of(426).talk, "too_old");
  assert.equal(of(507).talk, "full");
  assert.equal(of(0).talk, "offline");
  for (const status of [400, 403, 404, 422, 429, 500, 502, 503]) assert.deepEqual([of(status).act, of(status).talk], ["rest", "later"], String(status));
});

test("Retry-After is kept to, in seconds and as a date (RFC 9110, 10.2.3)", () => {
  assert.equal(of(503, "120").wait, 120_000);
  assert.equal(of(429, "Sun, 02 Mar 2031 07:15:00 GMT").wait, 300_000);
  assert.equal(of(503, "999999999").wait, 3_600_000); // an hour at most: a slip of the server must not silence a phone
  for (const odd of ["", "soon", "-5"]) assert.ok(of(503, odd).wait! >= 1500, odd);
});

test("waiting grows from about 2 s to about 5 min, and phones part", () => {
  assert.equal(backoff(0, 0.5), 2000);
  assert.equal(backoff(3, 0.5), 16_000);
  assert.equal(backoff(30, 0.5), 300_000);
  assert.ok(backoff(3, 0) < backoff(3, 1));
});
