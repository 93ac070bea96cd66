// One text or talk inside a run, as a reducer. Pure: no DOM, no clock, no storage.
//
// What is counted is targets. A tap on a word says that one more of its targets was not clear, and a
// tap after the last of them that none was: so a word with two counts two, and every tap can be
// undone by going on. Words are taken whole because letters are too small for a finger.

/** @import { PassageData, StepData, Tally } from "../../../types" */

// The same words as in builder/text/passage.py (WORD).
const WORD = /[\p{L}\p{N}]+(?:['’][\p{L}\p{N}]+)*/gu;
const MINUTE_MS = 60_000;

/**
 * ready: a talk, now or already held? going: it is read, told or talked about. ending: which word was
 * the last? confirm: is the number right? again: it is done and there is time to read once more.
 * @typedef {"ready" | "going" | "ending" | "confirm" | "again" | "done"} PassagePhase
 */

/**
 * Where one text or talk stands. Frozen; `advancePassage` makes the next one.
 * counts: targets of each word of a text that is read. slips: not clear, by word. heard: not clear in a
 * telling or talk. last: the word that was read last. number: as it stands to be confirmed; null: not
 * given yet. later: from memory. began, ms: milliseconds since the start of the sitting, of the
 * first moment and of the latest event. tallies: of what is over.
 * @typedef {object} PassageState
 * @property {string} step
 * @property {"reading" | "telling" | "talk"} level
 * @property {readonly number[]} counts
 * @property {number} minutes
 * @property {number} began
 * @property {number} ms
 * @property {PassagePhase} phase
 * @property {readonly number[]} slips
 * @property {number} heard
 * @property {number | null} last
 * @property {number | null} number
 * @property {boolean} later
 * @property {readonly Tally[]} tallies
 */

/**
 * ready: now, later (it was held already), skip (not today). going: word (a tap on it); whole (read to
 * the end) or stopped (not so far); in a telling or talk slip, take-back, over. ending: word (the
 * last one). confirm: none, more, fewer change the number; yes: it is right; uncounted: nobody knows.
 * back: from ending or confirm to where it was counted. again: once-more, next.
 * @typedef {{ type: "slip" | "take-back" | "now" | "later" | "whole" | "stopped" | "over" | "back" | "none" | "more" | "fewer" | "yes" | "uncounted" | "once-more" | "next" | "skip" } | { type: "word", word: number }} PassageEvent
 */

/**
 * @param {Pick<StepData, "id" | "level" | "passage">} step  past sentences
 * @param {number} ms  since the start of the sitting
 * @returns {PassageState}
 */
export function startPassage({ id, level, passage }, ms) {
  if (!passage || (level !== "reading" && level !== "telling" && level !== "talk")) throw new Error(`no text or talk in '${id}'`);
  const counts = level === "reading" ? passage.counts : [];
  return afresh({
    step: id, level, counts, minutes: passage.minutes, began: ms, ms, phase: "going", slips: [],
    heard: 0, last: null, number: null, later: false, tallies: [],
  });
}

/** Nothing tapped, nothing read. @param {PassageState} state @returns {PassageState} */
function afresh(state) {
  const phase = state.level === "talk" ? "ready" : "going";
  return { ...state, phase, slips: state.counts.map(() => 0), heard: 0, last: null, number: null, later: false };
}

/**
 * What comes after `event`. An event that makes no sense here changes nothing.
 * @param {PassageState} state
 * @param {PassageEvent} event
 * @param {number} ms  since the start of the sitting
 * @returns {PassageState}
 */
export function advancePassage(state, event, ms) {
  const next = changed(state, event, ms);
  return next === state ? state : { ...next, ms };
}

/** @param {PassageState} state @param {PassageEvent} event @param {number} ms @returns {PassageState} */
function changed(state, event, ms) {
  const { phase, level, heard } = state;
  const [going, reads, confirms] = [phase === "going", level === "reading", phase === "confirm"];
  switch (event.type) {
    case "now": return phase === "ready" ? { ...state, phase: "going" } : state;
    case "later": return phase === "ready" ? { ...state, phase: "confirm", later: true } : state;
    case "skip": return phase === "ready" ? { ...state, phase: "done" } : state;
    case "slip": return going && !reads ? { ...state, heard: heard + 1 } : state;
    case "take-back": return going && !reads && heard > 0 ? { ...state, heard: heard - 1 } : state;
    case "over": return going && !reads ? { ...state, phase: "confirm", number: heard } : state;
    case "word": return tapped(state, event.word);
    case "whole": return going && reads ? ended(state, state.counts.length - 1) : state;
    case "stopped": return going && reads ? { ...state, phase: "ending" } : state;
    case "back": return back(state);
    case "none": return confirms ? { ...state, number: 0 } : state;
    case "more": return confirms ? numbered(state, 1) : state;
    case "fewer": return confirms && state.number ? numbered(state, -1) : state;
    case "yes": return confirms && state.number !== null ? over(state, state.number, ms) : state;
    case "uncounted": return confirms ? over(state, null, ms) : state;
    case "once-more": return phase === "again" ? { ...afresh(state), phase: "going" } : state;
    case "next": return phase === "again" ? { ...state, phase: "done" } : state;
  }
}

/** @param {PassageState} state @param {number} word @returns {PassageState} */
function tapped(state, word) {
  const { phase, counts, slips } = state;
  if (!(word in counts)) return state;
  if (phase === "ending") return ended(state, word);
  if (phase !== "going" || !counts[word]) return state;
  return { ...state, slips: slips.map((n, at) => (at === word ? (n + 1) % (counts[word] + 1) : n)) };
}

/** Read up to `last`; slips beyond it were not said. @param {PassageState} state @param {number} last @returns {PassageState} */
const ended = (state, last) => ({ ...state, phase: "confirm", last, number: sum(state.slips.slice(0, last + 1)) });

/** To where it is counted; what was tapped is still there. @param {PassageState} state @returns {PassageState} */
function back(state) {
  if (state.phase === "ending") return { ...state, phase: "going" };
  if (state.phase !== "confirm") return state;
  return { ...state, phase: state.later ? "ready" : "going", later: false, last: null, number: null };
}

/** Never more than there are targets, nor fewer than none. @param {PassageState} state @param {number} by @returns {PassageState} */
function numbered(state, by) {
  const number = Math.min((state.number ?? 0) + by, upTo(state).targets ?? Infinity);
  return number === state.number ? state : { ...state, number };
}

/** @param {PassageState} state @param {number | null} slipped @param {number} ms @returns {PassageState} */
function over(state, slipped, ms) {
  const more = state.level === "reading" && ms - state.began < state.minutes * MINUTE_MS;
  return { ...state, phase: more ? "again" : "done", tallies: [...state.tallies, tally(state, slipped, ms)] };
}

/**
 * Words read and their targets, where both are known: of a reading, once its end is.
 * @param {Pick<PassageState, "level" | "last" | "counts">} state
 */
export function upTo({ level, last, counts }) {
  if (level !== "reading" || last === null) return { words: null, targets: null };
  return { words: last + 1, targets: sum(counts.slice(0, last + 1)) };
}

/**
 * What the record holds of it at any moment, so that nothing is lost by Stop or a dead battery: what is
 * over, and what is under way once there is anything to tell, its slips not confirmed.
 * @param {PassageState} state
 * @returns {readonly Tally[]}
 */
export function tallies(state) {
  const open = ["going", "ending", "confirm"].includes(state.phase);
  const said = state.phase !== "going" || state.heard > 0 || sum(state.slips) > 0;
  return open && said ? [...state.tallies, tally(state, null, state.ms)] : state.tallies;
}

/** @param {PassageState} state @param {number | null} slipped @param {number} ms @returns {Tally} */
const tally = (state, slipped, ms) => ({ step: state.step, ...upTo(state), slipped, later: state.later, ms });

/** @param {readonly number[]} numbers */
const sum = (numbers) => numbers.reduce((a, b) => a + b, 0);

/**
 * A paragraph cut into words, which can be tapped, and what stands between them. number: of the word in
 * the whole text; null: none.
 * @typedef {{ number: number | null, text: string, parts: [string, boolean][] }} Piece
 * @param {PassageData["paragraphs"]} paragraphs
 * @returns {Piece[][]}
 */
export function pieces(paragraphs) {
  let number = 0;
  return paragraphs.map((line) => {
    const text = line.map(([part]) => part).join("");
    const words = [...text.matchAll(WORD)].map((found) => ({ from: found.index, to: found.index + found[0].length }));
    /** @type {Piece[]} */
    const made = [];
    let at = 0;
    const take = (/** @type {number} */ to, /** @type {number | null} */ word) => {
      if (to > at) made.push({ number: word, text: text.slice(at, to), parts: cut(line, at, to) });
      at = to;
    };
    for (const { from, to } of words) {
      take(from, null);
      take(to, number);
      number += 1;
    }
    take(text.length, null);
    return made;
  });
}

/** The parts of a line between two places. @param {[string, boolean][]} line @param {number} from @param {number} to */
function cut(line, from, to) {
  /** @type {[string, boolean][]} */
  const found = [];
  let at = 0;
  for (const [text, target] of line) {
    const inside = text.slice(Math.max(0, from - at), Math.max(0, to - at));
    if (inside) found.push([inside, target]);
    at += text.length;
  }
  return found;
}
