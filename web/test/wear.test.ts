// What is on the limb: sittings on the worked cases that insight is held to as well, and what Today makes of them.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Entry } from "../src/log/kinds";
import { sittings, worn } from "../src/today/wear";
import { vectors } from "./vectors";

type Told = { date: string; begun: string; until: string; donned: boolean; doffed: boolean; totals: (number | null)[] };
type Case = { rule: string; entries: [kind: "don" | "doff" | "ply" | "adjust", at: string, zone: string, total?: number][]; sittings: Told[] };

let made = 0;
function entry(kind: string, at: string, zone: string, total?: number, socks?: string[]): Entry {
  made += 1;
  const body = kind === "adjust" ? { what: "dial", by: 1 } : total === undefined ? {} : { total, socks: socks ?? null };
  const id = `0198f2c3-0000-7000-8000-${made.toString(16).padStart(12, "0")}`;
  return { id, kind, limb: "left", at, zone, stamp: `${made}`, erased: false, body } as Entry;
}

const written = (ms: number) => new Date(ms).toISOString();

for (const { rule, entries, sittings: expected } of vectors<Case[]>("wear")) {
  test(rule, () => {
    const found = sittings(entries.map((one) => entry(...one)), 4);
    assert.deepEqual(
      found.map((s): Told => ({ date: s.date, begun: written(s.begun), until: written(s.until), donned: s.donned, doffed: s.doffed, totals: s.steps.map((step) => step.total) })),
      expected,
    );
  });
}

const UTC = "UTC";
const at = (time: string, day = "10") => Date.parse(`2031-01-${day}T${time}:00.000Z`);
const iso = (time: string, day = "10") => new Date(at(time, day)).toISOString();
const MORNING = [entry("don", iso("07:00"), UTC, 5), entry("ply", iso("12:00"), UTC, 8), entry("doff", iso("20:00"), UTC)];

test("in the morning the set of the last start is offered", () => {
  const state = worn(MORNING, "left", at("07:00", "11"), 4);
  assert.equal(state.on, null);
  assert.deepEqual(state.next, { total: 5, socks: null, from: "start" });
});

test("later in the day the set that was on last is offered", () => {
  const state = worn(MORNING, "left", at("21:00"), 4);
  assert.equal(state.offSince, at("20:00"));
  assert.deepEqual(state.next, { total: 8, socks: null, from: "last" });
});

test("a leg taken off a little before the day turns at four is off, for three hours", () => {
  const late = [...MORNING.slice(0, 2), entry("ply", iso("23:00"), UTC, 9), entry("doff", iso("03:40", "11"), UTC)];
  assert.equal(worn(late, "left", at("04:10", "11"), 4).offSince, at("03:40", "11"));
  assert.equal(worn(late, "left", at("06:50", "11"), 4).offSince, null);
});

test("a day that ended without a doffing is named the next morning, and the leg is not taken for on", () => {
  const state = worn(MORNING.slice(0, 2), "left", at("07:00", "11"), 4);
  assert.equal(state.on, null);
  assert.equal(state.openDay, "2031-01-10");
});

test("with nothing logged nothing is on, off or offered", () => {
  assert.deepEqual(worn([], "left", at("07:00"), 4), { on: null, offSince: null, openDay: null, today: [], next: null, last: null });
});

test("the other limb's entries are not read", () => {
  assert.equal(worn(MORNING, "right", at("13:00"), 4).next, null);
});
