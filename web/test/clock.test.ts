import assert from "node:assert/strict";
import { test } from "node:test";
import { addDays, localDay, wall } from "../src/log/clock";
import { vectors } from "./vectors";

// Run by tests/test_web.py with the machine in several zones: the result depends on the entry's zone alone.

test(`days as zoneinfo has them, with the machine in ${process.env["TZ"]}`, () => {
  const days = vectors<{ at: string; zone: string; day_starts: number; day: string; note: string }[]>("days");
  assert.ok(days.length > 500);
  for (const { at, zone, day_starts, day, note } of days) assert.equal(localDay(at, zone, day_starts), day, `${at} ${zone} ${day_starts} ${note}`);
});

test("the wall clock at midnight is hour 0, not 24", () => {
  assert.deepEqual(wall("2031-03-01T18:30:00Z", "Asia/Kolkata"), { year: 2031, month: 3, day: 2, hour: 0, minute: 0 });
});

test("days are added by the calendar, also over a day that a zone left out", () => {
  assert.equal(addDays("2028-02-28", 1), "2028-02-29");
  assert.equal(addDays("2031-01-01", -1), "2030-12-31");
  assert.equal(addDays("2011-12-29", 1), "2011-12-30"); // Apia had no 30 December 2011; the calendar has
});
