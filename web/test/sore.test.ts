// Which earlier marks the sore screen shows, and what each region had last.
import assert from "node:assert/strict";
import { test } from "node:test";
import { TYPICAL } from "../src/limb/geometry";
import type { OwnLimb } from "../src/limb/names";
import type { Entry } from "../src/log/kinds";
import { earlierMarks, lastByRegion, soreEntries } from "../src/sore/marks";

const DAY = 24 * 3600e3, NOW = Date.parse("2031-06-03T12:00:00Z");
const LIMB: OwnLimb = { side: "left", level: "transtibial", size: TYPICAL, tender: [] };

let made = 0;
const mark = (ago: number, height: number, angle: number, more: object = {}, limb: "left" | "right" = "left"): Entry =>
  ({ id: `e${made++}`, kind: "sore", limb, at: new Date(NOW - ago * DAY).toISOString(), body: { height, angle, intensity: 4, phantom: false, ...more } }) as unknown as Entry;

test("earlier marks are those of two weeks on this limb, newest first, each place once, phantom pain apart", () => {
  const entries = [
    mark(15, 0.4, 90), mark(9, 0.62, 350), mark(5, 0.9, 0, { phantom: true }), mark(4, 0.2, 0), mark(3, 0.3, 200, {}, "right"), mark(2, 0.621, 353),
  ];
  const shown = earlierMarks(soreEntries(entries, "left"), LIMB, NOW);
  assert.deepEqual(shown.map(({ entry: { body }, times }) => [body.height, body.angle, times]), [[0.621, 353, 2], [0.2, 0, 1]]);
});

test("no more rings than can be told apart", () => {
  const entries = Array.from({ length: 60 }, (_, i) => mark(6 - i / 20, 0.3 + (i % 12) * 0.05, (i * 37) % 360));
  assert.equal(earlierMarks(soreEntries(entries, "left"), LIMB, NOW).length, 12);
});

test("each region tells its latest mark", () => {
  const last = lastByRegion(soreEntries([mark(9, 0.62, 350), mark(4, 0.63, 2), mark(3, 0.7, 107), mark(1, 0.63, 1, { phantom: true })], "left"), LIMB);
  assert.deepEqual([...last].map(([id, e]) => [id, e.body.height]), [["fibular_head", 0.7], ["tibial_tubercle", 0.63]]);
});
