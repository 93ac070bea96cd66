// What a therapist asks of the practice record at a visit. Pure: sittings and the moment come in.

import { isTry, withZone } from "./record.js";

/** @import { Role, Sitting, Support, Trial } from "../../../types" */
/** @typedef {{ tries: number, clear: number }} Count */
/**
 * Of one step. `almost`: of all; `supports`: tries by the support really given; `contrast`: of words chosen from pairs;
 * `targets`: sounds inside texts and talks, each one a try. Null where there are none. `slips`: counted in texts and
 * talks of which nobody knows how many sounds they held, one number each, oldest first.
 * @typedef {{ step: string, all: Count, almost: number, supports: Partial<Record<Support, Count>>, contrast: Count | null, targets: Count | null, slips: number[] }} StepCount
 * @typedef {{ step: string, item: string, tries: number, missed: number }} Missed
 * @typedef {{ day: string, note: string }} Note
 */
/**
 * `since`: the first day of it, YYYY-MM-DD. `tries`: as the clinic's log counts them, a sound inside a text that was
 * confirmed among them, a word chosen from a pair not. `hard`: how often it ended as too hard. `helpers`: sittings by
 * who listened. `notes`: the newest first.
 * @typedef {object} Period
 * @property {string} since
 * @property {number} days
 * @property {number} sittings
 * @property {number} tries
 * @property {number} hard
 * @property {Partial<Record<Role, number>>} helpers
 * @property {StepCount[]} steps
 * @property {Missed[]} missed
 * @property {Note[]} notes
 */

const RECENT_DAYS = 14; // a visit every week or every second one; common practice, no source
const FEWEST_TRIES = 2; // one miss of one try tells nothing of a word
const MOST_MISSED = 5; // words that are read in a moment

/**
 * Of the last days, today among them, and of all that is kept; the same object where that is no more.
 * @param {readonly Sitting[]} sittings  oldest first
 * @param {Date} now
 * @returns {{ recent: Period, all: Period } | null}  null: nothing was practised
 */
export function figures(sittings, now) {
  const kept = sittings.filter(practised);
  if (!kept.length) return null;
  const all = period(sittings, dayOf(kept[0]));
  const recent = recentSittings(sittings, now);
  return { all, recent: recent.filter(practised).length < kept.length ? period(recent, firstDay(now)) : all };
}

/** @param {readonly Sitting[]} sittings @param {Date} now */
export const recentSittings = (sittings, now) => sittings.filter((sitting) => dayOf(sitting) >= firstDay(now));

/** @param {Date} now */
const firstDay = (now) => withZone(new Date(now.getFullYear(), now.getMonth(), now.getDate() - RECENT_DAYS + 1)).slice(0, 10);

/** The day as the tablet's clock had it. @param {Sitting} sitting */
const dayOf = ({ start }) => start.slice(0, 10);

/** @param {Sitting} sitting */
const practised = ({ trials, tallies }) => trials.some(isTry) || (tallies ?? []).length > 0;

/** @param {readonly Sitting[]} sittings @param {string} since @returns {Period} */
function period(sittings, since) {
  const kept = sittings.filter(practised);
  const tries = kept.flatMap(({ trials }) => trials.filter(isTry));
  const steps = stepsOf(kept, tries);
  return {
    since,
    days: new Set(kept.map(dayOf)).size,
    sittings: kept.length,
    tries: steps.reduce((sum, { all, targets }) => sum + all.tries + (targets?.tries ?? 0), 0),
    hard: sittings.filter(({ end }) => end === "hard").length,
    helpers: helpersOf(kept),
    steps,
    missed: missedOf(tries),
    notes: sittings.filter(({ note }) => note.trim()).map((one) => ({ day: dayOf(one), note: one.note.trim() })).reverse(),
  };
}

/** @param {readonly Sitting[]} sittings */
function helpersOf(sittings) {
  /** @type {Partial<Record<Role, number>>} */
  const found = {};
  for (const { helper } of sittings) found[helper] = (found[helper] ?? 0) + 1;
  return found;
}

/** In the order in which they came first. @param {readonly Sitting[]} sittings @param {readonly Trial[]} tries */
function stepsOf(sittings, tries) {
  /** @type {Map<string, StepCount>} */
  const found = new Map();
  const of = (/** @type {string} */ step) => {
    const made = found.get(step) ?? { step, all: { tries: 0, clear: 0 }, almost: 0, supports: {}, contrast: null, targets: null, slips: [] };
    found.set(step, made);
    return made;
  };
  for (const trial of tries) {
    const [count, clear] = [of(trial.step), trial.mark === "clear" ? 1 : 0];
    if (trial.chosen) {
      count.contrast = plus(count.contrast, 1, clear);
    } else {
      count.all = plus(count.all, 1, clear);
      count.almost += trial.mark === "almost" ? 1 : 0;
      count.supports[trial.support] = plus(count.supports[trial.support], 1, clear);
    }
  }
  for (const tally of sittings.flatMap(({ tallies }) => tallies ?? [])) {
    const { step, targets, slipped } = tally;
    if (slipped === null) continue; // nobody counted
    if (targets === null) of(step).slips.push(slipped);
    else if (targets) of(step).targets = plus(of(step).targets, targets, targets - slipped);
  }
  return [...found.values()];
}

/** @param {Count | null | undefined} count @param {number} tries @param {number} clear @returns {Count} */
const plus = (count, tries, clear) => ({ tries: (count?.tries ?? 0) + tries, clear: (count?.clear ?? 0) + clear });

/** Words said on their own, the most missed first. @param {readonly Trial[]} tries */
function missedOf(tries) {
  /** @type {Map<string, Missed>} */
  const found = new Map();
  for (const { step, item, mark, chosen } of tries) {
    if (chosen) continue;
    const key = `${step} ${item}`;
    const { tries: before, missed } = found.get(key) ?? { tries: 0, missed: 0 };
    found.set(key, { step, item, tries: before + 1, missed: missed + (mark === "missed" ? 1 : 0) });
  }
  return [...found.values()]
    .filter(({ tries: all, missed }) => all >= FEWEST_TRIES && missed > 0)
    .sort((a, b) => b.missed - a.missed || a.tries - b.tries)
    .slice(0, MOST_MISSED);
}
