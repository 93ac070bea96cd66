// What the page is doing and what may come next: no page, microphone, clock or network.

/** @import { Card, Event, State } from "../types" */

/** What is recorded, or need not be: a cut that nobody heard yet waits on the proof page. */
const DONE = ["good", "doubtful", "unheard"];

/** @param {Card} card */
export const done = (card) => DONE.includes(card.state);

/** @param {Card[]} cards @returns {State} */
export function begun(cards) {
  const first = cards.findIndex((card) => !done(card));
  return { cards, at: Math.max(0, first), phase: "closed", verdict: null, problem: "", told: "" };
}

/** @param {State} state */
export const card = (state) => state.cards[state.at];

/** Whether what was recorded may be kept: what is refused would never be used. @param {State} state */
export const keepable = (state) =>
  state.phase === "judged" && state.verdict !== null && state.verdict.word !== "again";

/** Whether another prompt may be chosen now. @param {State} state */
export const free = (state) => ["closed", "idle", "judged"].includes(state.phase);

/** What lies on the way of an event that does not fit changes nothing. @param {State} state @param {Event} event @returns {State} */
export function advance(state, event) {
  const { phase } = state;
  /** @param {Partial<State>} change @returns {State} */
  const to = (change) => ({ ...state, problem: "", told: "", ...change });
  switch (event.type) {
    case "opened":
      return phase === "closed" ? to({ phase: "idle" }) : state;
    case "closed":
      return to({ phase: "closed", verdict: null, problem: event.problem });
    case "record":
      return phase === "idle" || phase === "judged" ? to({ phase: "ready", verdict: null }) : state;
    case "begin":
      return phase === "ready" ? to({ phase: "recording" }) : state;
    case "stop":
      if (phase === "ready") return to({ phase: "idle" });
      return phase === "recording" ? to({ phase: "judging" }) : state;
    case "judged":
      return phase === "judging" ? to({ phase: "judged", verdict: event.verdict }) : state;
    case "failed":
      if (phase === "judging") return to({ phase: "idle", problem: event.problem });
      return phase === "keeping" ? to({ phase: "judged", problem: event.problem }) : state;
    case "keep":
      return keepable(state) ? to({ phase: "keeping" }) : state;
    case "kept":
      return phase === "keeping" ? kept(state, event.cards, event.file) : { ...state, cards: event.cards };
    case "troubled":
      return free(state) ? to({ problem: event.problem }) : state;
    case "go":
      return free(state) ? moved(state, event.to) : state;
  }
}

/** On to the next that is not recorded; the place stays when there is none. @param {State} state @param {Card[]} cards @param {string} file @returns {State} */
function kept(state, cards, file) {
  const order = cards.map((_, i) => (state.at + 1 + i) % cards.length);
  const next = order.find((i) => !done(cards[i]));
  const text = state.cards[state.at].text;
  const told = next === undefined ? `Kept “${text}” as ${file}. All are recorded.` : `Kept “${text}” as ${file}.`;
  return { ...state, cards, at: next ?? state.at, phase: "idle", verdict: null, problem: "", told };
}

/** @param {State} state @param {number} index @returns {State} */
function moved(state, index) {
  const at = Math.min(state.cards.length - 1, Math.max(0, index));
  if (at === state.at) return state;
  const phase = state.phase === "judged" ? "idle" : state.phase;
  return { ...state, at, phase, verdict: null, problem: "", told: "" };
}
