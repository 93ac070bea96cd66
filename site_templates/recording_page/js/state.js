// What the page is doing and what may come next: no page, microphone, clock or network.

/** @import { Card, Event, State } from "../types" */

/** What is recorded, or need not be: a cut that nobody heard yet waits on the proof page. */
const DONE_STATES = ["good", "doubtful", "unheard"];

/** @param {Card} card */
export const isDone = (card) => DONE_STATES.includes(card.state);

/** @param {Card[]} cards @returns {State} */
export function initialState(cards) {
  const first = cards.findIndex((card) => !isDone(card));
  return { cards, at: Math.max(0, first), phase: "closed", assessment: null, problem: "", notice: "" };
}

/** @param {State} state */
export const currentCard = (state) => state.cards[state.at];

/** Whether what was recorded may be kept: what is refused would never be used. @param {State} state */
export const keepable = (state) =>
  state.phase === "assessed" && state.assessment !== null && state.assessment.verdict !== "again";

/** Whether another prompt may be chosen now. @param {State} state */
export const canMove = (state) => ["closed", "idle", "assessed"].includes(state.phase);

/** The state after an event; an event that does not fit changes nothing. @param {State} state @param {Event} event @returns {State} */
export function advance(state, event) {
  const { phase } = state;
  /** @param {Partial<State>} change @returns {State} */
  const to = (change) => ({ ...state, problem: "", notice: "", ...change });
  switch (event.type) {
    case "opened":
      return phase === "closed" ? to({ phase: "idle" }) : state;
    case "closed":
      return to({ phase: "closed", assessment: null, problem: event.problem });
    case "record":
      return phase === "idle" || phase === "assessed" ? to({ phase: "ready", assessment: null }) : state;
    case "begin":
      return phase === "ready" ? to({ phase: "recording" }) : state;
    case "stop":
      if (phase === "ready") return to({ phase: "idle" });
      return phase === "recording" ? to({ phase: "assessing" }) : state;
    case "assessed":
      return phase === "assessing" ? to({ phase: "assessed", assessment: event.assessment }) : state;
    case "failed":
      if (phase === "assessing") return to({ phase: "idle", problem: event.problem });
      return phase === "saving" ? to({ phase: "assessed", problem: event.problem }) : state;
    case "keep":
      return keepable(state) ? to({ phase: "saving" }) : state;
    case "kept":
      return phase === "saving" ? kept(state, event.cards, event.file) : { ...state, cards: event.cards };
    case "playback-failed":
      return canMove(state) ? to({ problem: event.problem }) : state;
    case "go":
      return canMove(state) ? moved(state, event.to) : state;
  }
}

/** On to the next that is not recorded; the place stays when there is none. @param {State} state @param {Card[]} cards @param {string} file @returns {State} */
function kept(state, cards, file) {
  const order = cards.map((_, i) => (state.at + 1 + i) % cards.length);
  const next = order.find((i) => !isDone(cards[i]));
  const text = state.cards[state.at].text;
  const notice = next === undefined ? `Kept “${text}” as ${file}. All are recorded.` : `Kept “${text}” as ${file}.`;
  return { ...state, cards, at: next ?? state.at, phase: "idle", assessment: null, problem: "", notice };
}

/** @param {State} state @param {number} index @returns {State} */
function moved(state, index) {
  const at = Math.min(state.cards.length - 1, Math.max(0, index));
  if (at === state.at) return state;
  const phase = state.phase === "assessed" ? "idle" : state.phase;
  return { ...state, at, phase, assessment: null, problem: "", notice: "" };
}
