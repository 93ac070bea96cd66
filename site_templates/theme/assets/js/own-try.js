// The client's own try, to be heard after the model: when it may be recorded, what a second one is, and
// what is played. Pure. Nothing is measured or judged.

import { advance } from "./rounds.js";
import { awake, task } from "./run.js";

/** @import { Run } from "../../../types" */

export const MAX_OWN_S = 6; // longer than any sentence that is practiced takes; common practice, no source
const PEAK = 0.7; // of full scale
const MAX_GAIN = 8; // more would lift the room's noise, too

/** Whether a try may be recorded now: where a mark may be given, and none was. @param {Run} run */
export function mayRecord(run) {
  const now = task(run);
  return Boolean(now?.step.hears && !now.pair && awake(run) && ["ask", "say"].includes(run.phase));
}

/** Whether a try that was recorded may be heard: before its mark, and after a miss. @param {Run} run */
export const mayCompare = (run) => mayRecord(run) || (run.phase === "again" && Boolean(task(run)?.step.hears));

/** Whoever tries again after the model was heard tries after a model, whatever was planned. @param {Run} run */
export const afterModel = (run) =>
  /** @type {const} */ (["hear", "heard", "hurried"]).reduce((now, type) => advance(now, { type }), run);

/**
 * Blocks in a row, at most MAX_OWN_S of them, as loud as a clip: one factor for all of it, which
 * changes no sound.
 * @param {readonly Float32Array[]} blocks @param {number} rate  Hz @returns {Float32Array<ArrayBuffer>}
 */
export function joined(blocks, rate) {
  const length = blocks.reduce((sum, block) => sum + block.length, 0);
  const samples = new Float32Array(length);
  let at = 0;
  for (const block of blocks) {
    samples.set(block, at);
    at += block.length;
  }
  const own = samples.slice(0, Math.round(MAX_OWN_S * rate));
  const peak = own.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const gain = peak ? Math.min(PEAK / peak, MAX_GAIN) : 1;
  return own.map((sample) => sample * gain);
}
