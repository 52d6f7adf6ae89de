// Which way? What handouts say an answer can mean (hospital and clinic handouts, read), and the trap at the end.
import assert from "node:assert/strict";
import { test } from "node:test";
import { answers, STEPS, weigh } from "../src/whichway/weigh";
import { way } from "../src/words/en/way";

test("pressure at the lower kneecap and an easy way in are signs of sinking", () => {
  assert.equal(weigh("transtibial", ["lower_kneecap", "easy_in"]).verdict, "deep");
});

test("pressure on the bump below the kneecap and a long leg are signs of sitting high", () => {
  assert.equal(weigh("transtibial", ["tubercle", "leg_long"]).verdict, "high");
});

test("above the knee, pressure in the groin is a sign of sinking", () => {
  assert.equal(weigh("transfemoral", ["groin"]).verdict, "deep");
});

test("pain at the end alone points neither way, and is told beside any other answer", () => {
  assert.equal(weigh("transtibial", ["end"]).verdict, "trap");
  const both = weigh("transtibial", ["end", "kneecap_sunk"]);
  assert.deepEqual([both.verdict, both.end], ["deep", true]);
});

test("answers both ways are said to be mixed, and no answer says nothing", () => {
  assert.equal(weigh("transtibial", ["leg_short", "leg_long"]).verdict, "mixed");
  assert.equal(weigh("transtibial", []).verdict, "none");
});

test("every level asks at each step, every answer has words, and none is of another level", () => {
  for (const level of ["transtibial", "transfemoral", "knee_disarticulation"] as const) {
    for (const step of STEPS) assert.ok(answers(level).some((one) => one.step === step), `${level} ${step}`);
    for (const { id } of answers(level)) assert.ok(`is_${id}` in way, id);
    assert.equal(weigh(level, ["not_an_answer"]).verdict, "none");
  }
});
