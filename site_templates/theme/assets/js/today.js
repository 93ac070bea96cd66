// What belongs to now: the sitting of this day and time, what of it is done, and where the next one
// begins, so that what time cut off comes first. Pure: no page, clock or storage.

import { MAX_TEXT_MS, MAX_TRY_MS, plannedFor, TIMES_OF_DAY, timeOfDay, unfinished, withZone } from "./record.js";

/** @import { Day, Next, PageData, Settings, Sitting, Standing, Time } from "../../../types" */

const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;
/** @type {readonly Day[]} */
const DAYS = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"]; // as Date.getDay() counts

/**
 * Milliseconds that were practised, without the rests between.
 * @param {Pick<Sitting, "trials" | "tallies">} sitting
 */
export function usedMs({ trials, tallies }) {
  const ends = [
    ...trials.map(({ ms }) => ({ ms, longest: MAX_TRY_MS })),
    ...(tallies ?? []).map(({ ms }) => ({ ms, longest: MAX_TEXT_MS })),
  ].sort((a, b) => a.ms - b.ms);
  return sum(ends.map(({ ms, longest }, i) => Math.min(ms - (ends[i - 1]?.ms ?? 0), longest)));
}

/**
 * How today's sitting stands. All planned tries are one list of `total`, in the plan's order; a text or
 * a talk is one of them. Only sittings of this very practice count, wherever a page of it was open.
 * @param {readonly Sitting[]} sittings  oldest first
 * @param {Pick<PageData, "practice" | "times" | "days" | "by_role" | "helper" | "minutes" | "estimate" | "planned_days">} page
 * @param {Settings} settings
 * @param {Date} now
 * @param {number} total
 * @returns {Standing}
 */
export function standing(sittings, page, settings, now, total) {
  const ours = sittings.filter(({ practice }) => practice === page.practice);
  const { days, times } = plannedFor(page, settings);
  const slot = slotOf(ours, { practice: page.practice, times }, now);
  const here = ours.filter(({ start, time }) => time === slot.time && start.startsWith(slot.day));
  const used = sum(here.map(usedMs));
  const gone = sum(here.map(doneIn));
  const over = gone >= total || used >= page.minutes * MINUTE_MS || here.some(({ end }) => end === "done" || end === "time");
  const done = here.some(somethingIn) && over;
  const begun = here.some(somethingIn) && !over;
  const isDay = days.includes(DAYS[now.getDay()]);
  const left = begun ? total - gone : total;
  const minutesLeft = begun ? atLeastOne(page.minutes - used / MINUTE_MS) : page.minutes;
  const kind = settings.paused ? "paused" : done ? "done" : begun ? "begun" : isDay ? "ready" : "free";
  return {
    kind,
    time: slot.time,
    from: nextFrom(ours, total),
    left,
    minutesLeft,
    about: Math.min(minutesLeft, atLeastOne((page.estimate * left) / total)),
    newSheet: daysAreOver(ours, page.planned_days, now),
    next: kind === "done" || kind === "free" ? nextPlanned({ days, times }, slot, now) : null,
  };
}

/**
 * The local day and the time of day of the sitting that is under way, else those of now: who begins
 * just before two o'clock or midnight and stops after it has practised once, not twice.
 * @param {readonly Sitting[]} ours @param {Pick<PageData, "practice" | "times">} page @param {Date} now
 * @returns {{ day: string, time: Time }}
 */
function slotOf(ours, { practice, times }, now) {
  const last = ours.at(-1);
  const going = last && unfinished(ours, { practice, helper: last.helper }, now);
  if (going) return { day: going.start.slice(0, 10), time: going.time };
  return { day: withZone(now).slice(0, 10), time: timeOfDay(now.getHours(), times) };
}

/**
 * Where the next run begins: where the latest one left off, at the beginning after a whole one. What was
 * practised on a step's own page moves nothing on.
 * @param {readonly Sitting[]} ours @param {number} total
 */
function nextFrom(ours, total) {
  const last = ours.filter((sitting) => doneIn(sitting) > 0).at(-1);
  if (!last || doneIn(last) >= total) return 0;
  return ((last.began ?? 0) + doneIn(last)) % total;
}

/**
 * The planned sitting after the one of `slot`, by days and times alone: a page knows no dates.
 * @param {Pick<PageData, "days" | "times">} page @param {{ day: string, time: Time }} slot @param {Date} now
 * @returns {Next | null}
 */
function nextPlanned({ days, times }, slot, now) {
  const [after, since] = [TIMES_OF_DAY.indexOf(slot.time), daysBetween(slot.day, now)];
  const first = new Date(slot.day).getUTCDay();
  for (let ahead = 0; ahead <= DAYS.length; ahead++) {
    const day = DAYS[(first + ahead) % DAYS.length];
    const time = times.find((one) => ahead > 0 || TIMES_OF_DAY.indexOf(one) > after);
    if (time && days.includes(day)) return { days: ahead - since, day, time };
  }
  return null;
}

/**
 * Whether the planned days have gone by since the first sitting of this plan. A page knows no dates, so
 * it cannot say when the visit is; who begins late is told as much later.
 * @param {readonly Sitting[]} ours @param {number} planned @param {Date} now
 */
function daysAreOver([first], planned, now) {
  return Boolean(first) && daysBetween(first.start.slice(0, 10), now) >= planned;
}

/** Days of the calendar from one, YYYY-MM-DD, to that of a moment. @param {string} day @param {Date} now */
const daysBetween = (day, now) => Math.round((Date.parse(withZone(now).slice(0, 10)) - Date.parse(day)) / DAY_MS);

/** Planned tries gone through; a sitting kept by an earlier version does not say. @param {Sitting} sitting */
const doneIn = ({ done }) => done ?? 0;

/** @param {Sitting} sitting */
const somethingIn = ({ trials, tallies }) => trials.length > 0 || (tallies ?? []).length > 0;

/** Whole minutes, as a family is told of them. @param {number} minutes */
const atLeastOne = (minutes) => Math.max(1, Math.round(minutes));

/** @param {readonly number[]} numbers */
const sum = (numbers) => numbers.reduce((a, b) => a + b, 0);
