// What the page is doing and what may come next: no page, microphone, clock or network.

import { cardIndex } from "./recording.js";

/** @import { Card, Event, State } from "../types" */

/** What is recorded, or need not be: a cut that nobody heard yet waits on the proof page. */
const DONE_STATES = ["good", "heard", "unheard"];

/** No recording in hand. */
const EMPTY = { assessment: null, cut: false, held: false, heard: false, stored: false };

/** @param {Card} card */
export const isDone = (card) => DONE_STATES.includes(card.state);

/** @param {Card[]} cards @param {string} [folder] @returns {State} */
export function initialState(cards, folder = "") {
  const at = Math.max(0, cards.findIndex((card) => !isDone(card)));
  return { ...EMPTY, cards, folder, at, phase: "idle", microphone: "closed", microphoneProblem: "", away: false, problem: "", notice: "" };
}

/** @param {State} state */
export const currentCard = (state) => state.cards[state.at];

/** Whether what was recorded may be kept: what is refused would never be used. @param {State} state */
export const keepable = (state) =>
  state.phase === "assessed" && state.assessment !== null && state.assessment.verdict !== "again" && !mustHear(state);

/** Whether the recording in hand is doubtful, and nobody heard it yet. @param {State} state */
export const mustHear = ({ phase, assessment, heard }) => phase === "assessed" && assessment?.verdict === "doubtful" && !heard;

/** Whether the recording in the folder is doubtful, so that it is used only once it was called right. @param {State} state */
export const isDoubted = (state) => state.phase === "idle" && currentCard(state).state === "doubtful";

/** Whether another prompt may be chosen now. @param {State} state */
export const canMove = ({ phase, held }) => phase === "idle" || (phase === "assessed" && !held);

/** Whether nothing goes on. @param {State} state */
export const atRest = ({ phase }) => ["idle", "recorded", "assessed"].includes(phase);

/** Whether a recording can begin. @param {State} state */
export const canRecord = (state) => state.microphone === "open" && atRest(state);

/** Whether a recording is in hand that something came between. @param {State} state */
export const waits = ({ phase, held }) => held && (phase === "recorded" || phase === "assessed");

/** Whether something is lost when the page is closed now. @param {State} state */
export function wouldBeLost({ phase, stored, assessment }) {
  if (phase === "idle" || phase === "ready") return false;
  return phase === "recording" || (!stored && assessment?.verdict !== "again");
}

/** The state after an event; an event that does not fit changes nothing. @param {State} state @param {Event} event @returns {State} */
export function advance(state, event) {
  return ofMicrophone(state, event) ?? ofServer(state, event) ?? ofRecording(state, event) ?? state;
}

/** @param {State} state @param {Partial<State>} change @returns {State} */
const to = (state, change) => ({ ...state, problem: "", notice: "", ...change });

/** What the microphone does never touches a finished recording. @param {State} state @param {Event} event @returns {State | undefined} */
function ofMicrophone(state, event) {
  const { microphone } = state;
  const phase = state.phase === "ready" || state.phase === "recording" ? "idle" : state.phase;
  switch (event.type) {
    case "opened":
      return { ...state, microphone: "open", microphoneProblem: "" };
    case "closed":
      return { ...state, phase, microphone: "closed", microphoneProblem: event.problem };
    case "lost":
      return { ...state, phase, microphone: "gone", microphoneProblem: "" };
    case "devices":
      return microphone === "gone" || microphone === "there" ? devices(state, event.any ? "there" : "gone") : state;
  }
}

/** @param {State} state @param {"there" | "gone"} microphone @returns {State} */
const devices = (state, microphone) => (microphone === state.microphone ? state : { ...state, microphone });

