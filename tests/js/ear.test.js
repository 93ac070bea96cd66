import assert from "node:assert/strict";
import { test } from "node:test";

import { CLIPS, fits, isOver, marked, startEar } from "../../site_templates/theme/assets/js/ear.js";

/** A generator of Park & Miller 1988 (CACM 31:1192-1201): the same draws each time. */
function draws(seed) {
  let state = seed;
  return () => (state = (state * 48271) % 2147483647) / 2147483647;
}
const many = (words) => Array.from({ length: 4000 }, (_, n) => startEar(words, draws(n * 7919 + 11)));

test("four clips, of which at least one is right and one is not", () => {
  for (const { clips } of many(4)) {
    const right = clips.filter((clip) => clip.right).length;
    assert.equal(clips.length, CLIPS);
    assert.ok(right >= 1 && right <= 3, String(right));
  }
});

test("right ones are one, two or three as two coins fall, and as often in each place", () => {
  const all = many(4);
  const share = (holds) => all.filter(holds).length / all.length;
  // binomial, n = 2, p = 1/2: 1/4, 1/2, 1/4; four standard errors of 4000 draws are 0.03
  for (const [number, expected] of [[1, 0.25], [2, 0.5], [3, 0.25]]) {
    assert.ok(Math.abs(share(({ clips }) => clips.filter((c) => c.right).length === number) - expected) < 0.03);
  }
  for (let at = 0; at < CLIPS; at += 1) assert.ok(Math.abs(share(({ clips }) => clips[at].right) - 0.5) < 0.03);
});

test("a word comes again in the same way only when there are no others", () => {
  for (const { clips } of many(4)) assert.equal(new Set(clips.map(({ word, right }) => `${word} ${right}`)).size, CLIPS);
  for (const { clips } of many(1)) assert.deepEqual(new Set(clips.map(({ word }) => word)), new Set([0]));
  for (const { clips } of many(2)) assert.ok(clips.every(({ word }) => word === 0 || word === 1));
});

test("a right one is clear, a wrong one missed; a distortion may be called almost", () => {
  const plain = { between: false };
  const bent = { between: true };
  const called = (clip, word) => ["clear", "almost", "missed"].filter((mark) => fits(clip, word, mark));
  assert.deepEqual(called({ word: 0, right: true }, plain), ["clear"]);
  assert.deepEqual(called({ word: 0, right: true }, bent), ["clear"]);
  assert.deepEqual(called({ word: 0, right: false }, plain), ["missed"]);
  assert.deepEqual(called({ word: 0, right: false }, bent), ["almost", "missed"]);
});

test("it is over after the fourth mark, and nothing comes of a fifth", () => {
  let ear = startEar(3, draws(5));
  for (const mark of ["clear", "almost", "missed", "clear"]) {
    assert.ok(!isOver(ear));
    ear = marked(ear, mark);
  }
  assert.ok(isOver(ear));
  assert.equal(marked(ear, "clear"), ear);
});
