// A contrast round: the client picks one of two words in secret, the helper tells which was heard. Pure.

import { actualSupport, spent, task } from "./run.js";

/** @import { ItemData, Run, Task, Trial } from "../../../types" */

/** The client chose one of two in secret. @param {Run} run @param {string} item @returns {Run} */
export function chosen(run, item) {
  const known = task(run)?.pair?.some(({ id }) => id === item);
  return known && run.phase === "ask" ? { ...run, phase: "say", chosen: item } : run;
}

/** @param {Run} run @returns {Run} */
export function chooseAgain(run) {
  return run.phase === "say" && task(run)?.pair ? { ...run, phase: "ask", chosen: null } : run;
}

/** The helper reports which of two was heard. @param {Run} run @param {string} item @param {number} ms @returns {Run} */
export function reported(run, item, ms) {
  const now = task(run);
  const known = now?.pair?.some(({ id }) => id === item);
  if (!now || !known || !run.chosen || !["say", "reported"].includes(run.phase)) return run;
  const mark = item === run.chosen ? "clear" : "missed";
  /** @type {Trial} */
  const trial = { ...trialOf(now, run, ms), item: run.chosen, mark, chosen: run.chosen, heard: item };
  return { ...spent(run, ms), phase: "reported", reported: item, mark, trials: [...otherTrials(run), trial] };
}

/** A pair skipped: nothing was said. @param {Run} run @param {Task} now @param {number} ms @returns {Run} */
export function skipped(run, now, ms) {
  if (!["ask", "say", "reported"].includes(run.phase)) return run;
  /** @type {Trial} */
  const trial = { ...trialOf(now, run, ms), mark: "not_tried" };
  return { ...spent(run, ms), phase: "marked", chosen: null, reported: null, mark: trial.mark, trials: [...otherTrials(run), trial] };
}

/** @param {Task} now @param {Run} run @param {number} ms @returns {Trial} */
function trialOf(now, run, ms) {
  const { step, round, item } = now;
  return { step: step.id, round: round.id, item: item.id, form: round.form, support: actualSupport(round.support, run), mark: "missed", ms };
}

/** The trials without the one that is being corrected. @param {Run} run */
const otherTrials = (run) => (run.phase === "reported" ? run.trials.slice(0, -1) : run.trials);

/**
 * The pair of a task in the order of the screen. The sides change from pair to pair, and once more
 * for the helper: where the child's hand rests says nothing of what was chosen.
 * @param {Run} run
 * @returns {ItemData[]}
 */
export function displayOrder(run) {
  const [one, other] = task(run)?.pair ?? [];
  if (!one || !other) return [];
  const turned = run.phase === "ask" ? run.at % 2 === 1 : (run.at >> 1) % 2 === 0;
  return turned ? [other, one] : [one, other];
}
