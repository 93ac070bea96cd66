// Sittings -> few bytes, nothing lost. Pure. The format, as builder/practice/unpack.py reads it:
//
// A number is a varint: seven bits a byte, the lowest first, 128 set where more follow. "Signed": 2n for
// n >= 0, else -2n - 1. A choice is its place in one of the lists below; they only ever grow at the end.
//
//   1                                        the version
//   texts      count, then each: its length in bytes, UTF-8
//   questions  count, then each: step, round, item (places among the texts), form
//   sittings   count, then each: site, plan, practice, note, zone (texts); start, signed, in seconds of the local clock
//              since the sitting before (the first: since 1970); time, helper, end; began, done; how many
//              trials, how many tallies
//   trials     of all sittings together, column by column, since a column is alike and so grows small:
//              question, signed, less the one before less 1; then what was marked: mark + 4 x support +
//              16 x repeat (0 absent, 1 yes, 2 no) + 64 x own (0 absent, else its mark + 1) +
//              512 if chosen + 1024 if heard; then chosen and heard (texts), where they are;
//              then ms less that of the trial before in its sitting: its 256s, signed
//   tallies    each: step; words, targets, slipped, each plus 1, 0 for null; later; ms
//   at last what is as good as random, and so never squeezed:
//   ids        of each sitting: 16 bytes
//   ms         of each trial: what is over the 256s, a byte

import { MARKS } from "./record.js";

/** @import { Sitting, Tally, Trial } from "../../../types" */

const VERSION = 1;
const FORMS = ["long", "natural"];
const SUPPORTS = ["imitation", "delayed", "spontaneous"];
const TIMES = ["morning", "midday", "afternoon", "evening"];
const ROLES = ["home", "other home", "school", "self"];
const ENDS = ["", "done", "time", "enough", "hard"];
const START = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d)([+-]\d\d:\d\d)$/;
const MOST = 2 ** 50; // a number that stays whole when it is doubled

/**
 * The same sittings always give the same bytes. `random`: how many of the last are as good as random;
 * `left`: how many sittings are no whole record and are not in them.
 * @param {readonly Sitting[]} kept
 * @returns {{ bytes: Uint8Array, random: number, left: number }}
 */
export function pack(kept) {
  const sittings = kept.map(filled).filter(whole);
  const [texts, questions] = [table(), table()];
  /** @type {number[][]} */
  const [rows, asked, marked, words, moments, tallies, ids, over] = Array.from({ length: 8 }, () => []);
  let [second, last] = [0, -1];
  for (const sitting of sittings) {
    const [, date, zone] = /** @type {RegExpExecArray} */ (START.exec(sitting.start));
    const start = Date.parse(`${date}Z`) / 1000;
    for (let at = 0; at < 32; at += 2) ids.push(parseInt(sitting.id.slice(at, at + 2), 16));
    for (const text of [sitting.site, sitting.plan, sitting.practice, sitting.note, zone]) number(rows, texts.place(text));
    signed(rows, start - second);
    second = start;
    const choices = [TIMES.indexOf(sitting.time), ROLES.indexOf(sitting.helper), ENDS.indexOf(sitting.end)];
    for (const n of [...choices, sitting.began, sitting.done, sitting.trials.length, sitting.tallies.length]) number(rows, n);
    let ms = 0;
    for (const trial of sitting.trials) {
      const names = [trial.step, trial.round, trial.item].map(texts.place);
      const question = questions.place([...names, FORMS.indexOf(trial.form)].join());
      signed(asked, question - last - 1);
      last = question;
      number(marked, marksOf(trial));
      for (const word of [trial.chosen, trial.heard]) if (word) number(words, texts.place(word));
      signed(moments, Math.floor((trial.ms - ms) / 256));
      over.push((((trial.ms - ms) % 256) + 256) % 256);
      ms = trial.ms;
    }
    for (const { step, words: read, targets, slipped, later, ms: at } of sitting.tallies) {
      const counts = [read, targets, slipped].map((n) => (n === null ? 0 : n + 1));
      for (const n of [texts.place(step), ...counts, later ? 1 : 0, at]) number(tallies, n);
    }
  }
  /** @type {number[]} */
  const head = [VERSION];
  number(head, texts.all().length);
  for (const text of texts.all()) {
    const letters = new TextEncoder().encode(text);
    number(head, letters.length);
    for (const letter of letters) head.push(letter); // no spread: a note has many
  }
  number(head, questions.all().length);
  for (const question of questions.all()) for (const n of question.split(",")) number(head, Number(n));
  number(head, sittings.length);
  const bytes = Uint8Array.from([head, rows, asked, marked, words, moments, tallies, ids, over].flat());
  return { bytes, random: ids.length + over.length, left: kept.length - sittings.length };
}

