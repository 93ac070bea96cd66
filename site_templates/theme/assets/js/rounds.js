// A run through the rounds of one step, as a reducer. Pure: no DOM, no clock, no storage.

/** @import { Event, Interlude, ItemData, Mark, PageData, RoundData, Run, Support, Task, Trial } from "../../../types" */

/**
 * Everything a run asks for, in order: each round `times` times over the items, or the pairs.
 * @param {Pick<PageData, "step" | "helper" | "rounds" | "items" | "pairs" | "imitated">} page
 * @returns {Task[]}
 */
export function tasks(page) {
  return page.rounds.flatMap((round, index) =>
    Array.from({ length: round.times }, (_, pass) =>
      entries(page, round, pass).map((entry, place) => ({
        step: page.step.id,
        round,
        number: index + 1,
        ...entry,
        helped: page.helper !== "self",
        first: pass === 0 && place === 0,
      })),
    ).flat(),
  );
}

/**
 * What one pass goes over. Of a pair without pictures to choose from one word is heard and said, the
 * other in the next pass.
 * @param {Pick<PageData, "items" | "pairs" | "imitated">} page @param {RoundData} round @param {number} pass
 * @returns {Pick<Task, "item" | "pair">[]}
 */
function entries({ items, pairs, imitated }, { contrast, support }, pass) {
  if (!contrast) return items.map((item) => ({ item, pair: null }));
  if (support !== "imitation") return pairs.map((pair) => ({ item: pair[0], pair }));
  return imitated.map((pair, place) => ({ item: pair[(pass + place) % 2], pair: null }));
}

/**
 * The clip of an item in the form that a round asks for; null where the helper, if there is one, says
 * it. A natural clip is no model for a long round.
 * @param {ItemData} item @param {Pick<RoundData, "form">} round
 */
export const clipOf = (item, round) => (round.form === "long" ? item.long : item.natural);

/** The clip by which the sound is tried out; null where nothing is spoken. @param {Pick<PageData, "items">} page */
export const testClip = ({ items }) =>
  items.reduceRight((/** @type {ItemData["natural"]} */ found, item) => found ?? item.natural ?? item.long, null);

/**
 * A run that begins at task `at`.
 * @param {readonly Task[]} all
 * @param {{ misses: number, breath: number }} limits  both in a row
 * @param {number} at
 * @returns {Run}
 */
export function startRun(all, limits, at = 0) {
  return askFor({
    tasks: all, at, phase: "ask", interlude: null, queued: [], played: false, waited: false, again: false,
    chosen: null, reported: null, mark: null, ms: 0, missesFrom: 0, holdsFrom: 0, trials: [], limits, paused: null, repeats: false,
  });
}

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
    case "said": return hearing(run).phase === "hear" ? heard(hearing(run)) : run;
    case "declined": return run.phase === "ask" && needsModel(run) ? { ...run, phase: "say" } : run;
    case "waited": return run.phase === "wait" ? { ...run, phase: "say", waited: true } : run;
    case "hurried": return run.phase === "wait" ? { ...run, phase: "say" } : run;
    case "mark": return run.phase === "amend" ? amended(run, event.mark) : marked(run, event.mark, event.ms);
    case "change": return lastMarked(run) ? amending(run) : run;
    case "keep": return run.phase === "amend" ? resumed(run) : run;
    case "choose": return choose(run, event.item);
    case "choose-again": return run.phase === "say" && task(run)?.pair ? { ...run, phase: "ask", chosen: null } : run;
    case "reported": return reported(run, event.item, event.ms);
    case "look": return run.phase === "reported" ? { ...run, phase: "marked" } : run;
    case "next": return run.phase === "marked" ? next(run) : run;
    case "retry": return run.phase === "again" ? { ...run, phase: "say", played: true, again: true, repeats: true, mark: null } : run;
    case "go-on": return run.phase === "interlude" ? left(run) : run.phase === "again" ? onward(run) : run;
    case "stop": return isOver(run) ? run : { ...run, phase: "stopped", interlude: null, queued: [], paused: null };
  }
}

/** @param {Run} run */
export const isOver = (run) => run.phase === "done" || run.phase === "stopped";

/** @param {Run} run @returns {Task | undefined} */
export const task = (run) => run.tasks[run.at];

