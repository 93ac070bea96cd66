// What a sitting asks for: the planned tries in order, and those that come in between. Pure.

/** @import { ItemData, PageData, RoundData, StepData, Task, TaskKind, Trial } from "../../../types" */

const WARM_UPS = 2; // easier items before the first planned one; common practice, no source
/** A text or a talk is one entry; what is said in it is counted, not marked. @type {RoundData} */
const TEXT = { id: "text", form: "natural", support: "spontaneous", show: "print", times: 1, contrast: false };

/**
 * All that is planned on the page, in order: each round `times` times over the items, or the pairs; of
 * a step past sentences one entry.
 * @param {Pick<PageData, "steps" | "helper">} page
 * @returns {Task[]}
 */
export function tasks({ steps, helper }) {
  return steps.flatMap((step) => tasksOf(step, helper !== "self"));
}

/** @param {StepData} step @param {boolean} helped @returns {Task[]} */
function tasksOf(step, helped) {
  const common = { kind: /** @type {TaskKind} */ ("planned"), step, helped };
  if (step.passage) {
    const item = { id: TEXT.id, text: step.name, letters: [], picture: null, natural: null, long: null };
    return [{ ...common, round: TEXT, number: 1, item, pair: null, first: true }];
  }
  return step.rounds.flatMap((round, index) =>
    Array.from({ length: round.times }, (_, pass) =>
      entries(step, round, pass).map((entry, place) => ({
        ...common, round, number: index + 1, ...entry, first: pass === 0 && place === 0,
      })),
    ).flat(),
  );
}

/**
 * What one pass goes over. Of a pair without pictures to choose from one word is heard and said, the
 * other in the next pass.
 * @param {StepData} step @param {RoundData} round @param {number} pass
 * @returns {Pick<Task, "item" | "pair">[]}
 */
function entries({ items, pairs, imitated }, { contrast, support }, pass) {
  if (!contrast) return items.map((item) => ({ item, pair: null }));
  if (support !== "imitation") return pairs.map((pair) => ({ item: pair[0], pair }));
  return imitated.map((pair, place) => ({ item: pair[(pass + place) % 2], pair: null }));
}

/**
 * So many tasks from one on; after the last comes the first.
 * @param {readonly Task[]} all @param {number} from @param {number} left
 */
export function part(all, from, left) {
  const at = all.length ? from % all.length : 0;
  return [...all.slice(at), ...all.slice(0, at)].slice(0, left);
}

/** The step to go back to, if it has items. @param {readonly StepData[]} steps @param {StepData} step */
export function stepBefore(steps, step) {
  return steps.find(({ id, items }) => id === step.easier && items.length > 0) ?? null;
}

/** An easier item or two before a task. @param {readonly StepData[]} steps @param {Task | undefined} first */
export function warmUp(steps, first) {
  const before = first && stepBefore(steps, first.step);
  return before ? before.items.slice(0, WARM_UPS).map((item) => imitated("warm-up", before, item, first.helped)) : [];
}

/** An item to hear and say, out of turn. @param {TaskKind} kind @param {StepData} step @param {ItemData} item @param {boolean} helped @returns {Task} */
export function imitated(kind, step, item, helped) {
  const spoken = step.rounds.filter(({ contrast }) => !contrast);
  const round = spoken.find(({ support }) => support === "imitation") ?? spoken[0] ?? TEXT;
  return {
    kind, step, item, helped, number: 1, pair: null, first: false,
    round: { ...round, support: "imitation", form: item.natural || !item.long ? "natural" : "long" },
  };
}

/** The same task with the model back, in the long form where there is one. @param {Task} task @returns {Task} */
export function withHelp(task) {
  if (task.kind !== "planned" || task.pair || task.step.passage) return task;
  const form = task.item.long ? "long" : task.round.form;
  return { ...task, round: { ...task.round, support: "imitation", form } };
}

/**
 * The clip of an item in the form that a round asks for; null where the helper, if there is one, says
 * it. A natural clip is no model for a long round.
 * @param {ItemData} item @param {Pick<RoundData, "form">} round
 */
export const clipOf = (item, round) => (round.form === "long" ? item.long : item.natural);

/** Every clip that a task may play: one, or those of a pair. @param {Task} task */
export function clipsOf({ round, item, pair }) {
  return (pair ?? [item]).flatMap((each) => clipOf(each, round)?.src ?? []);
}

/** The clip by which the sound is tried out; null where nothing is spoken. @param {Pick<PageData, "steps">} page */
export function testClip({ steps }) {
  const items = steps.flatMap((step) => step.items);
  return items.reduceRight((/** @type {ItemData["natural"]} */ found, item) => found ?? item.natural ?? item.long, null);
}

/**
 * How many tasks of one step are done that was left: the longest beginning of `all` that the last
 * trials of this step repeat; 0 when they finished it.
 * @param {readonly Task[]} all
 * @param {readonly Trial[]} trials
 */
export function resumeIndex(all, trials) {
  const step = trials.filter((trial) => trial.step === all[0]?.step.id && !trial.repeat);
  for (let done = Math.min(step.length, all.length); done > 0; done--) {
    const tail = step.slice(-done);
    if (tail.every((t, i) => t.round === all[i].round.id && includesItem(all[i], t.item))) return done % all.length;
  }
  return 0;
}

/** Whether a task asks for an item, or for a pair that holds it. @param {Task} one @param {string} id */
const includesItem = ({ item, pair }, id) => (pair ?? [item]).some((each) => each.id === id);
