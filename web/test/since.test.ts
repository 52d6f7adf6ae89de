// What changed since the last visit: first and last week, counts, new places; too few days say nothing.
import assert from "node:assert/strict";
import { test } from "node:test";
import { since } from "../src/visit/since";
import type { DaySummary, LimbSummary } from "../src/log/summary";

const day = (n: number, peak: number, more: Partial<DaySummary> = {}) =>
  ({ date: `2031-03-${String(n).padStart(2, "0")}`, peak, worn_h: 10, comfort: null, logged: true, partial: false, skin: null, sore_worst: null, mishaps: 0, ...more }) as DaySummary;
const limb = (days: DaySummary[], more: object = {}) => ({ days, spots: [], periods: [], ...more }) as unknown as LimbSummary;

test("the first week after the visit is set against the last one", () => {
  const days = Array.from({ length: 25 }, (_, i) => day(i + 2, i < 7 ? 6 : 9));
  const told = since(limb(days), "2031-03-01", "2031-03-26");
  assert.deepEqual([told.peak, told.hours, told.days, told.logged], [{ then: 6, now: 9 }, { then: 10, now: 10 }, 25, 25]);
});

test("fewer than three days at an end say nothing, and the visit's own day is before it", () => {
  const told = since(limb([day(1, 4), day(2, 6), day(3, 6)]), "2031-03-01", "2031-03-30");
  assert.deepEqual([told.peak, told.logged], [{ then: null, now: null }, 2]);
});

test("soreness, findings and mishaps are counted, and places first seen since are named", () => {
  const days = [day(2, 6, { sore_worst: 4 }), day(3, 6, { sore_worst: 0, skin: "finding" }), day(4, 6, { mishaps: 2 })];
  const spots = [{ first: "2031-03-02", plain: "Shin ridge" }, { first: "2031-02-02", plain: "Kneecap" }];
  const periods = [{ what: null, since: "2031-01-01" }, { what: "relief_added", since: "2031-03-03" }];
  const told = since(limb(days, { spots, periods }), "2031-03-01", "2031-03-05");
  assert.deepEqual([told.sore, told.findings, told.mishaps, told.newPlaces], [1, 1, 2, ["Shin ridge"]]);
  assert.deepEqual(told.changes, [{ what: "relief_added", on: "2031-03-03" }]);
});

test("a day that is not over does not count into the averages", () => {
  const days = [day(2, 6), day(3, 6), day(4, 6), day(5, 1, { partial: true })];
  assert.equal(since(limb(days), "2031-03-01", "2031-03-05").peak.now, 6);
});
