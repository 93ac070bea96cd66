// What stands around every try: where the run is, the last mark, how much is done, what went wrong.

import { button, el, heading, sign } from "./dom.js";
import { clipOf, lastMarked } from "./rounds.js";

/** @import { Run } from "../../../types" */
/** @import { Actions, Say, View } from "./screens.js" */

/** Where the run stands, the last mark, and the way out. @param {Run} run @param {Say} say @param {Actions} actions */
export function topRow(run, say, actions) {
  const place = say("of", { at: Math.min(run.at + 1, run.tasks.length), all: run.tasks.length });
  return el("div", { class: "top" }, heading(place, "position"), lastChip(run, say, actions), button("pause", say("stop"), actions.pause, "minor"));
}

/** The last try: its mark may be changed, its clip heard. @param {Run} run @param {Say} say @param {Actions} actions */
export function lastChip(run, say, actions) {
  const last = lastMarked(run);
  if (!last) return null;
  const { item, round } = last.task;
  const [word, mark] = [item.text, say(`marks.${last.trial.mark}`)];
  const part = (/** @type {string} */ key, /** @type {"back" | "hear"} */ kind, /** @type {() => void} */ onclick) =>
    el("button", { type: "button", "data-key": key, "aria-label": say(`last.${key}`, { word }), onclick }, sign(kind), el("span", {}, say(key)));
  return el("div", { class: "last", role: "group", "aria-label": say("last.label", { word, mark }) },
    el("span", { class: "last-mark" }, sign(last.trial.mark), el("span", { class: "last-word", dir: "auto" }, word)),
    part("change", "back", actions.change),
    clipOf(item, round) && part("hear_last", "hear", actions.hearLast));
}

const MAX_SINGLE_STEPS = 30; // beyond that a bar: steps of less than 8 px are none

/** How much is done, whatever its marks: a step for each try, or a bar. @param {Run} run */
export function progress(run) {
  const [all, done] = [run.tasks.length, run.at];
  if (all > MAX_SINGLE_STEPS) {
    return el("progress", { class: "steps", max: all, value: done, "aria-hidden": "true" });
  }
  return el("div", { class: "steps", "aria-hidden": "true" },
    ...run.tasks.map((_, i) => el("i", { class: i < done ? "done" : i === done ? "current" : "" })));
}

/** What went wrong with the device; it lies over the picture. @param {View} view @param {Say} say */
export function notes(view, say) {
  const texts = [view.silent && say("no_sound"), !view.kept && say("not_kept")].filter((text) => text !== false);
  return texts.length > 0 && el("div", { class: "notes" }, ...texts.map((text) => el("p", { class: "note small" }, text)));
}
