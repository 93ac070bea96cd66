import assert from "node:assert/strict";
import { test } from "node:test";

import { GOOD_RANGE, nextLevel, peakDb, meterPosition, silence, loudnessText } from "../../site_templates/recording_page/js/level.js";

const block = (size) => Float32Array.of(0, size, -size / 2);

test("the peak in decibels, whatever its sign", () => {
  assert.equal(peakDb(block(1)), 0);
  assert.ok(Math.abs(peakDb(block(-0.5)) + 6.02) < 0.01);
  assert.equal(peakDb(block(0)), -60);
  assert.equal(peakDb(new Float32Array()), -60);
});

test("words from nothing to too much", () => {
  assert.deepEqual([-60, -40, -12, -0.5].map(loudnessText), ["quiet", "too soft", "good", "too loud"]);
});

test("the loudest stays for a while, then the new one counts", () => {
  let level = nextLevel(silence(), block(0.5), 0.1);
  level = nextLevel(level, block(0.01), 1);
  assert.equal(loudnessText(level.high), "good");
  assert.ok(Math.abs(level.now + 40) < 0.01);
  level = nextLevel(level, block(0.01), 1);
  assert.equal(loudnessText(level.high), "too soft");
});

test("the good part lies where the word is good", () => {
  const [from, to] = GOOD_RANGE;
  assert.ok(0 < from && from < to && to < 1);
  assert.ok(meterPosition(-20) > from && meterPosition(-20) < to);
  assert.deepEqual([meterPosition(-Infinity), meterPosition(-60), meterPosition(0)], [0, 0, 1]);
});
