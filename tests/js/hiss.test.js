import assert from "node:assert/strict";
import { test } from "node:test";

import { answered, current, MOST_WRONG, startCheck, TRIALS, verdict, wrong } from "../../site_templates/theme/assets/js/hiss.js";

/** A check whose sounds are those of a word of 0 (s) and 1 (sh). */
const check = (bits) => {
  const draws = [...bits].map((bit) => (bit === "0" ? 0.49 : 0.5));
  return startCheck(() => draws.shift() ?? 0);
};
const give = (start, answers) => answers.reduce(answered, start);

test("eight sounds, each left to chance", () => {
  const one = check("01101001");
  assert.deepEqual(one.sounds, ["s", "sh", "sh", "s", "sh", "s", "s", "sh"]);
  assert.equal(one.sounds.length, TRIALS);
  assert.deepEqual(current(one), { sound: "s", gain: 1 });
  assert.deepEqual(current(answered(one, "s")), { sound: "sh", gain: 1 });
});

test("each is as loud as other clips, or softer by chance, by 12 dB at most", () => {
  const draws = [...Array(TRIALS).fill(0), 0, 0.5, ...Array(6).fill(1)];
  const { gains } = startCheck(() => draws.shift());
  assert.deepEqual(gains.map((gain) => Math.round(20 * Math.log10(1 / gain))), [0, 6, ...Array(6).fill(12)]);
});

test("who hears all of them ends with both apart", () => {
  const one = check("01101001");
  const end = give(one, one.sounds);
  assert.deepEqual([verdict(end), wrong(end), current(end)], ["apart", 0, null]);
});

test("two wrong are borne, the third ends it at once", () => {
  const two = give(check("00000000"), ["sh", "s", "s", "sh", "s"]);
  assert.deepEqual([verdict(two), wrong(two)], ["open", 2]);
  assert.equal(verdict(give(two, ["s", "s", "s"])), "apart");
  const three = answered(two, "sh");
  assert.deepEqual([verdict(three), three.answers.length], ["hidden", 6]);
});

test("who cannot tell need not guess: it counts as wrong", () => {
  assert.equal(verdict(give(check("01010101"), ["unsure", "unsure", "unsure"])), "hidden");
});

test("after the end nothing changes", () => {
  const end = give(check("00000000"), ["sh", "sh", "sh"]);
  assert.equal(answered(end, "s"), end);
});

test("of all ways to guess 37 in 256 get through, as the binomial distribution has it", () => {
  const ways = Array.from({ length: 256 }, (_, n) => n.toString(2).padStart(TRIALS, "0"));
  const through = ways.filter((bits) => {
    const guesses = [...bits].map((bit) => (bit === "0" ? "s" : "sh"));
    return verdict(guesses.reduce(answered, check("00000000"))) === "apart";
  });
  assert.equal(through.length, 1 + 8 + 28);
  assert.equal(MOST_WRONG, 2);
});
