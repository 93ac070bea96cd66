// What stands around every try: where the run is, the last mark, how much is done, what went wrong.

import { button, el, heading, sign } from "./dom.js";
import { isOver, lastMarked, modelOf, task } from "./run.js";

/** @import { Run } from "../../../types" */
/** @import { Actions, Say, View } from "./screens.js" */

/** Where the run stands, the last mark, and the way out. @param {Run} run @param {Say} say @param {Actions} actions */
export function topRow(run, say, actions) {
  return el("div", { class: "top" }, heading(placeText(run, say), "position"), lastChip(run, say, actions), button("pause", say("stop"), actions.pause, "minor"));
}

/** The same where something else is the heading: what stands around a try stays where it is. @param {Run} run @param {Say} say */
export const placeLine = (run, say) => el("p", { class: "position" }, placeText(run, say));

/** "2 of 16"; or that it is none of the planned tries. @param {Run} run @param {Say} say */
export function placeText(run, say) {
  const kind = task(run)?.kind ?? "planned";
  if (kind !== "planned") return say(`place.${kind}`);
  const done = run.before + run.done + (isOver(run) || run.phase === "amend" ? 0 : 1);
  return say("of", { at: done, all: run.before + run.planned });
}

/** The last try: its mark may be changed, its clip heard. @param {Run} run @param {Say} say @param {Actions} actions */
export function lastChip(run, say, actions) {
  const last = lastMarked(run);
  if (!last) return null;
  const { item } = last.task;
  const [word, mark] = [item.text, say(`marks.${last.trial.mark}`)];
  const part = (/** @type {string} */ key, /** @type {"back" | "hear"} */ kind, /** @type {() => void} */ onclick) =>
    el("button", { type: "button", "data-key": key, "aria-label": say(`last.${key}`, { word }), onclick }, sign(kind), el("span", {}, say(key)));
  return el("div", { class: "last", role: "group", "aria-label": say("last.label", { word, mark }) },
    el("span", { class: "last-mark" }, sign(last.trial.mark), el("span", { class: "last-word", dir: "auto", lang: say.language }, word)),
    part("change", "back", actions.change),
    modelOf(run, last.task) && part("hear_last", "hear", actions.hearLast));
}

const MAX_SINGLE_STEPS = 30; // beyond that a bar: steps of less than 8 px are none

/** How much is done, whatever its marks: a step for each try, or a bar. @param {Run} run */
export function progress(run) {
  const [all, done] = [run.before + run.planned, run.before + run.done];
  if (all > MAX_SINGLE_STEPS) {
    return el("progress", { class: "steps", max: all, value: done, "aria-hidden": "true" });
  }
  return el("div", { class: "steps", "aria-hidden": "true" },
    ...Array.from({ length: all }, (_, i) => el("i", { class: i < done ? "done" : i === done ? "current" : "" })));
}

/** What went wrong with the device, one thing at a time; empty, so that nothing else is drawn anew when it comes. @param {View} view @param {Say} say @param {Actions} actions */
export function notes(view, say, actions) {
  const text = view.trouble ? say(`no_sound.${view.trouble}`) : view.yourself?.note() || (view.kept ? "" : say("not_kept"));
  const again = Boolean(view.trouble) && button("sound", say("sound_again"), actions.sound, "minor");
  return el("div", { class: "notes" }, Boolean(text) && el("p", { class: "note small" }, el("span", {}, text), again));
}
