// How loud the voice is, in decibels below full scale and in words.

const FLOOR = -60; // dB; the left end of the meter
const VOICE = -45; // dB; what peaks below it is the room (common practice, no source)
const SOFT = -30; // dB; a voice that peaks below it is too soft (common practice, no source)
const LOUD = -2; // dB; a voice that peaks above it is about to be clipped (common practice, no source)
const SECONDS = 1.5; // for which the loudest stays

/** The greatest sample of a block in dB, FLOOR at least. @param {Float32Array} block */
export function peak(block) {
  const most = block.reduce((high, sample) => Math.max(high, Math.abs(sample)), 0);
  return most > 0 ? Math.max(FLOOR, 20 * Math.log10(most)) : FLOOR;
}

/** @typedef {{ now: number, high: number, age: number }} Level  dB, dB, seconds since `high` */

/** @returns {Level} */
export const silent = () => ({ now: FLOOR, high: FLOOR, age: 0 });

/** The level after a further block; the loudest of the last seconds stays. @param {Level} level @param {Float32Array} block @param {number} seconds @returns {Level} */
export function after(level, block, seconds) {
  const now = peak(block);
  const age = level.age + seconds;
  return now >= level.high || age > SECONDS ? { now, high: now, age: 0 } : { now, high: level.high, age };
}

/** What to say of the loudest. @param {number} high  dB */
export function word(high) {
  if (high > LOUD) return "too loud";
  if (high > SOFT) return "good";
  return high > VOICE ? "too soft" : "quiet";
}

/** How far the meter is filled, 0 to 1. @param {number} decibels */
export const share = (decibels) => Math.min(1, Math.max(0, (decibels - FLOOR) / -FLOOR));

/** Where the good part of the meter lies, 0 to 1. */
export const GOOD = [share(SOFT), share(LOUD)];
