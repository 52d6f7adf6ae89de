// Which socks a tap leaves on, where that can be told for certain.
import assert from "node:assert/strict";
import { test } from "node:test";
import { restack, type Owned } from "../src/today/stack";

const sock = (id: string, ply: number, count = 1, state: Owned["state"] = "ready"): [string, Owned] => [id, { id, name: id, ply, count, mark: "", state }];
const drawer = new Map([sock("five", 5, 2), sock("three", 3), sock("one", 1, 2), sock("wet", 2, 1, "wash")]);

test("more ply is one sock from the drawer, outermost", () => {
  assert.deepEqual(restack({ total: 5, socks: ["five"] }, 6, drawer), ["five", "one"]);
  assert.deepEqual(restack({ total: 5, socks: ["five"] }, 8, drawer), ["five", "three"]);
});

test("less ply is the outer socks taken off", () => {
  assert.deepEqual(restack({ total: 9, socks: ["five", "three", "one"] }, 8, drawer), ["five", "three"]);
  assert.deepEqual(restack({ total: 9, socks: ["five", "three", "one"] }, 5, drawer), ["five"]);
});

test("what would take a guess stays unnamed", () => {
  assert.equal(restack({ total: 8, socks: ["five", "three"] }, 7, drawer), null); // no way by the outer sock alone
  assert.equal(restack({ total: 5, socks: ["five"] }, 7, drawer), null); // the 2 ply is in the wash
  assert.equal(restack({ total: 8, socks: ["five", "three"] }, 11, drawer), null); // the only 3 ply is on
  assert.equal(restack({ total: 6, socks: null }, 7, drawer), null); // not known before
  assert.equal(restack({ total: 6, socks: ["five"] }, 7, drawer), null); // the socks said did not make the total
});

test("from nothing, and to nothing, is known", () => {
  assert.deepEqual(restack({ total: 0, socks: [] }, 1, drawer), ["one"]);
  assert.deepEqual(restack({ total: 6, socks: null }, 0, drawer), []);
});
