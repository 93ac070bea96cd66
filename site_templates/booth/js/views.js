// What is seen: the prompt with its buttons, and the list of all prompts.

import { el, sign } from "../../theme/assets/js/dom.js";
import { card, done, free, keepable } from "./queue.js";
import { STATES, VERDICTS, kind, recorded, serves, task } from "./words.js";

/** @import { Card, Reasons, State } from "../types" */

/**
 * @typedef {object} Deeds
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
const LONG = 14; // letters; longer texts are set smaller

/** @param {State} state @param {Node} meter @param {Deeds} deeds @param {string[]} notices */
export function stage(state, meter, deeds, notices) {
  const shown = card(state);
  return [
    moves(state, deeds),
    saying(shown),
    el("p", { class: "do" }, task(shown)),
    el("p", { class: "quiet" }, serves(shown)),
    meter,
    presses(state, deeds),
    state.problem && el("p", { class: "trouble", "data-key": "problem" }, state.problem),
    notices.length > 0 && el("div", { class: "trouble" }, el("ul", {}, ...notices.map((text) => el("li", {}, text)))),
    state.verdict && verdict(state.verdict.word, state.verdict.reasons),
    there(state, shown, deeds),
  ].filter((node) => node instanceof Node);
}

/** @param {Card} shown */
function saying({ text, letters, alone, sound }) {
  const long = text.length > LONG ? " long-text" : "";
  const parts = letters.map(([part, target]) => (target ? el("span", { class: "target" }, part) : part));
  const name = alone ? `the sound ${text}, /${sound}/` : null;
  return el("h1", { class: `saying${long}`, tabindex: -1, "data-key": "word", "aria-label": name }, ...parts);
}

/** @param {State} state */
function cue({ phase, told }) {
  const live = phase === "recording";
  const text = { closed: "", idle: told, ready: "Wait …", recording: "Speak now", judging: "Looking at it …", judged: "", keeping: "Keeping it …" }[phase];
  return el("p", { class: live ? "cue live" : "cue" }, text);
}

/** @param {State} state @param {Deeds} deeds */
function presses(state, deeds) {
  const { phase } = state;
  const after = phase === "judged" || phase === "keeping" ? afterwards(state, deeds) : [main(phase, deeds)];
  return el("div", { class: "presses" }, ...after, cue(state));
}

/** Where one is, and the way to both sides. @param {State} state @param {Deeds} deeds */
function moves(state, deeds) {
  const last = state.cards.length - 1;
  return el(
    "div", { class: "moves" }, el("p", { class: "kind" }, `${state.at + 1} of ${last + 1} · ${kind(card(state))}`),
    button("Previous", "←", () => deeds.go(state.at - 1), { key: "previous", off: !free(state) || state.at === 0 }),
    button("Next", "→", () => deeds.go(state.at + 1), { key: "next", off: !free(state) || state.at === last }),
  );
}

/** @param {State["phase"]} phase @param {Deeds} deeds */
function main(phase, deeds) {
  const live = phase === "ready" || phase === "recording";
  const name = phase === "closed" ? "Open the microphone" : live ? "Stop" : "Record";
  return button(name, "space", deeds.main, { key: "main", big: true, live, off: phase === "judging" });
}

/** @param {State} state @param {Deeds} deeds */
function afterwards(state, deeds) {
  const off = !keepable(state);
  const again = state.verdict?.word === "again";
  const { files, single } = card(state);
  return [
    button("Keep", "enter", () => deeds.keep(false), { key: "keep", big: !again, off }),
    button("Redo", "r", deeds.redo, { key: "redo", big: again, off: state.phase === "keeping" }),
    button("Hear it", "", deeds.hear, { key: "hear", off: false }),
    ...(files.length > 0 && single && !again ? [button("Keep instead", "", () => deeds.keep(true), { key: "instead", off })] : []),
  ];
}

/**
 * @param {string} name @param {string} stroke  the key that does the same, "" for none
 * @param {() => void} act @param {{ key: string, big?: boolean, live?: boolean, off: boolean }} how
 */
function button(name, stroke, act, { key, big = false, live = false, off }) {
  return el(
    "button",
    { type: "button", class: `button${big && !off ? " big" : ""}${live ? " live" : ""}`, "data-key": key, "aria-disabled": off ? "true" : null, "aria-keyshortcuts": STROKES[stroke] ?? null, onclick: () => off || act() },
    name, stroke && el("kbd", { "aria-hidden": "true" }, stroke),
  );
}

/** @type {Record<string, string>} */
const STROKES = { space: "Space", enter: "Enter", r: "R", "←": "ArrowLeft", "→": "ArrowRight" };

/** @param {import("../types").Word} word @param {Reasons} reasons */
function verdict(word, reasons) {
  const none = word === "good" ? "Nothing to remark." : "";
  return el(
    "section", { class: `verdict ${word}`, "aria-label": "Verdict" },
    el("h2", {}, sign(SIGNS[word]), VERDICTS[word]),
    reasons.length ? list(reasons) : el("p", {}, none),
  );
}

/** @param {Reasons} reasons */
function list(reasons) {
  return el("ul", {}, ...reasons.map(([sentence, figure]) => el("li", {}, sentence, figure && " ", figure && el("span", { class: "figure" }, `(${figure})`))));
}

/** @param {State} state @param {Card} shown @param {Deeds} deeds */
function there({ phase }, shown, deeds) {
  if (!shown.files.length) return null;
  const idle = phase === "idle" || phase === "closed";
  return el(
    "div", { class: "there" }, el("p", {}, `${recorded(shown)}.`),
    idle && button("Hear it", "", deeds.hearKept, { key: "hear-kept", off: false }),
    idle && shown.reasons.length > 0 && list(shown.reasons),
  );
}

/** @param {State} state @param {Deeds} deeds @param {string} folder */
export function queue({ cards, at }, deeds, folder) {
  const count = cards.filter(done).length;
  return [
    el("h2", {}, `${count} of ${cards.length} recorded`),
    el("p", { class: "quiet" }, `In the folder ${folder}`),
    el("ol", {}, ...cards.map((each, index) => el("li", {}, line(each, index, index === at, deeds)))),
  ];
}

/** @param {Card} each @param {number} index @param {boolean} current @param {Deeds} deeds */
function line(each, index, current, deeds) {
  const form = each.form === "long" ? (each.alone ? ", alone" : ", held") : each.alone ? ", alone" : "";
  return el(
    "button", { type: "button", "aria-current": current ? "true" : null, "data-key": `to-${each.id}`, onclick: () => deeds.go(index) },
    sign(SIGNS[each.state]), el("span", { class: "name" }, each.text), el("span", { class: "is" }, `/${each.sound}/${form} · ${STATES[each.state]}`),
  );
}
