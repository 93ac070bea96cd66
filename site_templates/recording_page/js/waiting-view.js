// What is seen of recordings that were not kept yet: why, and what can be done.

import { el } from "../../theme/assets/js/dom.js";
import { button, sentence } from "./pieces.js";
import { fileName } from "./recording.js";
import { currentCard } from "./state.js";
import { fileText, storedText, waitingText } from "./wording.js";

/** @import { Recording, State } from "../types" */

/**
 * @typedef {object} LeftoverActions
 * @property {(one: Recording) => void} hear
 * @property {(one: Recording, file: string) => void} save
 * @property {(one: Recording) => void} discard
 */

/** The recording in hand, where something came between. @param {State} state @param {{ save: () => void, discard: () => void }} actions */
export function waitingView(state, { save, discard }) {
  const { cards, folder, away, problem } = state;
  const file = fileName(currentCard(state), cards);
  return el(
    "section", { class: away || problem ? "waiting problem" : "waiting", "aria-label": "Recording that is not kept yet" },
    el("h2", {}, "The recording is still here"),
    el("p", {}, ...sentence(waitingText(state))),
    el("p", {}, storedText(state)),
    away && el("p", {}, fileText(file, folder)),
    el("div", { class: "choices" }, button(`Save as ${file}`, "", save, { key: "save" }), button("Discard", "", discard, { key: "discard" })),
  );
}

/** Recordings of an earlier start of the page that no prompt asks for now. @param {Recording[]} recordings @param {State} state @param {LeftoverActions} actions */
export function leftoverView(recordings, { cards, folder }, actions) {
  const lines = recordings.map((one) => leftover(one, fileName(one.card, one.folder === folder ? cards : []), actions));
  return [el("h2", {}, "Not kept earlier"), el("p", {}, "None of the prompts here asks for it now. Save it as a file, or discard it."), el("ul", {}, ...lines)];
}

/** @param {Recording} one @param {string} file @param {LeftoverActions} actions */
function leftover(one, file, { hear, save, discard }) {
  return el(
    "li", {}, el("p", { class: "name" }, one.card.text), el("p", { class: "quiet" }, `For ${one.folder}`),
    el(
      "div", { class: "choices" },
      button("Hear it", "", () => hear(one), { key: "hear" }),
      button(`Save as ${file}`, "", () => save(one, file), { key: "save" }),
      button("Discard", "", () => discard(one), { key: "discard" }),
    ),
  );
}
