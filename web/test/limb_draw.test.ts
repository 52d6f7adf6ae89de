// The drawing agrees with the one the clinic's page has (tests/vectors/limb_outlines.json), and stays small.
import assert from "node:assert/strict";
import { test } from "node:test";
import { drawing, outline } from "../src/limb/draw";
import type { Line } from "../src/limb/contour";
import { TYPICAL } from "../src/limb/geometry";
import { halftone } from "../src/limb/halftone";
import { table, VIEWS, type Level, type Side, type View } from "../src/limb/table";
import { frame } from "../src/limb/views";
import { vectors } from "./vectors";

type Points = [number, number][];
type Outlines = {
  outlines: { level: Level; side: Side; view: View; own: Points; rim: Points; far: Points[] }[];
  whole: { of: [Level, Side, View]; svg: string };
};

const shared = vectors<Outlines>("limb_outlines");

function agree(line: Line, points: Points, name: string): void {
  const kept = line.filter((_, i) => i % 5 === 0 || i === line.length - 1);
  assert.equal(kept.length, points.length, name);
  kept.forEach(([x, y], i) => assert.ok(Math.abs(x - points[i]![0]) < 0.011 && Math.abs(y - points[i]![1]) < 0.011, `${name} at ${i}`));
}

test("all outlines, socket edges and lines above them are those of the other drawing", () => {
  assert.equal(shared.outlines.length, 30);
  for (const { level, side, view, own, rim, far } of shared.outlines) {
    const lines = outline(frame(level, side), view), name = `${level} ${side} ${view}`;
    agree(lines.own, own, `${name} own`);
    agree(lines.rim, rim, `${name} edge`);
    assert.equal(lines.far.length, far.length, name);
    lines.far.forEach((line, i) => agree(line, far[i]!, `${name} above ${i}`));
  }
});

test("a whole drawing is the other one's, path by path, to a fifth of a unit", () => {
  const theirs = [...shared.whole.svg.matchAll(/class="([^"]+)" d="([^"]+)"/g)].map((found) => found.slice(1) as [string, string]);
  const ours = drawing(...shared.whole.of);
  assert.deepEqual(ours.map(([name]) => name), theirs.map(([name]) => name));
  ours.forEach(([name, d], i) => {
    const [a, b] = [d, theirs[i]![1]].map((path) => path.match(/-?\d*\.?\d+/g)!.map(Number));
    assert.equal(a!.length, b!.length, name);
    a!.forEach((value, k) => assert.ok(Math.abs(value - b![k]!) <= 0.21, `${name} number ${k}`));
  });
});

test("a view is within 7 KB, which leaves a kilobyte for what is marked on it", () => {
  for (const level of Object.keys(table.levels) as Level[])
    for (const view of VIEWS) {
      const size = drawing(level, "left", view).reduce((sum, [name, d]) => sum + name.length + d.length + 20, 0);
      assert.ok(size > 2000 && size <= 7168, `${level} ${view}: ${size}`);
    }
});

test("more heat makes larger dots, near where it is and on the views that show it", () => {
  const heat = [{ height: 0.5, angle: 0, value: 1 }, { height: 0.25, angle: 0, value: 4 }];
  const paths = halftone("transtibial", "left", "front", TYPICAL, heat), pictures = frame("transtibial", "left");
  const nearest = (d: string, height: number) => {
    const at = pictures.toView("front", { height, angle: 0 })!;
    return Math.min(...[...d.matchAll(/M([\d.]+) ([\d.]+)h0/g)].map((dot) => Math.hypot(Number(dot[1]) - at[0], Number(dot[2]) - at[1])));
  };
  const [, largest] = paths.at(-1)!;
  assert.ok(nearest(largest, 0.25) < 6);
  assert.ok(nearest(largest, 0.5) > 40);
  assert.ok(paths.some(([, d]) => nearest(d, 0.5) < 6));
  assert.deepEqual(halftone("transtibial", "left", "back", TYPICAL, heat), []);
  assert.deepEqual(halftone("transtibial", "left", "front", TYPICAL, []), []);
});