/** Support and mark, and what is there only now and then. @param {Trial} trial */
function marksOf({ mark, support, repeat, own, chosen, heard }) {
  const rare = (repeat === undefined ? 0 : repeat ? 16 : 32) + (own ? 64 * (MARKS.indexOf(own) + 1) : 0);
  return MARKS.indexOf(mark) + 4 * SUPPORTS.indexOf(support) + rare + (chosen ? 512 : 0) + (heard ? 1024 : 0);
}

/** Texts, each once, and the place of each. */
function table() {
  /** @type {Map<string, number>} */
  const places = new Map();
  return {
    /** @param {string} text */
    place(text) {
      const known = places.get(text);
      if (known === undefined) places.set(text, places.size);
      return known ?? places.size - 1;
    },
    all: () => [...places.keys()],
  };
}

/** @param {number[]} out @param {number} n */
function number(out, n) {
  let rest = n;
  for (; rest > 127; rest = Math.floor(rest / 128)) out.push((rest % 128) + 128);
  out.push(rest);
}

/** @param {number[]} out @param {number} n */
const signed = (out, n) => number(out, n < 0 ? -2 * n - 1 : 2 * n);

/** A record of an earlier day lacks what came later. @param {Sitting} sitting @returns {Sitting} */
const filled = (sitting) => ({ ...sitting, ...lacking(sitting) });

/** @param {Sitting} sitting @returns {Partial<Sitting>} */
function lacking(sitting) {
  const defaults = { practice: "", trials: [], tallies: [], note: "", began: 0, done: 0, end: /** @type {const} */ ("") };
  return Object.fromEntries(Object.entries(defaults).map(([key, value]) => [key, Object(sitting)[key] ?? value]));
}

/** Whether it can be packed. @param {Sitting} one */
function whole(one) {
  const { id, start, trials, tallies } = one;
  return (
    [one.site, one.plan, one.practice, one.note].every(isText) &&
    /^[0-9a-f]{32}$/.test(id) && START.test(start) && Number.isFinite(Date.parse(start)) &&
    TIMES.includes(one.time) && ROLES.includes(one.helper) && ENDS.includes(one.end) &&
    [one.began, one.done].every(isCount) &&
    Array.isArray(trials) && trials.every(wholeTrial) && Array.isArray(tallies) && tallies.every(wholeTally)
  );
}

/** @param {Trial} one */
function wholeTrial(one) {
  const { mark, own, repeat } = one;
  return (
    [one.step, one.round, one.item].every(isName) && [one.chosen, one.heard].every((word) => word === undefined || isName(word)) &&
    FORMS.includes(one.form) && SUPPORTS.includes(one.support) && MARKS.includes(mark) &&
    (own === undefined || MARKS.includes(own)) && [undefined, true, false].includes(repeat) && isCount(one.ms)
  );
}

/** @param {Tally} one */
function wholeTally({ step, words, targets, slipped, ms }) {
  return isName(step) && [words, targets, slipped].every((n) => n === null || isCount(n)) && isCount(ms);
}

const isText = (/** @type {unknown} */ value) => typeof value === "string";
const isName = (/** @type {unknown} */ value) => isText(value) && value !== "";
const isCount = (/** @type {unknown} */ n) => Number.isInteger(n) && Number(n) >= 0 && Number(n) < MOST;
