// The screen of a text or talk inside a run. No state of its own.

import { button, el, spoken } from "./dom.js";
import { pieces, upTo } from "./passages.js";

const SEEN_PX = 4; // so little below is no line

/** @import { PassageData, StepData } from "../../../types" */
/** @import { PassageEvent, PassageState, Piece } from "./passages.js" */
/** @import { Say } from "./screens.js" */

/**
 * What the screen is drawn from. top, progress: the nodes that stand above every try; notes: what went
 * wrong with the device. final: nothing comes after it. tell: what a tap does.
 * @typedef {object} PassageView
 * @property {PassageState} state
 * @property {StepData} step
 * @property {boolean} final
 * @property {Node} top
 * @property {Node} progress
 * @property {Node} notes
 * @property {Say} say
 * @property {(event: PassageEvent) => void} tell
 */

/** The text, in which words can be tapped, or the situation; under it what to do. @param {PassageView} view */
export function passageScreen(view) {
  const { state, top, progress, notes } = view;
  return el("div", { class: `screen task told ${state.level}` },
    top,
    progress,
    notes,
    textArea(view),
    el("div", { class: "controls" },
      el("p", { class: "prompt" }, el("span", { dir: "auto" }, ...view.say.shown(passagePrompt(state, view.step, view.say)))),
      ...controls[state.phase](view)));
}

/** What is asked for now; a screen reader says it too. @param {PassageState} state @param {StepData} step @param {Say} say */
export function passagePrompt(state, step, say) {
  switch (state.phase) {
    case "ready": return say("passage.when");
    case "ending": return say("passage.last");
    case "confirm": return question(state, say);
    case "again": return say("passage.again");
  }
  const task = say(`passage.task.${state.level}`);
  return step.reminder ? say("passage.remind", { task, reminder: spoken(step.reminder) }) : task;
}

/** @param {PassageView} view */
function textArea(view) {
  const { state, step, say } = view;
  const { paragraphs, situation } = /** @type {PassageData} */ (step.passage);
  const attributes = { class: "text-area passage", role: "region", tabindex: 0, "data-key": "text", "aria-label": say("passage.text"), dir: "auto" };
  if (state.level === "talk") {
    return el("div", attributes, el("p", { class: "situation" }, ...say.shown(situation)));
  }
  return watched(el("div", attributes, ...pieces(paragraphs).map((line) => el("p", { lang: say.language }, ...line.map((piece) => drawn(piece, view))))));
}

/** The page is told whether the text goes on below what is seen of it. @param {HTMLElement} area */
function watched(area) {
  const look = () => area.closest("practice-rounds")?.classList.toggle("goes-on", area.scrollHeight - area.scrollTop - area.clientHeight > SEEN_PX);
  area.addEventListener("scroll", look, { passive: true });
  new ResizeObserver(look).observe(area); // also when it has just come
  return area;
}

/** A word that can be tapped now, or as it reads. @param {Piece} piece @param {PassageView} view */
function drawn({ number, text, parts }, { state, say, tell }) {
  const letters = parts.map(([part, target]) => (target ? el("span", { class: "target" }, part) : part));
  if (number === null || state.level !== "reading") return el("span", {}, ...letters);
  const [targets, slipped, ending] = [state.counts[number], state.slips[number], state.phase === "ending"];
  const shown = { class: `${slipped ? "slipped" : ""}${state.last === number ? " last-read" : ""}`.trim(), "data-word": number, "data-slips": slipped > 1 && slipped };
  if (!ending && (state.phase !== "going" || !targets)) return el("span", shown, ...letters);
  const tap = () => tell({ type: "word", word: number });
  const label = !ending && targets > 1 && say("passage.word", { word: text, slipped, targets });
  return el("span", {
    ...shown, class: `tap ${shown.class}`.trim(), role: "button", tabindex: 0, "data-key": `word-${number}`,
    "aria-pressed": !ending && String(slipped > 0), "aria-label": label, onclick: tap, onkeydown: pressed(tap),
    lang: label && document.documentElement.lang, // the label is of the page, the word is not
  }, ...(label ? [el("span", { lang: say.language }, ...letters)] : letters));
}

