// How loud the voice is, in decibels below full scale and in words.

const FLOOR_DB = -60; // the left end of the meter
const MIN_VOICE_DB = -45; // what peaks below it is the room (common practice, no source)
const MIN_GOOD_DB = -30; // a voice that peaks below it is too soft (common practice, no source)
const MAX_GOOD_DB = -2; // a voice that peaks above it is about to be clipped (common practice, no source)
const PEAK_HOLD_S = 1.5; // how long the loudest value stays

/** The greatest sample of a block in dB, FLOOR_DB at least. @param {Float32Array} block */
export function peakDb(block) {
  const most = block.reduce((high, sample) => Math.max(high, Math.abs(sample)), 0);
  return most > 0 ? Math.max(FLOOR_DB, 20 * Math.log10(most)) : FLOOR_DB;
}

/** @typedef {{ now: number, high: number, age: number }} Level  dB, dB, seconds since `high` */

/** @returns {Level} */
export const silence = () => ({ now: FLOOR_DB, high: FLOOR_DB, age: 0 });

/** The level after a further block; the loudest of the last seconds stays. @param {Level} level @param {Float32Array} block @param {number} seconds @returns {Level} */
export function nextLevel(level, block, seconds) {
  const now = peakDb(block);
  const age = level.age + seconds;
  return now >= level.high || age > PEAK_HOLD_S ? { now, high: now, age: 0 } : { now, high: level.high, age };
}

/** What to say of the loudest. @param {number} high  dB */
export function loudnessText(high) {
  if (high > MAX_GOOD_DB) return "too loud";
  if (high > MIN_GOOD_DB) return "good";
  return high > MIN_VOICE_DB ? "too soft" : "quiet";
}

/** How far the meter is filled, 0 to 1. @param {number} decibels */
export const meterPosition = (decibels) => Math.min(1, Math.max(0, (decibels - FLOOR_DB) / -FLOOR_DB));

/** Where the good part of the meter lies, 0 to 1. */
export const GOOD_RANGE = [meterPosition(MIN_GOOD_DB), meterPosition(MAX_GOOD_DB)];
