// Stones for work done, one path after another. Pure: what was kept comes in. A stone is never taken
// away again: each sitting lays as many as its own tries make, whatever came before or came of them.

import { isTry } from "./record.js";

/** @import { PageData, Settings, Sitting } from "../../../types" */

export const PATH = 120; // stones: about ten of each of twelve sittings in two weeks; common practice, no source
// A stone for every second try at first, then for every eighth: a short sitting shows, and a long one
// does not run away. Common practice, no source.
const [SHORT, EVERY, THEN_EVERY, MOST] = [16, 2, 8, 14];
const UNCOUNTED = SHORT; // tries that a telling or talk stands for, whose targets nobody counted

/** Whether sittings end with stones and praise here. @param {Pick<PageData, "path">} page @param {Settings} settings */
export const hasPath = ({ path }, settings) => path !== null && settings.path !== false;

/**
 * Stones of one sitting, 0 to 14; whether its tries were right counts for nothing.
 * @param {Pick<Sitting, "trials" | "tallies">} sitting
 */
export function stonesOf({ trials, tallies }) {
  const said = (tallies ?? []).reduce((sum, { targets }) => sum + (targets ?? UNCOUNTED), 0);
  const work = trials.filter(isTry).length + said;
  const [first, rest] = [Math.min(work, SHORT), Math.max(0, work - SHORT)];
  return Math.min(MOST, Math.ceil(first / EVERY) + Math.floor(rest / THEN_EVERY));
}

/**
 * The path as it lies. number: 1 for the first one. laid: its stones so far. today, fresh: all stones of
 * this day and of this sitting, which may reach back into the path before. begun: this sitting began it,
 * after a full one.
 * @typedef {{ number: number, laid: number, today: number, fresh: number, begun: boolean }} Walk
 */

/**
 * Where the stones of all sittings have come to; null before the first stone.
 * @param {readonly Sitting[]} sittings  all of the site, oldest first
 * @param {string} day  the local day, YYYY-MM-DD
 * @param {string} [now]  id of the sitting that has just ended
 * @returns {Walk | null}
 */
export function walk(sittings, day, now = "") {
  const count = (/** @type {(one: Sitting) => boolean} */ which) => sittings.filter(which).reduce((sum, one) => sum + stonesOf(one), 0);
  const all = count(() => true);
  if (all === 0) return null;
  const number = Math.ceil(all / PATH);
  const laid = all - (number - 1) * PATH;
  const [today, fresh] = [count(({ start }) => start.startsWith(day)), count(({ id }) => id === now)];
  return { number, laid, today, fresh, begun: number > 1 && fresh >= laid };
}
