// What is seen: the prompt with its buttons, and the list of all prompts.

import { el, sign } from "../../theme/assets/js/dom.js";
import { canMove, currentCard, isDone, keepable } from "./state.js";
import { STATE_TEXT, VERDICT_TEXT, clientsText, description, instruction, recordedText } from "./wording.js";

/** @import { Assessment, Card, Reasons, State } from "../types" */

/**
 * @typedef {object} Actions
 * @property {() => void} main
 * @property {(instead: boolean) => void} keep
 * @property {() => void} redo
 * @property {() => void} hear
 * @property {() => void} hearKept
 * @property {(index: number) => void} go
 */

const SIGNS = /** @type {const} */ ({
  missing: "missed", good: "clear", doubtful: "almost", again: "not_tried", unheard: "not_tried",
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
    state.problem && el("p", { class: "problem", "data-key": "problem" }, state.problem),
    notices.length > 0 && el("div", { class: "problem" }, el("ul", {}, ...notices.map((text) => el("li", {}, text)))),
    state.assessment && assessmentView(state.assessment),
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

/** @param {State} state */
function progress({ phase, notice }) {
  const live = phase === "recording";
  const text = { closed: "", idle: notice, ready: "Wait …", recording: "Speak now", assessing: "Checking it …", assessed: "", saving: "Saving it …" }[phase];
  return el("p", { class: live ? "progress live" : "progress" }, text);
}

/** @param {State} state @param {Actions} actions */
function controls(state, actions) {
  const { phase } = state;
  const after = phase === "assessed" || phase === "saving" ? choices(state, actions) : [mainButton(phase, actions)];
  return el("div", { class: "controls" }, ...after, progress(state));
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

/** @param {State["phase"]} phase @param {Actions} actions */
function mainButton(phase, actions) {
  const live = phase === "ready" || phase === "recording";
  const name = phase === "closed" ? "Open the microphone" : live ? "Stop" : "Record";
  return button(name, "space", actions.main, { key: "main", big: true, live, off: phase === "assessing" });
}

/** @param {State} state @param {Actions} actions */
function choices(state, actions) {
  const off = !keepable(state);
  const again = state.assessment?.verdict === "again";
  const { files, replaceable } = currentCard(state);
  return [
    button("Keep", "enter", () => actions.keep(false), { key: "keep", big: !again, off }),
    button("Redo", "r", actions.redo, { key: "redo", big: again, off: state.phase === "saving" }),
    button("Hear it", "", actions.hear, { key: "hear", off: false }),
    ...(files.length > 0 && replaceable && !again ? [button("Keep instead", "", () => actions.keep(true), { key: "instead", off })] : []),
  ];
}

/**
 * @param {string} name @param {string} shortcut  the key that does the same, "" for none
 * @param {() => void} act @param {{ key: string, big?: boolean, live?: boolean, off: boolean }} how
 */
function button(name, shortcut, act, { key, big = false, live = false, off }) {
  return el(
    "button",
    { type: "button", class: `button${big && !off ? " big" : ""}${live ? " live" : ""}`, "data-key": key, "aria-disabled": off ? "true" : null, "aria-keyshortcuts": SHORTCUTS[shortcut] ?? null, onclick: () => off || act() },
    name, shortcut && el("kbd", { "aria-hidden": "true" }, shortcut),
  );
}

/** @type {Record<string, string>} */
const SHORTCUTS = { space: "Space", enter: "Enter", r: "R", "←": "ArrowLeft", "→": "ArrowRight" };

/** @param {Assessment} assessment */
function assessmentView({ verdict, reasons }) {
  const none = verdict === "good" ? "No problems found." : "";
  return el(
    "section", { class: `verdict ${verdict}`, "aria-label": "Verdict" },
    el("h2", {}, sign(SIGNS[verdict]), VERDICT_TEXT[verdict]),
    reasons.length ? list(reasons) : el("p", {}, none),
  );
}

/** @param {Reasons} reasons */
function list(reasons) {
  return el("ul", {}, ...reasons.map(([sentence, figure]) => el("li", {}, sentence, figure && " ", figure && el("span", { class: "figure" }, `(${figure})`))));
}

/** @param {State} state @param {Card} shown @param {Actions} actions */
function existing({ phase }, shown, actions) {
  if (!shown.files.length) return null;
  const idle = phase === "idle" || phase === "closed";
  return el(
    "div", { class: "existing" }, el("p", {}, `${recordedText(shown)}.`),
    idle && button("Hear it", "", actions.hearKept, { key: "hear-kept", off: false }),
    idle && shown.reasons.length > 0 && list(shown.reasons),
  );
}

/** @param {State} state @param {(index: number) => void} go @param {string} folder */
export function promptList({ cards, at }, go, folder) {
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