/** Whether a model comes before the try: a clip, or the helper's own voice. @param {Run} run */
export function needsModel(run) {
  const now = task(run);
  if (!now || now.pair || now.round.support === "spontaneous") return false;
  return Boolean(clipOf(now.item, now.round)) || now.helped;
}

/** Whether a mark may be given: not before the model has ended or was declined. @param {Run} run */
export function awake(run) {
  if (run.phase === "ask") return !needsModel(run);
  return ["say", "marked", "again", "amend"].includes(run.phase);
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

/** @param {Task} now @param {Run} run */
const supportOf = (now, run) => actualSupport(now.round.support, run);

/** A clip begins; of a pair both are heard, and nothing sleeps meanwhile. @param {Run} run @returns {Run} */
function hearing(run) {
  const now = task(run);
  if (!now || !["ask", "hear", "wait", "say"].includes(run.phase)) return run;
  if (now.pair) return run.phase === "ask" ? { ...run, played: true } : run;
  return { ...run, phase: "hear", again: run.again || run.played };
}

/** The model has ended. @param {Run} run @returns {Run} */
function heard(run) {
  const waits = task(run)?.round.support === "delayed" && !run.again;
  return { ...run, played: true, phase: waits ? "wait" : "say" };
}

/** @param {Run} run @param {Mark} mark @param {number} ms @returns {Run} */
function marked(run, mark, ms) {
  const now = task(run);
  if (now?.pair) return mark === "not_tried" ? skipped(run, now, ms) : run;
  if (!now || !awake(run)) return run;
  const isCorrection = run.phase === "marked" || run.phase === "again";
  if (isCorrection && mark === run.mark) return run; // a second tap: the next word comes all the same
  const before = isCorrection ? run.trials.slice(0, -1) : run.trials;
  const support = isCorrection ? run.trials[run.trials.length - 1].support
    : supportOf(now, run);
  /** @type {Trial} */
  const trial = {
    step: now.step, round: now.round.id, item: now.item.id, form: now.round.form, support, mark, ms,
  };
  if (run.repeats) trial.repeat = true;
  return { ...run, phase: "marked", mark, ms, trials: [...before, trial] };
}

/**
 * The last try and its mark, which may be changed or heard once more while nothing else is heard. Of a
 * pair both had their look: it stays.
 * @param {Run} run @returns {{ task: Task, trial: Trial } | null}
 */
export function lastMarked(run) {
  const [done, trial] = [run.tasks[run.at - 1], run.trials[run.trials.length - 1]];
  const fits = done && trial && !done.pair && trial.item === done.item.id;
  return fits && ["ask", "say", "interlude", "done"].includes(run.phase) ? { task: done, trial } : null;
}

/** Back at the last try. @param {Run} run @returns {Run} */
function amending(run) {
  const { phase, interlude, queued } = run;
  return { ...run, at: run.at - 1, phase: "amend", interlude: null, paused: { phase, interlude, queued } };
}

/** @param {Run} run @param {Mark} mark @returns {Run} */
function amended(run, mark) {
  const last = run.trials[run.trials.length - 1];
  return resumed({ ...run, trials: [...run.trials.slice(0, -1), { ...last, mark }] });
}

/** Where it was left; what comes between is asked anew, since the mark may be another. @param {Run} run @returns {Run} */
function resumed(run) {
  const { phase, interlude, queued } = run.paused ?? { phase: "ask", interlude: null, queued: [] };
  const back = { ...run, at: run.at + 1, phase, interlude, queued, paused: null };
  return phase === "interlude" ? after({ ...back, queued: interludes(back) }) : back;
}

/** The client chose one of two in secret. @param {Run} run @param {string} item @returns {Run} */
function choose(run, item) {
  const known = task(run)?.pair?.some(({ id }) => id === item);
  return known && run.phase === "ask" ? { ...run, phase: "say", chosen: item } : run;
}

/** The helper reports which of two was heard. @param {Run} run @param {string} item @param {number} ms @returns {Run} */
function reported(run, item, ms) {
  const now = task(run);
  const known = now?.pair?.some(({ id }) => id === item);
  if (!now || !known || !run.chosen || !["say", "reported"].includes(run.phase)) return run;
  const mark = item === run.chosen ? "clear" : "missed";
  /** @type {Trial} */
  const trial = {
    step: now.step, round: now.round.id, item: run.chosen, form: now.round.form,
    support: supportOf(now, run), mark, ms, chosen: run.chosen, heard: item,
  };
  return { ...run, phase: "reported", reported: item, mark, ms, trials: [...otherTrials(run), trial] };
}

/** The trials without the one that is being corrected. @param {Run} run */
const otherTrials = (run) => (run.phase === "reported" ? run.trials.slice(0, -1) : run.trials);

/** A pair skipped: nothing was said. @param {Run} run @param {Task} now @param {number} ms @returns {Run} */
function skipped(run, now, ms) {
  if (!["ask", "say", "reported"].includes(run.phase)) return run;
  /** @type {Trial} */
  const trial = {
    step: now.step, round: now.round.id, item: now.item.id, form: now.round.form,
    support: supportOf(now, run), mark: "not_tried", ms,
  };
  const nothing = { chosen: null, reported: null, mark: trial.mark };
  return { ...run, phase: "marked", ...nothing, ms, trials: [...otherTrials(run), trial] };
}

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

/**
 * After a miss the word stays: it is said once by the helper, and once more by the client or not. No
 * item is repeated twice.
 * @param {Run} run @returns {Run}
 */
function next(run) {
  return run.mark === "missed" && !run.repeats && !task(run)?.pair ? { ...run, phase: "again" } : onward(run);
}

/** @param {Run} run @returns {Run} */
function onward(run) {
  const advanced = { ...run, at: run.at + 1 };
  if (advanced.at >= run.tasks.length) return { ...advanced, phase: "done" };
  return after({ ...advanced, queued: interludes(advanced) });
}

/** Misses in a row; what was not tried, or tried once more, neither counts nor breaks the row. @param {Run} run */
export function misses({ trials, missesFrom }) {
  const tried = trials.slice(missesFrom).filter(({ mark, repeat }) => mark !== "not_tried" && !repeat);
  return lastOnes(tried, ({ mark }) => mark === "missed").length;
}

/** Long holds in a row. @param {Run} run */
export function holds({ trials, holdsFrom }) {
  const long = lastOnes(trials.slice(holdsFrom), ({ form }) => form === "long");
  return long.filter(({ mark }) => mark !== "not_tried").length;
}

/** The end of a list that is such. @param {readonly Trial[]} trials @param {(trial: Trial) => boolean} isSuch */
function lastOnes(trials, isSuch) {
  let at = trials.length;
  while (at > 0 && isSuch(trials[at - 1])) at -= 1;
  return trials.slice(at);
}

/** @param {Run} run @returns {Interlude[]} */
function interludes(run) {
  /** @type {[Interlude, boolean][]} */
  const all = [
    ["hard", misses(run) >= run.limits.misses],
    ["breath", holds(run) >= run.limits.breath],
    ["round", Boolean(task(run)?.first)],
  ];
  return all.filter(([, wanted]) => wanted).map(([name]) => name);
}

/** What an interlude was for is over. @param {Run} run @returns {Run} */
function left(run) {
  const now = run.trials.length;
  return after({
    ...run,
    missesFrom: run.interlude === "hard" ? now : run.missesFrom,
    holdsFrom: run.interlude === "breath" ? now : run.holdsFrom,
  });
}

/** The next interlude that waits, or the task itself. @param {Run} run @returns {Run} */
function after(run) {
  const [interlude, ...queued] = run.queued;
  return interlude ? { ...run, phase: "interlude", interlude, queued } : askFor(run);
}

/** @param {Run} run @returns {Run} */
function askFor(run) {
  return {
    ...run, phase: "ask", interlude: null, queued: [], played: false, waited: false, again: false,
    chosen: null, reported: null, mark: null, ms: 0, repeats: false,
  };
}

/**
 * How many tasks of an interrupted run are done: the longest beginning of `all` that the last
 * trials of this step repeat; 0 when they finished it.
 * @param {readonly Task[]} all
 * @param {readonly Trial[]} trials
 */
export function resumeIndex(all, trials) {
  const step = trials.filter((trial) => trial.step === all[0]?.step && !trial.repeat);
  for (let done = Math.min(step.length, all.length); done > 0; done--) {
    const tail = step.slice(-done);
    const same = tail.every((t, i) => t.round === all[i].round.id && includesItem(all[i], t.item));
    if (same) return done % all.length;
  }
  return 0;
}

/** Whether a task asks for an item, or for a pair that holds it. @param {Task} one @param {string} id */
const includesItem = ({ item, pair }, id) => (pair ?? [item]).some((each) => each.id === id);
