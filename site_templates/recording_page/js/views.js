// What is seen: the prompt with its buttons, and the list of all prompts.

import { el, sign } from "../../theme/assets/js/dom.js";
import { button, sentence } from "./pieces.js";
import { canMove, canRecord, currentCard, isDone, isDoubted, keepable, mustHear, waits } from "./state.js";
import { STATE_TEXT, VERDICT_TEXT, clientsText, cutText, description, instruction, microphoneText, recordedText } from "./wording.js";
import { waitingView } from "./waiting-view.js";

/** @import { Assessment, Card, Reasons, State } from "../types" */

/**
 * @typedef {object} Actions
 * @property {() => void} main
 * @property {() => void} check
 * @property {(instead: boolean) => void} keep
 * @property {() => void} redo
 * @property {() => void} hear
 * @property {() => void} hearKept
 * @property {() => void} accept
 * @property {() => void} save
 * @property {() => void} discard
 * @property {(index: number) => void} go
 */

const SIGNS = /** @type {const} */ ({
  missing: "missed", good: "clear", doubtful: "almost", heard: "clear", again: "not_tried", unheard: "not_tried",
});
const MAX_LARGE_LETTERS = 14; // longer texts are set smaller

/** @param {State} state @param {Node} meter @param {Actions} actions @param {string[]} notices */
export function promptView(state, meter, actions, notices) {
  const shown = currentCard(state);
  return [
    navigation(state, actions),
    promptText(shown),
    el("p", { class: "instruction" }, instruction(shown)),
    el("p", { class: "quiet" }, clientsText(shown)),
    meter,
    controls(state, actions),
    problemView(state, actions),
    microphoneText(state) && el("p", { class: state.microphone === "there" ? "hint" : "problem", "data-key": "microphone" }, microphoneText(state)),
    notices.length > 0 && el("div", { class: "problem" }, el("ul", {}, ...notices.map((text) => el("li", {}, text)))),
    state.assessment && assessmentView(state.assessment, cutText(state)),
    existing(state, shown, actions),
  ].filter((node) => node instanceof Node);
}

/** @param {Card} shown */
function promptText({ text, letters, alone, sound }) {
  const long = text.length > MAX_LARGE_LETTERS ? " long-text" : "";
  const parts = letters.map(([part, target]) => (target ? el("span", { class: "target" }, part) : part));
  const name = alone ? `the sound ${text}, /${sound}/` : null;
  return el("h1", { class: `prompt-text${long}`, tabindex: -1, "data-key": "word", "aria-label": name }, ...parts);
}

/** What waits, with what to do about it; else what is wrong. @param {State} state @param {Actions} actions */
function problemView(state, actions) {
  if (waits(state)) return waitingView(state, actions);
  return state.problem && el("p", { class: "problem", "data-key": "problem" }, ...sentence(state.problem));
}

/** @param {State} state */
function progress({ phase, notice }) {
  const live = phase === "recording";
  const text = { ready: "Wait …", recording: "Speak now", assessing: "Checking it …", saving: "Saving it …" }[/** @type {string} */ (phase)] ?? notice;
  return el("p", { class: live ? "progress live" : "progress" }, text);
}

/** @param {State} state @param {Actions} actions */
function controls(state, actions) {
  const { phase, microphone } = state;
  const judged = phase === "assessed" || phase === "saving";
  const inHand = judged ? choices(state, actions) : phase === "recorded" ? unchecked(state, actions) : [];
  const main = inHand.length === 0 || microphone !== "open" ? [mainButton(state, !inHand.length, actions)] : [];
  return el("div", { class: "controls" }, ...inHand, ...main, progress(state));
}

/** The position in the list, and the buttons to both sides. @param {State} state @param {Actions} actions */
function navigation(state, actions) {
  const last = state.cards.length - 1;
  return el(
    "div", { class: "navigation" }, el("p", { class: "position" }, `${state.at + 1} of ${last + 1} · ${description(currentCard(state))}`),
    button("Previous", "←", () => actions.go(state.at - 1), { key: "previous", off: !canMove(state) || state.at === 0 }),
    button("Next", "→", () => actions.go(state.at + 1), { key: "next", off: !canMove(state) || state.at === last }),
  );
}