/** Enter and the space bar, as on a button. @param {() => void} tap */
const pressed = (tap) => (/** @type {KeyboardEvent} */ event) => {
  if (event.key !== "Enter" && event.key !== " ") return;
  event.preventDefault();
  tap();
};

/** @type {Record<PassageState["phase"], (view: PassageView) => (HTMLElement | null | false)[]>} */
const controls = {
  ready: ({ say, tell }) => [
    row(
      button("now", say("passage.now"), () => tell({ type: "now" }), "big"),
      button("later", say("passage.later"), () => tell({ type: "later" })),
      button("skip", say("passage.skip"), () => tell({ type: "skip" }), "minor")),
  ],
  going: (view) => [hint(view), view.state.level === "reading" ? ends(view) : counter(view)],
  ending: ({ say, tell }) => [
    row(button("back", say("passage.back_to_text"), () => tell({ type: "back" }), "minor")),
  ],
  confirm: (view) => [number(view), answers(view)],
  again: ({ say, tell, final }) => [
    row(
      button("once-more", say("passage.once_more"), () => tell({ type: "once-more" })),
      button("next", say(final ? "finish" : "next"), () => tell({ type: "next" }), "big")),
  ],
  done: () => [],
};

/** @param {...(HTMLElement | false)} buttons */
const row = (...buttons) => el("div", { class: "models" }, ...buttons);

/** What the helper does. @param {PassageView} view */
const hint = ({ state, say }) => el("p", { class: "quiet aside" }, say(`passage.help.${state.level}`));

/** @param {PassageView} view */
const ends = ({ say, tell }) => row(
  button("whole", say("passage.whole"), () => tell({ type: "whole" })),
  button("stopped", say("passage.stopped"), () => tell({ type: "stopped" })));

/** A tap for each slip. @param {PassageView} view */
const counter = ({ state, say, tell }) => row(
  el("button", { type: "button", class: "button hear", "data-key": "slip", onclick: () => tell({ type: "slip" }) },
    el("span", {}, say("passage.slip")), el("strong", { class: "count" }, String(state.heard))),
  state.heard > 0 && button("take-back", say("passage.take_back"), () => tell({ type: "take-back" }), "minor"),
  button("over", say("passage.over"), () => tell({ type: "over" })));

/** @param {PassageState} state @param {Say} say */
function question(state, say) {
  const { targets } = upTo(state);
  const slipped = state.number;
  if (slipped === null) return say("passage.remember");
  if (targets === null) return slipped ? say("passage.right", { slips: say.count("passage.slips", slipped) }) : say("passage.none_right");
  const sounds = say.count("passage.sounds", targets);
  return slipped ? say("passage.reading_right", { sounds, slips: say.count("passage.unclear", slipped) }) : say("passage.all_right", { sounds });
}

/** The number, to be put right; from memory it is not there until somebody gives it. @param {PassageView} view */
function number({ state, say, tell }) {
  const step = (/** @type {"fewer" | "more"} */ type, /** @type {string} */ sign, /** @type {string} */ label, /** @type {boolean} */ asleep) =>
    el("button", { type: "button", class: "button", "data-key": type, "aria-label": label, "aria-disabled": asleep && "true", onclick: () => tell({ type }) }, sign);
  const most = upTo(state).targets ?? Infinity;
  return el("div", { class: "stepper", role: "group", "aria-label": say("passage.number") },
    state.number === null && button("none", say("passage.none"), () => tell({ type: "none" })),
    step("fewer", "−", say("passage.fewer"), !state.number),
    el("strong", { class: "count" }, state.number === null ? "?" : String(state.number)),
    step("more", "+", say("passage.more"), state.number !== null && state.number >= most));
}

/** @param {PassageView} view */
const answers = ({ state, say, tell }) => row(
  button("back", say("passage.change"), () => tell({ type: "back" }), "minor"),
  button("uncounted", say("passage.uncounted"), () => tell({ type: "uncounted" }), "minor"),
  state.number !== null && button("yes", say("passage.yes"), () => tell({ type: "yes" }), "big"));
