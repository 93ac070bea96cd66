// A run through a sitting, as a reducer. Pure: no DOM, no clock, no storage.

import { chooseAgain, chosen, reported, skipped } from "./pairs.js";
import { easier, left, onward, settled } from "./path.js";
import { MAX_TEXT_MS } from "./record.js";
import { actualSupport, askFor, awake, clientFirst, isOver, lastMarked, needsModel, spent, task } from "./run.js";

/** @import { Event, Mark, Run, Tally, Trial } from "../../../types" */

/**
 * What comes after `event`. An event that makes no sense here changes nothing.
 * @param {Run} run
 * @param {Event} event
 * @returns {Run}
 */
export function advance(run, event) {
  switch (event.type) {
    case "hear": return hearing(run);
    case "heard": return run.phase === "hear" ? heard(run) : run;
    case "unheard": return ["hear", "wait"].includes(run.phase) ? askFor(run) : run;
    case "said": return said(run);
    case "declined": return run.phase === "ask" && needsModel(run) ? { ...run, phase: "say" } : run;
    case "waited": return run.phase === "wait" ? { ...run, phase: "say", waited: true } : run;
    case "hurried": return run.phase === "wait" ? { ...run, phase: "say" } : run;
    case "own": return clientFirst(run) ? { ...run, phase: "say", own: event.mark } : run;
    case "mark": return run.phase === "amend" ? amended(run, event.mark) : marked(run, event.mark, event.ms);
    case "change": return lastMarked(run) ? amending(run) : run;
    case "keep": return run.phase === "amend" ? resumed(run) : run;
    case "choose": return chosen(run, event.item);
    case "choose-again": return chooseAgain(run);
    case "reported": return reported(run, event.item, event.ms);
    case "look": return run.phase === "reported" ? { ...run, phase: "marked" } : run;
    case "text-over": return textOver(run, event.tallies);
    case "next": return run.phase === "marked" ? next(run) : run;
    case "retry": return run.phase === "again" ? retried(run) : run;
    case "go-on": return goneOn(run);
    case "too-hard": return isOver(run) ? run : easier({ ...run, phase: "ask", interlude: null, queued: [] });
    case "spoken": return isOver(run) ? run : { ...run, spoken: event.spoken };
    case "stop": return isOver(run) ? run : stopped(run);
  }
}

/** A clip begins; of a pair both are heard, and nothing sleeps meanwhile. @param {Run} run @returns {Run} */
function hearing(run) {
  const now = task(run);
  if (!now || now.step.passage || !["ask", "hear", "wait", "say"].includes(run.phase)) return run;
  if (now.pair) return run.phase === "ask" ? { ...run, played: true } : run;
  return { ...run, phase: "hear", again: run.again || run.played };
}

/** The model has ended. @param {Run} run @returns {Run} */
function heard(run) {
  const waits = task(run)?.round.support === "delayed" && !run.again;
  return { ...run, played: true, phase: waits ? "wait" : "say" };
}

/** The helper gave the model, and counted to three where that is asked. @param {Run} run @returns {Run} */
function said(run) {
  const now = hearing(run);
  if (now.phase !== "hear") return run;
  const counted = task(run)?.round.support === "delayed" && !now.again;
  return { ...heard(now), phase: "say", waited: counted };
}

/** The helper said it once; the client tries once more. @param {Run} run @returns {Run} */
const retried = (run) => ({ ...run, phase: "say", played: true, again: true, repeats: true, own: null, mark: null });

/** @param {Run} run @param {Mark} mark @param {number} ms @returns {Run} */
function marked(run, mark, ms) {
  if (run.phase === "again") return mark === "not_tried" ? run : marked(retried(run), mark, ms); // of the second try
  const now = task(run);
  if (now?.pair) return mark === "not_tried" ? skipped(run, now, ms) : run;
  if (!now || !awake(run)) return run;
  const isCorrection = run.phase === "marked";
  if (isCorrection && mark === run.mark) return run; // a second tap: the next word comes all the same
  const last = run.trials[run.trials.length - 1];
  const support = isCorrection ? last.support : actualSupport(now.round.support, run);
  /** @type {Trial} */
  const trial = {
    step: now.step.id, round: now.round.id, item: now.item.id, form: now.round.form, support, mark, ms,
  };
  if (run.repeats) trial.repeat = true;
  if (run.own && mark !== "not_tried") trial.own = run.own;
  const before = isCorrection ? run.trials.slice(0, -1) : run.trials;
  return { ...spent(run, ms), phase: "marked", mark, trials: [...before, trial] };
}

/** A text or a talk is over, and what was counted in it, each time that it was read. @param {Run} run @param {readonly Tally[]} tallies @returns {Run} */
function textOver(run, tallies) {
  if (!task(run)?.step.passage || run.phase !== "ask") return run;
  const after = tallies.reduce((now, { ms }) => spent(now, ms, MAX_TEXT_MS), run);
  return onward({ ...after, tallies: [...run.tallies, ...tallies] });
}

/** Back at the last try. @param {Run} run @returns {Run} */
function amending(run) {
  return { ...run, at: run.at - 1, phase: "amend", interlude: null, paused: placeOf(run) };
}

/** @param {Run} run @param {Mark} mark @returns {Run} */
function amended(run, mark) {
  const last = run.trials[run.trials.length - 1];
  return resumed({ ...run, trials: [...run.trials.slice(0, -1), { ...last, mark }] });
}

/** After the mark of the last try. @param {Run} run @returns {Run} */
function resumed(run) {
  return replaced({ ...run, at: run.at + 1 });
}

/** The family has had enough. A tap may slip, so where it stood is kept. @param {Run} run @returns {Run} */
function stopped(run) {
  const now = run.phase === "amend" ? resumed(run) : run;
  return { ...now, phase: "stopped", interlude: null, queued: [], end: "enough", paused: placeOf(now) };
}

/** @param {Run} run @returns {Run["paused"]} */
const placeOf = ({ phase, interlude, queued, end, paused }) => ({ phase, interlude, queued, end, paused });

/** Once more where it stood; what comes between is asked anew, since a mark may be another. @param {Run} run @returns {Run} */
function replaced(run) {
  const back = { ...run, ...run.paused };
  return back.phase === "interlude" ? settled(back) : back;
}

/**
 * After a miss the word stays: it is said once by the helper, and once more by the client or not. No
 * item is repeated twice, and the last word of a sitting not at all.
 * @param {Run} run @returns {Run}
 */
function next(run) {
  const now = task(run);
  const stays = run.mark === "missed" && !run.repeats && !now?.pair && now?.kind !== "closing";
  return stays ? { ...run, phase: "again" } : onward(run);
}

/** @param {Run} run @returns {Run} */
function goneOn(run) {
  if (run.phase === "interlude") return left(run);
  if (run.phase === "stopped" && run.paused) return replaced(run);
  return run.phase === "again" ? onward(run) : run;
}
