// Where a run stands: questions to it, and the steps that every part of it takes. Pure.

import { MAX_TRY_MS } from "./record.js";
import { clipOf, withHelp } from "./tasks.js";

/** @import { Run, StepData, Support, Task, Trial } from "../../../types" */

/**
 * A run over the planned tasks.
 * @param {readonly Task[]} planned
 * @param {object} [options]
 * @param {readonly Task[]} [options.warmUp]
 * @param {readonly StepData[]} [options.steps]  all that are known, to find easier ones
 * @param {number} [options.breath]  long holds in a row before a rest
 * @param {number} [options.limitMs]  after so much time it ends; 0 for never
 * @param {number} [options.before]  planned tries done before
 * @param {number} [options.ms]  of the last mark before it, since the sitting began
 * @returns {Run}
 */
export function startRun(planned, { warmUp = [], steps = [], breath = 5, limitMs = 0, before = 0, ms = 0 } = {}) {
  return askFor({
    tasks: [...warmUp, ...planned], at: 0, phase: "ask", interlude: null, queued: [], played: false, waited: false, again: false,
    chosen: null, reported: null, own: null, mark: null, ms, usedMs: 0, limitMs, late: 0, trials: [], tallies: [],
    missesFrom: 0, holdsFrom: 0, windowFrom: 0, help: false, stayed: false, eased: 0, end: "", spoken: false, breath, steps,
    before, planned: planned.length, done: 0, paused: null, repeats: false,
  });
}

/** @param {Run} run */
export const isOver = (run) => run.phase === "done" || run.phase === "stopped";

/** @param {Run} run @returns {Task | undefined} */
export const task = (run) => run.tasks[run.at];

/** The clip that is the model of a task; null where the helper says it. @param {Run} run @param {Task} one */
export const modelOf = (run, one) => (run.spoken ? null : clipOf(one.item, one.round));

/** Whether a model comes before the try: a clip, or the helper's own voice. @param {Run} run */
export function needsModel(run) {
  const now = task(run);
  if (!now || now.pair || now.round.support === "spontaneous") return false;
  return Boolean(modelOf(run, now)) || now.helped;
}

/** Whether a mark may be given: not before the model has ended or was declined. @param {Run} run */
export function awake(run) {
  if (task(run)?.step.passage) return false;
  if (run.phase === "ask") return !needsModel(run);
  return ["say", "marked", "again", "amend"].includes(run.phase);
}

/** Whether the client is asked first what the try was like. @param {Run} run */
export function clientFirst(run) {
  const now = task(run);
  return Boolean(now?.step.judges && now.helped && !now.pair && run.own === null) && awake(run) && (run.phase === "say" || run.phase === "ask");
}

/**
 * The support that was given in fact, which is what the record holds, whatever was planned. A model
 * right before the try makes it an imitation; a model that was declined was none.
 * @param {Support} planned
 * @param {Pick<Run, "played" | "waited" | "again">} state
 * @returns {Support}
 */
export function actualSupport(planned, { played, waited, again }) {
  if (!played) return "spontaneous";
  return planned === "delayed" && waited && !again ? "delayed" : "imitation";
}

/**
 * The last try and its mark, which may be changed or heard once more while nothing else is heard. Of a
 * pair both had their look: it stays.
 * @param {Run} run @returns {{ task: Task, trial: Trial } | null}
 */
export function lastMarked(run) {
  const [done, trial] = [run.tasks[run.at - 1], run.trials[run.trials.length - 1]];
  const fits = done && trial && !done.pair && trial.item === done.item.id && trial.step === done.step.id;
  return fits && ["ask", "say", "interlude", "done", "stopped"].includes(run.phase) ? { task: done, trial } : null;
}

/** The task itself, as if nothing had happened yet; with the model where help is needed. @param {Run} run @returns {Run} */
export function askFor(run) {
  const tasks = run.help ? run.tasks.map((one, at) => (at === run.at ? withHelp(one) : one)) : run.tasks;
  return {
    ...run, tasks, phase: "ask", interlude: null, queued: [], played: false, waited: false, again: false,
    chosen: null, reported: null, own: null, mark: null, repeats: false,
  };
}

/** At a moment of the sitting; what was no rest uses the minutes. @param {Run} run @param {number} ms @param {number} [longest] @returns {Run} */
export function spent(run, ms, longest = MAX_TRY_MS) {
  return { ...run, ms: Math.max(run.ms, ms), usedMs: run.usedMs + Math.min(Math.max(0, ms - run.ms), longest) };
}
