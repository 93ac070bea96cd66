// The practice record of one sitting, and questions to it. Pure: moments and ids come in.

/** @import { Mark, PageData, Role, Settings, Sitting, Tally, Time, Trial, VisitData } from "../../../types" */

export const MAX_TRY_MS = 60_000; // a longer gap before a mark is a rest and uses none of the minutes; common practice, no source
export const MAX_TEXT_MS = 600_000; // the same of a text or a talk; common practice, no source
export const MARKS = /** @type {const} */ (["clear", "almost", "missed", "not_tried"]);
const SITTING_GAP_MS = 20 * 60 * 1000; // a longer rest begins a new sitting; common practice, no source
/** @type {readonly Time[]} */
export const TIMES_OF_DAY = ["morning", "midday", "afternoon", "evening"];
const END_HOURS = [11, 14, 17, 24]; // hour at which each of TIMES_OF_DAY ends; common practice, no source

/**
 * @param {Pick<PageData, "site" | "plan" | "practice" | "times" | "helper">} page
 * @param {Date} now
 * @param {string} id  32 random hex digits
 * @returns {Sitting}
 */
export function newSitting(page, now, id) {
  const { site, plan, practice, helper } = page;
  const time = timeOfDay(now.getHours(), page.times);
  const start = withZone(now);
  return { record: 1, id, site, plan, practice, start, time, helper, trials: [], tallies: [], note: "", began: 0, done: 0, end: "" };
}

/** Who may have listened here, where somebody does. @type {readonly Role[]} */
const HELPERS = ["home", "other home", "school"];

/**
 * Who may be chosen on a device. Where the program names several, those, since all of them were thought of,
 * and one that was chosen before; where it names one, which it also does by saying nothing, all, that one first.
 * @param {Pick<VisitData, "helper" | "other_helpers">} page
 * @param {Settings} settings
 * @returns {Role[]}
 */
export function listeners({ helper, other_helpers }, settings) {
  const chosen = HELPERS.filter((role) => role === settings.helper);
  return [...new Set([helper, ...other_helpers, ...(other_helpers.length ? chosen : HELPERS)])];
}

/**
 * Who listens on this device: as the family chose there, else as the plan has it. Who practises alone does
 * so everywhere.
 * @param {Pick<PageData, "helper">} page
 * @param {Settings} settings
 * @returns {Role}
 */
export function roleOf({ helper }, settings) {
  if (helper === "self") return helper;
  return HELPERS.find((role) => role === settings.helper) ?? helper;
}

/**
 * The days and times of who listens on this device.
 * @param {Pick<PageData, "helper" | "days" | "times" | "by_role">} page
 * @param {Settings} settings
 * @returns {Pick<PageData, "days" | "times">}
 */
export function plannedFor(page, settings) {
  const listens = roleOf(page, settings);
  const own = page.by_role.find(({ role }) => role === listens);
  return { days: own?.days ?? page.days, times: own?.times ?? page.times };
}

/**
 * The planned sitting that is nearest to the hour.
 * @param {number} hour  0 to 23
 * @param {readonly Time[]} planned
 * @returns {Time}
 */
export function timeOfDay(hour, planned) {
  const current = END_HOURS.findIndex((end) => hour < end);
  const distance = (/** @type {Time} */ time) => Math.abs(TIMES_OF_DAY.indexOf(time) - current);
  // Of two as near, the later one: at noon the morning is over.
  const sorted = [...planned].sort((a, b) => distance(a) - distance(b) || TIMES_OF_DAY.indexOf(b) - TIMES_OF_DAY.indexOf(a));
  return sorted[0] ?? TIMES_OF_DAY[current];
}

/** Local time with its zone, to the second: 2026-12-07T08:15:00-06:00. @param {Date} date */
export function withZone(date) {
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  const east = -date.getTimezoneOffset(); // minutes
  const zone = `${east < 0 ? "-" : "+"}${two(Math.floor(Math.abs(east) / 60))}:${two(Math.abs(east) % 60)}`;
  const day = `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
  return `${day}T${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}${zone}`;
}

/** Milliseconds from the start of a sitting. @param {Sitting} sitting @param {Date} now */
export function elapsed(sitting, now) {
  return Math.max(0, now.getTime() - Date.parse(sitting.start));
}

/**
 * The sitting that practice now goes on with: the latest of what is practised here, with the same
 * listener, if its last mark is not long ago. A word that was recorded anew changes nothing; the way
 * back to an easier step stays one sitting.
 * @param {readonly Sitting[]} sittings
 * @param {Pick<PageData, "practice" | "helper">} page
 * @param {Date} now
 * @returns {Sitting | null}
 */
export function unfinished(sittings, { practice, helper }, now) {
  const last = sittings.at(-1);
  if (!last || last.practice !== practice || last.helper !== helper) return null;
  const mark = Date.parse(last.start) + Math.max(last.trials.at(-1)?.ms ?? 0, talliesOf(last).at(-1)?.ms ?? 0);
  const since = now.getTime() - mark;
  return Math.abs(since) < SITTING_GAP_MS ? last : null; // a clock may have been set back
}

/** How often each mark was given, first tries alone. @param {readonly Trial[]} trials @returns {Record<Mark, number>} */
export function counts(trials) {
  const sums = { clear: 0, almost: 0, missed: 0, not_tried: 0 };
  for (const { mark, repeat } of trials) if (!repeat) sums[mark] += 1;
  return sums;
}

/** An item said once more after a miss is no second try; nor is what was not tried. @param {Trial} trial */
export const isTry = ({ mark, repeat }) => mark !== "not_tried" && !repeat;

/** How many tries there were: the figure that every page gives. @param {readonly Trial[]} trials */
export const tries = (trials) => trials.filter(isTry).length;

/**
 * Every sitting once, oldest first; of two copies the one with more trials, with more tallies, with
 * more of them confirmed, with more gone through, with an end, with a note, then the later given. The same rule as in builder/model/record.py.
 * @param {readonly Sitting[]} sittings
 * @returns {Sitting[]}
 */
export function mergeSittings(sittings) {
  /** @type {Map<string, Sitting>} */
  const latest = new Map();
  for (const sitting of sittings) {
    const known = latest.get(sitting.id);
    if (!known || holdsAsMuch(sitting, known)) latest.set(sitting.id, sitting);
  }
  return [...latest.values()].sort((a, b) => Date.parse(a.start) - Date.parse(b.start) || (a.id < b.id ? -1 : 1));
}

/** @param {Sitting} copy @param {Sitting} known */
function holdsAsMuch(copy, known) {
  const [ours, theirs] = [told(copy), told(known)];
  const at = ours.findIndex((amount, i) => amount !== theirs[i]);
  return at < 0 || ours[at] > theirs[at];
}

/** How much a copy holds, what counts most first. @param {Sitting} sitting */
function told(sitting) {
  const tallies = talliesOf(sitting);
  const { trials, note, done, end } = sitting;
  return [trials.length, tallies.length, tallies.filter(confirmed).length, done ?? 0, end ? 1 : 0, note ? 1 : 0];
}

/** A sitting that was kept before there were tallies has none. @param {Sitting} sitting @returns {Tally[]} */
const talliesOf = (sitting) => sitting.tallies ?? [];

/** Whether a figure may be made of a tally: no number of slips is no 100 %. @param {Tally} tally */
export const confirmed = ({ targets, slipped }) => targets !== null && slipped !== null;
