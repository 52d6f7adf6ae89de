// Marks that would be drawn on each other.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Point } from "../src/limb/geometry";
import { spread } from "../src/limb/spread";

const nearest = (points: readonly Point[]) =>
  Math.min(...points.flatMap((a, i) => points.slice(0, i).map((b) => Math.hypot(a[0] - b[0], a[1] - b[1]))));

test("what is far apart stays where it is", () => {
  const points: Point[] = [[20, 30], [60, 30], [20, 90]];
  assert.deepEqual(spread(points, 27), points);
});

test("twelve marks on one spot, and two that only touch, end a ring apart and as near as they can be", () => {
  const heap = Array.from({ length: 12 }, (_, i): Point => [150 + (i % 3), 200 + (i % 2)]);
  const apart = spread(heap, 27);
  assert.ok(nearest(apart) > 26, `${nearest(apart)}`);
  assert.ok(apart.every(([x, y]) => Math.hypot(x - 150, y - 200) < 80));
  const two = spread([[100, 100], [110, 100]], 27);
  assert.deepEqual(two.map(([x]) => Math.round(x)), [92, 119]);
});

test("the mark being placed does not move: the others make room", () => {
  const [moved] = spread([[101, 100]], 27, [100, 100], 33);
  assert.equal(Math.round(moved![0]), 133);
});
