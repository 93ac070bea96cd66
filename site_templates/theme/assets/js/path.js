// Where a run goes when a task is over: on, to help, to an easier step and back, to its end. Pure.

import { endsWell, holds, mayGoUnaided, mayReturn, misses, tooHard, unheard } from "./help.js";
import { askFor, needsModel, task } from "./run.js";
import { imitated, stepBefore, withHelp } from "./tasks.js";

/** @import { End, Interlude, Run, Task } from "../../../types" */

const MAX_LATE = 3; // tries past the time in search of a clear one; common practice, no source

/** The task is over. @param {Run} run @returns {Run} */
export function onward(run) {
  const left = /** @type {Task} */ (task(run));
  return settled({ ...run, at: run.at + 1, done: run.done + (left.kind === "planned" ? 1 : 0) });
}

/** What comes now, by the task before. @param {Run} run @returns {Run} */
export function settled(run) {
  const left = run.tasks[run.at - 1];
  if (left.kind === "closing") return over(run, run.end);
  const well = Boolean(left.step.passage) || endsWell(run.trials);
  const next = task(run);
  if (run.limitMs && run.usedMs >= run.limitMs) return timeUp(run, well && left.kind !== "warm-up", left);
  if (left.kind === "easier") return inEasier(run, left);
  if (!next) return well ? over(run, "done") : closing(run, "done");
  if (left.kind === "warm-up" || next.step.id !== left.step.id) return inTurn(afresh({ ...run, help: false }), next);
  return inTurn(run, next);
}

/** What stands between here and the next task; too hard a second time it ends. @param {Run} run @param {Task} next @returns {Run} */
function inTurn(run, next) {
  const tooLow = tooHard(run.trials.slice(run.windowFrom));
  if (tooLow && (run.eased > 0 || run.stayed)) return closing(run, "hard");
  const missed = !run.stayed && misses(run.trials.slice(run.missesFrom)) >= next.step.misses;
  const back = (tooLow || (missed && !canHelp(run, next))) && wayBack(run);
  /** @type {[Interlude, boolean][]} */
  const all = [
    ["easier", Boolean(back)],
    ["hard", !back && (tooLow || missed)],
    ["breath", holds(run.trials.slice(run.holdsFrom)) >= run.breath],
    ["round", next.first],
  ];
  const unaided = run.help && mayGoUnaided(run.trials.slice(run.missesFrom));
  return after({ ...run, help: run.help && !unaided, stayed: run.stayed && !unaided, queued: all.filter(([, wanted]) => wanted).map(([name]) => name) });
}

/** Whether a model makes anything of it easier: one more, a longer one, or one that was declined. @param {Run} run @param {Task} next */
function canHelp(run, next) {
  const { support, form } = withHelp(next).round;
  const declined = needsModel(run) && unheard(run.trials.slice(run.missesFrom));
  return !run.help && (support !== next.round.support || form !== next.round.form || declined);
}

/** The next interlude that waits, or the task itself. @param {Run} run @returns {Run} */
function after(run) {
  const [interlude, ...queued] = run.queued;
  return interlude ? { ...run, phase: "interlude", interlude, queued } : askFor(run);
}

/**
 * What an interlude was for is over. Staying with what is hard brings the model back; the easier step is
 * not offered again until two are clear in a row, and ten more that are too hard end it.
 * @param {Run} run @returns {Run}
 */
export function left(run) {
  const now = run.trials.length;
  if (run.interlude === "breath") return after({ ...run, holdsFrom: now });
  if (run.interlude === "round") return after(run);
  const low = tooHard(run.trials.slice(run.windowFrom));
  const stays = run.interlude === "easier";
  return after({
    ...run, help: true, missesFrom: now, stayed: run.stayed || stays,
    windowFrom: low || stays ? now : run.windowFrom, eased: run.eased + (low ? 1 : 0),
  });
}

/** The step that may be gone back to now: once a sitting, and not from itself. @param {Run} run */
export function wayBack(run) {
  const now = task(run);
  return now && now.kind === "planned" && run.eased === 0 ? stepBefore(run.steps, now.step) : null;
}

/** To the easier step; where there is none, or not any more, to an end on an easy word. @param {Run} run @returns {Run} */
export function easier(run) {
  const [now, before] = [task(run), wayBack(run)];
  if (!now || !before) return closing(run, "hard");
  return inserted({ ...afresh(run), help: false, eased: 1 }, imitated("easier", before, before.items[0], now.helped));
}

/** Back after four clear ones in a row; what is too hard here too ends kindly. @param {Run} run @param {Task} left @returns {Run} */
function inEasier(run, left) {
  const since = run.trials.slice(run.windowFrom);
  if (mayReturn(since)) return askFor(afresh(run));
  if (tooHard(since) || misses(since) >= left.step.misses) return closing(run, "hard");
  const { items } = left.step;
  const next = items[(items.indexOf(left.item) + 1) % items.length];
  return inserted(run, { ...left, item: next });
}

/** After a success it ends; else it goes on in search of one, and then asks for an easy word. @param {Run} run @param {boolean} well @param {Task} left @returns {Run} */
function timeUp(run, well, left) {
  if (well) return over(run, task(run) ? "time" : "done");
  if (run.late >= MAX_LATE || left.kind === "easier" || !task(run)) return closing(run, task(run) ? "time" : "done");
  return askFor({ ...run, late: run.late + 1 });
}

/** One easy word, then the end. @param {Run} run @param {End} end @returns {Run} */
function closing(run, end) {
  const word = easyWord(run);
  const closed = { ...run, tasks: run.tasks.slice(0, run.at), help: false, end };
  return word ? inserted(closed, word) : over(closed, end);
}

/** What was clear last, else an item of an easier step, else the first that is there. @param {Run} run @returns {Task | null} */
function easyWord(run) {
  const words = run.tasks.filter((one) => !one.pair && !one.step.passage);
  const clear = run.trials.filter(({ mark, chosen }) => mark === "clear" && !chosen).at(-1);
  const known = clear && words.find((one) => one.item.id === clear.item && one.step.id === clear.step);
  if (known) return imitated("closing", known.step, known.item, known.helped);
  const now = task(run) ?? run.tasks[run.at - 1];
  const step = now && (stepBefore(run.steps, now.step) ?? now.step);
  return step?.items.length ? imitated("closing", step, step.items[0], now.helped) : null;
}

/** @param {Run} run @param {Task} one @returns {Run} */
const inserted = (run, one) => askFor({ ...run, tasks: [...run.tasks.slice(0, run.at), one, ...run.tasks.slice(run.at)] });

/** What was counted so far counts no more. @param {Run} run @returns {Run} */
const afresh = (run) => ({ ...run, windowFrom: run.trials.length, missesFrom: run.trials.length, stayed: false });

/** @param {Run} run @param {End} end @returns {Run} */
const over = (run, end) => ({ ...run, phase: "done", interlude: null, queued: [], end });
