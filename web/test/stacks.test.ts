// Sums of socks on the answers that brute force found (tests/vectors/make_stacks.py).
import assert from "node:assert/strict";
import { test } from "node:test";
import { carry, shortest, stacks, supply } from "../src/drawer/stacks";
import { vectors } from "./vectors";

type Case = {
  on: number[]; free: number[]; layers: number; targets: number[]; total: number; fewest_layers: number | null; moves: number | null;
  carry: { size: number; ply: number; missing: number[] };
};

const sum = (plies: readonly number[]) => plies.reduce((a, b) => a + b, 0);
const cases = vectors<Case[]>("stacks");

test("the first stack for a total has the fewest layers that any choice has", () => {
  for (const c of cases) {
    const found = stacks(c.total, supply(c.free), c.layers);
    assert.equal(found[0]?.length ?? null, c.fewest_layers, JSON.stringify(c));
    for (const stack of found) assert.equal(sum(stack), c.total);
  }
});

test("one 5 goes before 3+1+1: fewer layers, fewer wrinkles (handouts, read)", () => {
  assert.deepEqual(stacks(5, supply([1, 1, 2, 3, 5]), 3)[0], [5]);
});

test("the way from what is on to a total takes as few moves as breadth-first search finds", () => {
  for (const c of cases) {
    const move = shortest(c.on, c.total, supply(c.free), c.layers);
    assert.equal(move && move.off + move.on, c.moves, JSON.stringify(c));
    if (move) assert.equal(sum(move.stack), c.total);
  }
});

test("what to carry is the smallest set, then the least ply, and names what cannot be made", () => {
  for (const c of cases) {
    const load = carry(c.on, supply(c.free), c.targets, c.layers);
    assert.deepEqual([load.socks.length, sum(load.socks), load.missing], [c.carry.size, c.carry.ply, c.carry.missing], JSON.stringify(c));
  }
});
