// The screen of a contrast round. No state of its own.

import { button, el, sign } from "./dom.js";
import { notes, progress, topRow } from "./frame.js";
import { helperHint, promptLine } from "./prompts.js";
import { displayOrder } from "./pairs.js";
import { task } from "./run.js";

/** @import { ItemData, PageData, Run } from "../../../types" */
/** @import { Actions, Say, View } from "./screens.js" */

/** Letters of a word that stands in its full size on a card of a telephone. */
const MAX_LARGE_LETTERS = 6;

/**
 * Two pictures: the child taps one unseen, the helper the one that was heard. Between the two taps
 * nothing on the screen depends on the first.
 * @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {Actions} actions
 */
export function contrastScreen(run, page, say, view, actions) {
  const both = displayOrder(run);
  const size = both.some(({ text }) => text.length > MAX_LARGE_LETTERS) ? "long" : "";
  return el("div", { class: "screen task contrast" },
    topRow(run, say, actions),
    progress(run),
    notes(view, say, actions),
    el("div", { class: `word-area two ${size}`.trim(), role: "group", "aria-label": say("contrast.two") },
      ...both.map((item) => card(item, run, page, say, actions))),
    el("div", { class: "controls" },
      promptLine(run, say, view),
      el("p", { class: "quiet aside" }, ...say.shown(helperHint(run, say))),
      el("div", { class: "models" }, ...contrastButtons(run, say, actions))));
}

/** One of the two. @param {ItemData} item @param {Run} run @param {PageData} page @param {Say} say @param {Actions} actions */
function card(item, run, page, say, actions) {
  const parts = [
    item.picture && el("img", { class: "drawing", src: item.picture.src, alt: "", width: 360, height: 360 }),
    el("span", { class: "item-text", dir: "auto", lang: page.language }, item.text),
  ];
  if (run.phase === "marked") {
    const signs = [run.chosen === item.id && say("contrast.chosen"), run.reported === item.id && say("contrast.heard")];
    return el("div", { class: `side${signs.some(Boolean) ? " answered" : ""}` }, ...parts,
      el("span", { class: "tags" }, ...signs.map((text) => text && el("strong", { class: "tag" }, text))));
  }
  const choosing = run.phase === "ask";
  return el("button", {
    type: "button", class: "side", "data-key": `side-${item.id}`,
    "aria-pressed": choosing ? null : String(run.reported === item.id),
    onclick: () => (choosing ? actions.choose : actions.report)(item.id),
  }, ...parts);
}

/** @param {Run} run @param {Say} say @param {Actions} actions */
function contrastButtons(run, say, actions) {
  const last = run.at + 1 === run.tasks.length;
  const hear = (/** @type {string} */ name) =>
    el("button", { type: "button", class: "button hear", "data-key": "hear", onclick: actions.hear }, sign("hear"), say(name));
  const skip = button("not_tried", say("marks.not_tried"), () => actions.mark("not_tried"), "minor");
  const hasClips = !run.spoken && (task(run)?.pair?.every((item) => item.natural) ?? false);
  if (run.phase === "ask") return [hasClips && hear("contrast.hear_both"), skip];
  if (run.phase === "say") {
    return [button("again", say("contrast.again"), actions.chooseAgain, "minor"), skip];
  }
  if (run.phase === "reported") return [button("look", say("contrast.look"), actions.look, "next big")];
  return [run.chosen && hasClips && hear("hear_after"), button("next", say(last ? "finish" : "next"), actions.next, "next big")];
}
