// The skin check's own sums: the timer from doffing to the limit, what "gone" and "still there" enter, the same place again.
import assert from "node:assert/strict";
import { test } from "node:test";
import { TYPICAL } from "../src/limb/geometry";
import type { OwnLimb } from "../src/limb/names";
import type { Entry, Finding, SkinBody } from "../src/log/kinds";
import { beforeAt, change, CLEAR, earlierPlaces, isEmpty, NOTHING, tick } from "../src/skin/check";
import { answered, asking, goingOn, gone, stillThere } from "../src/skin/due";
import { countdown, minutesSince, timer } from "../src/skin/timer";
import { metBy, type Risks } from "../src/signs/rules";

const MIN = 60e3, OFF = Date.parse("2031-06-03T21:40:00Z");
const LIMB: OwnLimb = { side: "left", level: "transtibial", size: TYPICAL, tender: [] };

let made = 0;
const entry = (kind: "skin" | "sore", body: object, at: number, limb: "left" | "right" = "left"): Entry =>
  ({ id: `e${made++}`, kind, limb, at: new Date(at).toISOString(), zone: "Europe/Lisbon", stamp: "", erased: false, body }) as unknown as Entry;

/** A check with one mark, asked about so many minutes after the leg came off, and the signs it meets. */
function asked(answer: "gone" | "still", minutes: number, limit: number, profile: Risks): string[] {
  const at = timer(OFF, limit, OFF + minutes * MIN);
  const body = tick(NOTHING, "redness", true);
  const said = answer === "gone" ? gone(minutesSince(at, OFF + minutes * MIN)!) : stillThere(at);
  return metBy("skin", change(body, 0, said), profile).map((m) => `${m.code} ${m.level}`);
}

// The limit differs between published handouts (a few minutes; 15 to 20; 20; 20 to 30; 30): 20 by default, 15 with diabetes,
// poor circulation or poor feeling, and the clinic's own number before either.
test("at 19 and 20 minutes a mark is within a limit of 20, at 21 it is not, whether gone or still there", () => {
  for (const minutes of [19, 20]) {
    assert.deepEqual(asked("gone", minutes, 20, {}), ["pink watch"]);
    assert.deepEqual(asked("still", minutes, 20, {}), ["pink watch"], "not gone yet is not over the limit");
  }
  assert.deepEqual(asked("gone", 21, 20, {}), ["redness_long review"]);
  assert.deepEqual(asked("still", 21, 20, {}), ["redness_long review"]);
});

test("with diabetes the same holds round 15 minutes", () => {
  const profile: Risks = { higher_risk: ["diabetes"] };
  assert.deepEqual([14, 15, 16].map((min) => asked("gone", min, 15, profile)[0]!.split(" ")[0]), ["pink", "pink", "redness_long"]);
  assert.deepEqual([15, 16].map((min) => asked("still", min, 15, profile)[0]!.split(" ")[0]), ["pink", "redness_long"]);
});

test("the timer runs from doffing to the limit, is due after it, and gives up after hours", () => {
  assert.deepEqual(timer(OFF, 20, OFF + 13 * MIN), { state: "waiting", since: OFF, until: OFF + 20 * MIN, left: 7 * MIN, share: 0.35 });
  assert.equal(timer(OFF, 20, OFF + 20 * MIN).state, "waiting");
  assert.deepEqual(timer(OFF, 20, OFF + 20 * MIN + 1), { state: "due", since: OFF, until: OFF + 20 * MIN, minutes: 20 });
  for (const at of [OFF - 1, OFF + 181 * MIN]) assert.equal(timer(OFF, 20, at).state, "none");
  assert.equal(timer(null, 20, OFF).state, "none");
});

test("the countdown reads as a clock does", () => {
  assert.deepEqual([372_000, 371_001, 60_000, 999, 0].map(countdown), ["6:12", "6:12", "1:00", "0:01", "0:00"]);
});

test("with no time of doffing the wearer's word stands: still there is over the limit", () => {
  assert.deepEqual(stillThere(timer(null, 20, OFF)), { fade_min: null, still_red: true });
});

