// The phone's own judgement of one entry, on the cases that the server's is held to as well.
import assert from "node:assert/strict";
import { test } from "node:test";
import { fadeLimit, metBy, overLimit, sourceOf, steps, titleOf, whatWasEntered, type Met, type Risks } from "../src/signs/rules";
import type { Entry } from "../src/log/kinds";
import { signsHere, type Dated } from "../src/signs/stand";
import { vectors } from "./vectors";

type Case = { name: string; kind: "skin" | "mishap"; body: object; profile: Risks; met: Met[]; do?: string[]; entered?: string };

type Stand = { name: string; log: { day: number; hour: number; kind: "skin" | "mishap" | "change"; body: { findings?: (string | object)[]; unwell?: string[] } }[]; today: number; codes: string[] };

const { cases, stands } = vectors<{ cases: Case[]; stands: Stand[] }>("signs");

test("every case meets the same signs at the same levels as on the server", () => {
  assert.ok(cases.length > 50);
  for (const { name, kind, body, profile, met } of cases) assert.deepEqual(metBy(kind, body, profile), met, name);
});

test("what an entry meets goes on standing for as long as on the server", () => {
  const dayOf = (n: number) => new Date(Date.UTC(2031, 2, 3 + n)).toISOString().slice(0, 10);
  assert.ok(stands.length > 15);
  for (const { name, log, today, codes } of stands) {
    const dated = log.map(({ day, hour, kind, body }, i): Dated => {
      const findings = (body.findings ?? []).map((f) => (typeof f === "string" ? { what: f } : f));
      const said = kind === "skin" ? { clear: !findings.length && !body.unwell, ...body, findings } : body;
      const at = new Date(Date.UTC(2031, 2, 3 + day) + hour * 3600e3).toISOString();
      return { date: dayOf(day), entry: { id: `e${i}`, kind, limb: "left", at, body: said } as unknown as Entry };
    });
    const met = signsHere(dated, {}, dayOf(today), () => true, false).map((sign) => sign.code);
    assert.deepEqual(met, codes, name);
  }
});

test("what to do and what was entered are told in the same words", () => {
  const told = cases.filter((c) => c.do), said = cases.filter((c) => c.entered !== undefined);
  assert.ok(told.length > 0 && said.length > 0);
  for (const { name, kind, body, profile, do: wanted } of told) assert.deepEqual(steps(metBy(kind, body, profile)[0]!, profile), wanted, name);
  for (const { name, kind, body, entered } of said) assert.equal(whatWasEntered(kind, body), entered, name);
});

// Five published clinic handouts put the limit for redness to fade between a few and 30 minutes; 20 is the default here,
// 15 with diabetes, poor circulation or poor feeling, and the clinic's own number wins (data/limits.json).
test("19 and 20 minutes are within a limit of 20, 21 are not; the same round 15, and round the clinic's own number", () => {
  assert.deepEqual([19, 20, 21].map((min) => overLimit(min, {})), [false, false, true]);
  for (const risk of ["diabetes", "circulation", "feeling"] as const)
    assert.deepEqual([14, 15, 16].map((min) => overLimit(min, { higher_risk: [risk] })), [false, false, true], risk);
  assert.equal(fadeLimit({ higher_risk: ["dialysis"] }), 20);
  assert.deepEqual([10, 11].map((min) => overLimit(min, { fade_limit_min: 10, higher_risk: ["diabetes"] })), [false, true]);
  assert.deepEqual([20, 21, 30, 31].map((min) => overLimit(min, { fade_limit_min: 30 })), [false, false, false, true]);
});

test("38.0 degrees, which is 100.4 Fahrenheit, is a fever and 37.9 is not (NHS)", () => {
  const fever = (fever_c: number) => metBy("skin", { clear: false, fever_c }, {}).map((m) => m.code);
  assert.deepEqual([fever(37.9), fever(38)], [[], ["fever"]]);
  assert.equal((100.4 - 32) / 1.8, 38);
});

test("every sign that is met has a title and its source", () => {
  for (const { kind, body, profile } of cases)
    for (const met of metBy(kind, body, profile)) assert.ok(titleOf(met).length > 3 && sourceOf(met).length > 3, met.code);
});
