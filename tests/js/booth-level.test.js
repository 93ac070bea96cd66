import assert from "node:assert/strict";
import { test } from "node:test";

import { GOOD, after, peak, share, silent, word } from "../../site_templates/booth/js/level.js";

const block = (size) => Float32Array.of(0, size, -size / 2);

test("the peak in decibels, whatever its sign", () => {
  assert.equal(peak(block(1)), 0);
  assert.ok(Math.abs(peak(block(-0.5)) + 6.02) < 0.01);
  assert.equal(peak(block(0)), -60);
  assert.equal(peak(new Float32Array()), -60);
});

test("words from nothing to too much", () => {
  assert.deepEqual([-60, -40, -12, -0.5].map(word), ["quiet", "too soft", "good", "too loud"]);
});

test("the loudest stays for a while, then the new one counts", () => {
  let level = after(silent(), block(0.5), 0.1);
  level = after(level, block(0.01), 1);
  assert.equal(word(level.high), "good");
  assert.ok(Math.abs(level.now + 40) < 0.01);
  level = after(level, block(0.01), 1);
  assert.equal(word(level.high), "too soft");
});

test("the good part lies where the word is good", () => {
  const [from, to] = GOOD;
  assert.ok(0 < from && from < to && to < 1);
  assert.ok(share(-20) > from && share(-20) < to);
  assert.deepEqual([share(-Infinity), share(-60), share(0)], [0, 0, 1]);
});