/** @param {State} state @param {Event} event @returns {State | undefined} */
function ofServer(state, event) {
  const { phase } = state;
  switch (event.type) {
    case "assessed":
      return phase === "assessing" ? to(state, { phase: "assessed", assessment: event.assessment, away: false }) : state;
    case "failed":
      return failed(state, event.problem, event.why);
    case "away":
      return away(state, atRest(state) ? event.problem : state.problem);
    case "back":
      return state.away ? back(state, event.cards) : state;
    case "kept":
      return phase === "saving" ? kept(state, event.cards, event.file) : { ...state, cards: event.cards };
    case "accepted":
      return phase === "idle" ? accepted(state, event.cards) : { ...state, cards: event.cards };
    case "playback-failed":
      return atRest(state) ? to(state, { problem: event.problem }) : state;
  }
}

/** @param {State} state @param {Event} event @returns {State | undefined} */
function ofRecording(state, event) {
  const { phase } = state;
  switch (event.type) {
    case "record":
      return canRecord(state) ? to(state, { ...EMPTY, phase: "ready" }) : state;
    case "begin":
      return phase === "ready" ? to(state, { phase: "recording" }) : state;
    case "stop":
      if (phase === "ready") return to(state, { phase: "idle" });
      return phase === "recording" ? to(state, { phase: "assessing", cut: event.cut }) : state;
    case "stored":
      return phase === "idle" ? state : { ...state, stored: true };
    case "check":
      return phase === "recorded" ? to(state, { phase: "assessing" }) : state;
    case "heard":
      return { ...state, heard: true };
    case "keep":
      return keepable(state) ? to(state, { phase: "saving" }) : state;
    case "discard":
      return phase === "recorded" || phase === "assessed" ? to(state, { ...EMPTY, phase: "idle" }) : state;
    case "restored":
      return phase === "idle" ? restored(state, event.at, event.recording) : state;
    case "go":
      return canMove(state) ? moved(state, event.to) : state;
  }
}

/** A recording is lost by no fault but its own. @param {State} state @param {string} problem @param {import("../types").Failure} why @returns {State} */
function failed(state, problem, why) {
  const { phase } = state;
  if (phase !== "assessing" && phase !== "saving") return state;
  const before = phase === "saving" ? "assessed" : "recorded";
  if (why !== "refused") return to(state, { phase: before, held: true, away: why === "away", problem });
  return to(state, phase === "saving" ? { phase: before, problem } : { ...EMPTY, phase: "idle", problem });
}

/** @param {State} state @param {string} problem @returns {State} */
const away = (state, problem) => (state.away && state.problem === problem ? state : to(state, { away: true, problem }));

/** The server answers again, perhaps with other prompts. @param {State} state @param {Card[]} cards @returns {State} */
function back(state, cards) {
  const at = cardIndex(cards, currentCard(state));
  if (at >= 0) return to(state, { cards, at, away: false, notice: waits(state) ? "The recording page is there again." : "" });
  return { ...initialState(cards, state.folder), microphone: state.microphone };
}

/** @param {State} state @param {Card[]} cards @param {string} file @returns {State} */
const kept = (state, cards, file) => onward(state, cards, `Kept “${currentCard(state).text}” as ${file}.`);

/** @param {State} state @param {Card[]} cards @returns {State} */
const accepted = (state, cards) => onward(state, cards, `“${currentCard(state).text}” is used from now on.`);

/** On to the next that is not recorded; the place stays when there is none. @param {State} state @param {Card[]} cards @param {string} done @returns {State} */
function onward(state, cards, done) {
  const order = cards.map((_, i) => (state.at + 1 + i) % cards.length);
  const next = order.find((i) => !isDone(cards[i]));
  const notice = next === undefined ? `${done} All are recorded.` : done;
  return to(state, { ...EMPTY, cards, at: next ?? state.at, phase: "idle", away: false, notice });
}

/** @param {State} state @param {number} at @param {import("../types").Recording} recording @returns {State} */
function restored(state, at, { assessment, cut }) {
  const phase = assessment ? "assessed" : "recorded";
  return { ...state, at, phase, assessment, cut, held: true, stored: true };
}

/** @param {State} state @param {number} index @returns {State} */
function moved(state, index) {
  const at = Math.min(state.cards.length - 1, Math.max(0, index));
  return at === state.at ? state : to(state, { ...EMPTY, at, phase: "idle" });
}
