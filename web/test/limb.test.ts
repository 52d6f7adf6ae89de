// The limb's geometry on the vectors shared with Python, and what must hold for every spot.
import assert from "node:assert/strict";
import { test } from "node:test";
import { apart, rounded, shape, surfacePoint, TYPICAL, type Size, type Spot } from "../src/limb/geometry";
import { centre, regionId, regionsAt, regionsOf } from "../src/limb/regions";
import { table, VIEWS, type Level, type Side, type View } from "../src/limb/table";
import { EDGE_ON, frame, SLOP } from "../src/limb/views";
import { vectors } from "./vectors";

type Vector = {
  level: Level; side: Side; view: View; height: number | null; angle: number | null; x: number | null; y: number | null;
  end_cap: boolean; above_edge: boolean; region: string | null;
};

const LEVELS = Object.keys(table.levels) as Level[];
const SIDES: Side[] = ["left", "right"];
const OWN: Size = { length: 260, girths: [[60, 260], [120, 330]] };
const close = (a: number, b: number, by: number, what: string) => assert.ok(Math.abs(a - b) <= by, `${what}: ${a} is not ${b}`);

test("all 360 worked points agree within 0.001, both ways", () => {
  const all = vectors<Vector[]>("limb");
  assert.equal(all.length, 360);
  for (const v of all) {
    const pictures = frame(v.level, v.side), name = `${v.level} ${v.side} ${v.view} ${v.height} ${v.angle}`;
    if (v.height === null || v.angle === null) {
      assert.equal(pictures.fromView(v.view, v.x!, v.y!), null, name);
      continue;
    }
    const spot = { height: v.height, angle: v.angle }, at = pictures.toView(v.view, spot);
    if (v.x === null) { assert.equal(at, null, name); continue; }
    close(at![0], v.x, 1e-3, name);
    close(at![1], v.y!, 1e-3, name);
    const hit = pictures.fromView(v.view, v.x, v.y!)!;
    close(hit.height, v.height, 1e-3, name);
    close((hit.angle - v.angle + 540) % 360, 180, 0.02, name); // x and y have 4 decimals
    assert.deepEqual([hit.endCap, hit.aboveEdge], [v.end_cap, v.above_edge], name);
    assert.equal(regionsAt(v.level, spot)[0]?.id ?? null, v.region, name);
  }
});

/** Spots all over a limb, denser at the tip, in an order that is the same in every run. */
function* spots(): Generator<Spot> {
  for (let i = 0; i <= 24; i++) for (let angle = 0; angle < 360; angle += 11) yield { height: (i / 24) ** 2, angle: (angle + 3.7 * i) % 360 };
}

function everyView(check: (level: Level, side: Side, view: View, size: Size) => void): void {
  for (const level of LEVELS) for (const side of SIDES) for (const view of VIEWS) for (const size of [TYPICAL, OWN]) check(level, side, view, size);
}

test("a stored spot, drawn and tapped again, is within 2 mm on every view, both sides, all levels", () => {
  let drawn = 0;
  everyView((level, side, view, size) => {
    const pictures = frame(level, side, size);
    for (const spot of spots()) {
      const stored = rounded(spot), at = pictures.toView(view, stored);
      if (!at) continue;
      const hit = pictures.fromView(view, ...at);
      assert.ok(hit, `${level} ${side} ${view} ${JSON.stringify(stored)} lost`);
      const again = rounded(hit), back = pictures.project(view, again.height * pictures.limb.brim, again.angle);
      const scale = view === "end" ? pictures.endScale : pictures.scale;
      assert.ok(Math.hypot(back[0] - at[0], back[1] - at[1]) / scale < 2, `${level} ${side} ${view} ${JSON.stringify(stored)} redrawn`);
      if (!hit.oblique) assert.ok(apart(level, stored, again, size) < 2, `${level} ${side} ${view} ${JSON.stringify(stored)} stored`);
      drawn++;
    }
  });
  assert.ok(drawn > 20000);
});

test("a right limb is a left limb mirrored", () => {
  everyView((level, _, view, size) => {
    for (const spot of spots()) {
      const left = frame(level, "left", size).toView(view, spot), right = frame(level, "right", size).toView(view, spot);
      assert.equal(left === null, right === null);
      if (left && right) { close(right[0], 300 - left[0], 1e-9, view); close(right[1], left[1], 1e-9, view); }
    }
  });
});

test("girths are met exactly where they were measured, and names do not move with size", () => {
  for (const level of LEVELS) {
    const limb = shape(level, OWN);
    for (const [z, girth] of OWN.girths) close(limb.girth(limb.uOfZ(z)), girth, 1e-6, level);
    close(limb.zOfU(limb.table.reference.mm), 260, 1e-9, level);
    assert.equal(limb.brim, shape(level).brim);
  }
  assert.equal(regionId("transtibial", { height: 0.7, angle: 107 }), "fibular_head");
  assert.equal(regionId("transtibial", { height: 0.25, angle: 20 }), "front_lower");
});

test("a finger that misses the outline by its own width still counts, and names the view to turn to", () => {
  const pictures = frame("transtibial", "left"), [x, y] = pictures.project("front", 100, 90);
  assert.equal(pictures.fromView("front", x + 10, y), null);
  const hit = pictures.fromView("front", x + 10, y, SLOP)!;
  assert.deepEqual([Math.round(hit.angle), hit.turn, hit.oblique], [90, "outer", true]);
  assert.equal(pictures.fromView("front", x + SLOP + 1, y, SLOP), null);
  const middle = pictures.project("front", 100, 0)[0];
  assert.equal(pictures.fromView("front", middle + (x - middle) * (EDGE_ON - 0.02), y)!.oblique, false);
  assert.equal(pictures.fromView("front", middle + (x - middle) * (EDGE_ON + 0.02), y)!.oblique, true);
});

test("the best view of a spot shows it, and not on its edge", () => {
  for (const level of LEVELS) for (const spot of spots()) {
    const pictures = frame(level, "right"), view = pictures.bestView(spot), at = pictures.toView(view, spot);
    assert.ok(at, `${level} ${view}`);
    assert.equal(pictures.fromView(view, ...at)!.oblique, false, `${level} ${view} ${JSON.stringify(spot)}`);
  }
});

test("what is stored is in range and as exact as the entry allows", () => {
  assert.deepEqual(rounded({ height: 1.2, angle: 359.96 }), { height: 1, angle: 0 });
  assert.deepEqual(rounded({ height: 0.1234567, angle: -90.04 }), { height: 0.123457, angle: 270 });
  assert.deepEqual(surfacePoint("transtibial", { height: 0.5, angle: 0 }).map(Math.round), [0, 47, 105]);
});

test("the lists name every region, each where its middle is to be seen", () => {
  for (const level of LEVELS) {
    const named = new Set(VIEWS.flatMap((view) => regionsOf(level, view).map((r) => r.id)));
    assert.equal(named.size, table.levels[level].regions.length, level);
    for (const view of VIEWS) {
      const listed = regionsOf(level, view);
      assert.ok(listed.length > 0, `${level} ${view}`);
      for (const r of listed) assert.ok(frame(level, "left").toView(view, centre(r)), `${level} ${view} ${r.id}`);
    }
  }
});

test("choosing a region marks a spot in that region", () => {
  for (const level of LEVELS)
    for (const r of table.levels[level].regions) assert.ok(regionsAt(level, centre(r)).some((hit) => hit.id === r.id), `${level} ${r.id}`);
});
