// Which screen belongs to where a run stands, and what a screen reader says of it. No state of its own.

import { interludeScreen, stopScreen } from "./between.js";
import { contrastScreen } from "./contrast.js";
import { notes, progress, topRow } from "./frame.js";
import { passagePrompt, passageScreen } from "./passage-screen.js";
import { statusText } from "./prompts.js";
import { isOver, task } from "./run.js";
import { taskScreen } from "./screens.js";
import { summaryScreen } from "./summary.js";

/** @import { PageData, Run, Sitting, Task } from "../../../types" */
/** @import { PassageEvent, PassageState } from "./passages.js" */
/** @import { Actions, Say, View } from "./screens.js" */

/**
 * All that is seen. told: the text or talk that is under way; sitting: as the record has it.
 * @typedef {object} Seen
 * @property {Run} run
 * @property {PassageState | null} told
 * @property {Sitting} sitting
 * @property {PageData} page
 * @property {Say} say
 * @property {View} view
 * @property {Actions} actions
 * @property {(event: PassageEvent) => void} tell
 */

/** @param {Seen} seen @returns {HTMLElement} */
export function screenOf({ run, told, sitting, page, say, view, actions, tell }) {
  if (view.stopping) return stopScreen(run, say, view, actions);
  if (isOver(run)) return summaryScreen(run, sitting, page, say, view, actions);
  if (run.phase === "interlude") return interludeScreen(run, say, actions);
  if (!told) return (task(run)?.pair ? contrastScreen : taskScreen)(run, page, say, view, actions);
  return passageScreen({
    state: told, step: /** @type {Task} */ (task(run)).step, say, final: run.at + 1 === run.tasks.length, tell,
    top: topRow(run, say, actions), progress: progress(run), notes: notes(view, say, actions),
  });
}

/** @param {Seen} seen @param {string} before  what was said last */
export function spokenOf({ run, told, say, view }, before) {
  if (view.stopping) return "";
  const step = run.phase === "ask" && task(run)?.step;
  return step && told ? passagePrompt(told, step, say) : statusText(run, say, view, before);
}