/** @param {State} state @param {boolean} big @param {Actions} actions */
function mainButton({ phase, microphone }, big, actions) {
  const live = phase === "ready" || phase === "recording";
  const name = live ? "Stop" : microphone === "open" ? "Record" : "Open the microphone";
  return button(name, "space", actions.main, { key: "main", big, live, off: phase === "assessing" || phase === "saving" });
}

/** A recording that the server did not see yet. @param {State} state @param {Actions} actions */
function unchecked(state, actions) {
  return [
    button("Check it", "enter", actions.check, { key: "keep", big: true }),
    button("Redo", "r", actions.redo, { key: "redo", off: !canRecord(state) }),
    button("Hear it", "", actions.hear, { key: "hear" }),
  ];
}

/** @param {State} state @param {Actions} actions */
function choices(state, actions) {
  const off = !keepable(state);
  const listen = mustHear(state);
  const again = state.assessment?.verdict === "again" && canRecord(state);
  const { files, replaceable } = currentCard(state);
  return [
    button("Keep", listen ? "" : "enter", () => actions.keep(false), { key: "keep", big: !again, off }),
    button("Redo", "r", actions.redo, { key: "redo", big: again, off: !canRecord(state) }),
    button("Hear it", listen ? "enter" : "", actions.hear, { key: "hear", big: listen }),
    ...(files.length > 0 && replaceable && !again ? [button("Keep instead", "", () => actions.keep(true), { key: "instead", off })] : []),
  ];
}

/** @param {Assessment} assessment @param {string} cut */
function assessmentView({ verdict, reasons }, cut) {
  const none = verdict === "good" && !cut ? "No problems found." : "";
  return el(
    "section", { class: `verdict ${verdict}`, "aria-label": "Verdict" },
    el("h2", {}, sign(SIGNS[verdict]), VERDICT_TEXT[verdict]),
    cut && el("p", {}, cut),
    reasons.length ? list(reasons) : none && el("p", {}, none),
  );
}

/** @param {Reasons} reasons */
function list(reasons) {
  return el("ul", {}, ...reasons.map(([sentence, figure]) => el("li", {}, sentence, figure && " ", figure && el("span", { class: "figure" }, `(${figure})`))));
}

/** @param {State} state @param {Card} shown @param {Actions} actions */
function existing(state, shown, actions) {
  if (!shown.files.length) return null;
  const idle = state.phase === "idle";
  return el(
    "div", { class: "existing" }, el("p", {}, `${recordedText(shown)}.`),
    idle && button("Hear it", "", actions.hearKept, { key: "hear-kept" }),
    isDoubted(state) && button("It is right: use it", "", actions.accept, { key: "accept", off: !state.heard }),
    idle && shown.reasons.length > 0 && list(shown.reasons),
  );
}

/** @param {State} state @param {(index: number) => void} go */
export function promptList({ cards, at, folder }, go) {
  const count = cards.filter(isDone).length;
  return [
    el("h2", {}, `${count} of ${cards.length} recorded`),
    el("p", { class: "quiet" }, `Saved in ${folder}`),
    el("ol", {}, ...cards.map((each, index) => el("li", {}, listEntry(each, index === at, () => go(index))))),
  ];
}

/** @param {Card} each @param {boolean} current @param {() => void} choose */
function listEntry(each, current, choose) {
  const form = each.form === "long" ? (each.alone ? ", alone" : ", held") : each.alone ? ", alone" : "";
  return el(
    "button", { type: "button", "aria-current": current ? "true" : null, "data-key": `to-${each.id}`, onclick: choose },
    sign(SIGNS[each.state]), el("span", { class: "name" }, each.text), el("span", { class: "entry-state" }, `/${each.sound}/${form} · ${STATE_TEXT[each.state]}`),
  );
}