test("ticking adds and takes out, and a blister that burst is still the same row", () => {
  let body: SkinBody = tick(tick(CLEAR, "open", true), "blister", true);
  assert.equal(body.clear, false);
  body = change(body, 1, { what: "broken_blister" });
  assert.deepEqual(body.findings!.map((f: Finding) => f.what), ["open", "broken_blister"]);
  body = tick(body, "blister", false);
  assert.deepEqual(body.findings!.map((f: Finding) => f.what), ["open"]);
  assert.equal(isEmpty(tick(body, "open", false)), true);
  assert.equal(isEmpty(CLEAR), false);
  assert.equal(isEmpty({ ...NOTHING, unwell: ["faint"] }), false);
});

test("a check goes on after doffing, and a clear one is done", () => {
  const found = entry("skin", tick(NOTHING, "redness", true), OFF + 5 * MIN);
  assert.equal(goingOn([found], "left", OFF, OFF + 30 * MIN), found);
  assert.equal(goingOn([found], "left", OFF + 6 * MIN, OFF + 30 * MIN), null, "it was before this doffing");
  assert.equal(goingOn([found], "right", OFF, OFF + 30 * MIN), null);
  assert.equal(goingOn([found], "left", null, OFF + 60 * MIN), found);
  assert.equal(goingOn([found], "left", null, OFF + 100 * MIN), null);
  assert.equal(goingOn([found, entry("skin", CLEAR, OFF + 9 * MIN)], "left", OFF, OFF + 30 * MIN), null);
});

test("the same place is recognised across the front and within a fingertip, on the same limb, in another entry", () => {
  const at = (height: number, angle: number) => ({ ...NOTHING, findings: [{ what: "redness", height, angle }] });
  const earlier = entry("skin", at(0.62, 355), OFF - 10 * 24 * 60 * MIN), sore = entry("sore", { height: 0.3, angle: 180, intensity: 4 }, OFF - MIN);
  const log = [earlier, entry("skin", at(0.2, 355), OFF), sore];
  assert.equal(beforeAt(log, LIMB, { height: 0.63, angle: 5 }, null)?.what, "redness");
  assert.equal(beforeAt(log, LIMB, { height: 0.63, angle: 5 }, null)?.at, earlier.at);
  assert.equal(beforeAt(log, LIMB, { height: 0.63, angle: 5 }, earlier.id), null);
  assert.equal(beforeAt(log, LIMB, { height: 0.63, angle: 60 }, null), null);
  assert.equal(beforeAt(log, { ...LIMB, side: "right" }, { height: 0.63, angle: 5 }, null), null);
  assert.equal(beforeAt(log, LIMB, { height: 0.31, angle: 182 }, null)?.what, "sore");
  assert.deepEqual(earlierPlaces(log, LIMB, null), [{ height: 0.2, angle: 355 }, { height: 0.62, angle: 355 }]);
});

test("with the leg off a mark that is waited for is asked about; else one look a day is", () => {
  const marked = entry("skin", tick(NOTHING, "redness", true), OFF + 5 * MIN), isToday = () => true;
  assert.deepEqual(asking([marked], "left", OFF, isToday), { about: "mark", entry: marked });
  assert.equal(asking([entry("skin", answered(marked.body as SkinBody, gone(12)), OFF + 5 * MIN)], "left", OFF, isToday), null);
  assert.deepEqual(asking([], "left", OFF, isToday), { about: "look", entry: null });
  assert.deepEqual(asking([entry("skin", CLEAR, OFF - 300 * MIN)], "left", OFF, () => false), { about: "look", entry: null }, "that was another day");
  assert.equal(asking([entry("skin", CLEAR, OFF - 300 * MIN)], "left", OFF, isToday), null);
  assert.equal(asking([entry("skin", CLEAR, OFF + 9 * MIN)], "left", OFF, () => false), null, "looked since, though the day has turned");
});

test("an answer goes to every mark that is waited for and to nothing else", () => {
  const found = tick(tick(NOTHING, "redness", true), "blister", true);
  assert.deepEqual(answered(found, stillThere(timer(OFF, 20, OFF + 21 * MIN))).findings!.map((f) => f.still_red), [true, false]);
});
