// When a sitting gets easier, and when it may be as planned again: questions to the trials. Pure.
// Fewer than half right is no practice but drilling an error; the numbers are common practice, no source.

import { isTry } from "./record.js";

/** @import { Trial } from "../../../types" */

const WINDOW = 10; // tries that are looked at
const MAX_CLEAR = 4; // of these: no more than so many clear is too hard
const CLEAR_TO_RETURN = 4; // in a row in the easier step
const CLEAR_WITHOUT_HELP = 2; // in a row with the model back

/** @param {readonly Trial[]} trials */
const tried = (trials) => trials.filter(isTry);

/** At most four clear in the last ten; `almost` is not clear here. @param {readonly Trial[]} trials */
export function tooHard(trials) {
  const last = tried(trials).slice(-WINDOW);
  return last.length === WINDOW && last.filter(({ mark }) => mark === "clear").length <= MAX_CLEAR;
}

/** Whether the easier step has gone well for long enough. @param {readonly Trial[]} trials */
export const mayReturn = (trials) => clearInARow(trials) >= CLEAR_TO_RETURN;

/** Whether the model can go again. @param {readonly Trial[]} trials */
export const mayGoUnaided = (trials) => clearInARow(trials) >= CLEAR_WITHOUT_HELP;

/** @param {readonly Trial[]} trials */
const clearInARow = (trials) => lastOnes(tried(trials), ({ mark }) => mark === "clear").length;

/** Misses in a row; what was not tried, or tried once more, neither counts nor breaks the row. @param {readonly Trial[]} trials */
const missesInARow = (trials) => lastOnes(tried(trials), ({ mark }) => mark === "missed");

/** How many misses in a row. @param {readonly Trial[]} trials */
export const misses = (trials) => missesInARow(trials).length;

/** Whether one of them was said without a model. @param {readonly Trial[]} trials */
export const unheard = (trials) => missesInARow(trials).some(({ support }) => support === "spontaneous");

/** Long holds in a row. @param {readonly Trial[]} trials */
export function holds(trials) {
  const long = lastOnes(trials, ({ form }) => form === "long");
  return long.filter(({ mark }) => mark !== "not_tried").length;
}

/** Whether the last of what was tried went well, or nothing was tried. @param {readonly Trial[]} trials */
export function endsWell(trials) {
  const last = trials.filter(({ mark }) => mark !== "not_tried").at(-1);
  return !last || last.mark === "clear";
}

/** The end of a list that is such. @param {readonly Trial[]} trials @param {(trial: Trial) => boolean} isSuch */
function lastOnes(trials, isSuch) {
  let at = trials.length;
  while (at > 0 && isSuch(trials[at - 1])) at -= 1;
  return trials.slice(at);
}
