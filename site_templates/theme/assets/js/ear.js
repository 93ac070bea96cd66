// Four words to mark by ear, some as they should be, some with the client's error. Pure: no page, no
// clock, no storage, no Math.random. Nothing is counted: it is no test of who listens.

/** @import { EarWord, Mark } from "../../../types" */
/** One clip: of which word (its place in the list), and whether it is as it should be. @typedef {{ word: number, right: boolean }} Drawn */
/** @typedef {Exclude<Mark, "not_tried">} Heard */
/**
 * What is heard, in order, and what it was called so far. Frozen.
 * @typedef {object} Ear
 * @property {readonly Drawn[]} clips
 * @property {readonly Heard[]} marks
 */

export const CLIPS = 4;

/**
 * At least one is right and one is not, the others by chance, so neither how many are still to come nor
 * what went before tells an answer. A word comes again only when there are no others.
 * @param {number} words  how many there are, each both ways
 * @param {() => number} random  uniform in [0, 1), e.g. Math.random
 * @returns {Ear}
 */
export function startEar(words, random) {
  const chance = Array.from({ length: CLIPS - 2 }, () => random() < 0.5);
  /** @type {{ true: number[], false: number[] }} */
  const left = { true: [], false: [] };
  const clips = shuffled([true, false, ...chance], random).map((right) => {
    const of = right ? "true" : "false";
    if (!left[of].length) left[of] = shuffled([...Array(words).keys()], random);
    return { word: /** @type {number} */ (left[of].pop()), right };
  });
  return Object.freeze({ clips, marks: [] });
}

/** @param {Ear} ear @param {Heard} mark @returns {Ear} */
export function marked(ear, mark) {
  return isOver(ear) ? ear : Object.freeze({ ...ear, marks: [...ear.marks, mark] });
}

/** @param {Ear} ear */
export const isOver = (ear) => ear.marks.length >= ear.clips.length;

/**
 * Whether a mark is what this clip is called. A distortion may as well be called almost: the line is
 * drawn by the therapist, not by a page.
 * @param {Drawn} clip @param {Pick<EarWord, "between">} word @param {Heard} mark
 */
export function fits({ right }, { between }, mark) {
  return right ? mark === "clear" : mark === "missed" || (between && mark === "almost");
}

/** @template T @param {readonly T[]} list @param {() => number} random @returns {T[]} */
function shuffled(list, random) {
  const cards = [...list];
  for (let at = cards.length - 1; at > 0; at -= 1) {
    const other = Math.floor(random() * (at + 1));
    [cards[at], cards[other]] = [cards[other], cards[at]];
  }
  return cards;
}
