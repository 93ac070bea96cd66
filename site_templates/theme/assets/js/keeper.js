// What this device keeps of a sitting while it goes on: written anew after every mark.

import { randomId } from "./random-id.js";
import { elapsed, newSitting, unfinished } from "./record.js";
import { isOver, task } from "./run.js";

/** @import { PageData, Run, Sitting, Store, Tally } from "../../../types" */

/**
 * @param {Store} store @param {PageData} page
 * @param {boolean} whole  whether this is the page of the whole sitting, and not of one step
 */
export function makeKeeper(store, page, whole) {
  /** @type {Sitting | null} */
  let sitting = null;
  /** @type {Pick<Sitting, "trials" | "tallies" | "done">} */
  let earlier = { trials: [], tallies: [], done: 0 };

  return {
    /**
     * A run begins: in the sitting that is under way, or in a new one. Says whether one goes on.
     * @param {readonly Sitting[]} known @param {Date} now @param {number} from  the first planned try
     * @param {boolean} another  one more sitting, whatever is under way
     */
    begin(known, now, from, another) {
      const last = another ? null : unfinished(known, page, now);
      sitting = last ?? { ...newSitting(page, now, randomId()), began: whole ? from : 0 };
      if (whole && !sitting.done) sitting = { ...sitting, began: from };
      const { trials, tallies, done } = sitting;
      earlier = { trials, tallies: tallies ?? [], done: done ?? 0 };
      return Boolean(last && last.trials.length);
    },
    /** Milliseconds since it began. @param {Date} now */
    ms: (now) => (sitting ? elapsed(sitting, now) : 0),
    /** Of the last mark before this run: time is counted from mark to mark, whichever run they belong to. */
    last: () => Math.max(0, ...[...earlier.trials, ...earlier.tallies].map(({ ms }) => ms)),
    /** As it was saved last, with what was done in it before this run; null before it begins. */
    sitting: () => sitting,
    /**
     * Whether the device keeps it.
     * @param {Run} run
     * @param {readonly Tally[]} open  of a text or talk that is under way
     * @param {string} [note]
     */
    async save(run, open, note = sitting?.note ?? "") {
      if (!sitting) return true;
      const trials = [...earlier.trials, ...run.trials];
      const tallies = [...earlier.tallies, ...run.tallies, ...open];
      const place = whole ? { done: earlier.done + gone(run), end: isOver(run) ? run.end : /** @type {const} */ ("") } : {};
      sitting = { ...sitting, trials, tallies, note, ...place };
      const something = trials.length + tallies.length > 0;
      return something ? store.save(sitting) : true;
    },
  };
}

/** Planned tries gone through: a mark is enough, whatever still shows or is said once more. @param {Run} run */
function gone(run) {
  const shows = run.repeats || ["marked", "again", "reported"].includes(run.phase);
  const marked = shows && task(run)?.kind === "planned";
  return run.done + (marked ? 1 : 0);
}
