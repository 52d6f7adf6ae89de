// Break-in: a step is gained only if the last skin check was clear. The steps are those of published handouts (read).
import assert from "node:assert/strict";
import { test } from "node:test";
import { byDay, place, SLOWEST, wornDays, type WornDay } from "../src/breakin/plan";
import type { Entry } from "../src/log/kinds";

// Rehabilitation hospital handout: 1 h, 2 h, 4 h, 8 h, then the whole day.
const HOSPITAL = [60, 120, 240, 480].map((minutes) => ({ minutes, times: 1, days: 1 }));
const day = (date: string, clear: boolean | null, worn = true): WornDay => ({ date, worn, looked: clear !== null, clear: clear ?? true });

test("the first day is the first step", () => {
  assert.deepEqual(place(HOSPITAL, [], "2031-03-02"), { step: { minutes: 60, times: 1 }, number: 1, of: 4, gained: 0, done: false, held: null });
});

test("a worn day with a clear check gains the next step", () => {
  assert.equal(place(HOSPITAL, [day("2031-03-02", true)], "2031-03-03")?.step.minutes, 120);
});

test("a finding holds the step, and so does a day without a look", () => {
  const found = place(HOSPITAL, [day("2031-03-02", true), day("2031-03-03", false)], "2031-03-04");
  assert.deepEqual([found?.step.minutes, found?.held], [120, "skin"]);
  const unseen = place(HOSPITAL, [day("2031-03-02", null)], "2031-03-03");
  assert.deepEqual([unseen?.step.minutes, unseen?.held], [60, "no_look"]);
});

test("a clear check on a day without the leg gains nothing, and today does not count yet", () => {
  assert.equal(place(HOSPITAL, [day("2031-03-02", true, false), day("2031-03-03", true)], "2031-03-03")?.gained, 0);
});

test("after every step the plan is done, and no plan is no place", () => {
  const days = ["02", "03", "04", "05"].map((n) => day(`2031-03-${n}`, true));
  assert.equal(place(HOSPITAL, days, "2031-03-06")?.done, true);
  assert.equal(place([], days, "2031-03-06"), null);
});

test("the slow handout's first four days are 30, 90, 135 and 180 minutes in all", () => {
  assert.deepEqual(byDay(SLOWEST).slice(0, 4).map(({ minutes, times }) => minutes * times), [30, 90, 135, 180]);
});

test("one finding among the day's checks makes the day not clear", () => {
  const at = (kind: string, time: string, body: object) => ({ id: time, kind, limb: "left", at: `2031-03-02T${time}:00.000Z`, zone: "Europe/Lisbon", stamp: time, erased: false, body }) as unknown as Entry;
  const days = wornDays([at("don", "08:00", {}), at("skin", "09:00", { clear: false, findings: [{ what: "redness" }] }), at("skin", "20:00", { clear: true, findings: [] })], "left", 4);
  assert.deepEqual(days, [{ date: "2031-03-02", worn: true, looked: true, clear: false }]);
});
