// What comes between two tries: the question whether to stop, a rest, help, an easier step.

import { button, el, heading, spoken } from "./dom.js";
import { lastChip, placeLine, progress } from "./frame.js";
import { wayBack } from "./path.js";
import { task } from "./run.js";

/** @import { Run, Task } from "../../../types" */
/** @import { Actions, Say, View } from "./screens.js" */

/** @param {Run} run @param {Say} say @param {View} view @param {Actions} actions */
export function stopScreen(run, say, view, actions) {
  return el("div", { class: "screen interlude stopping" },
    el("div", { class: "top" }, placeLine(run, say)),
    progress(run),
    el("div", { class: "between" },
      heading(say("stop_title")),
      el("div", { class: "choices" },
        button("go-on", say("go_on"), actions.goOn, "big"),
        tooHardButton(run, say, actions),
        button("stop", say("enough"), actions.stop)),
      el("div", { class: "settings" },
        button("pace", say(view.paced ? "by_hand" : "by_itself"), actions.pace, "minor"),
        button("sound", say(run.spoken ? "sound_again" : "no_clips"), actions.sound, "minor"))));
}

/** To the easier step; where there is none, to one easy word and the end. @param {Run} run @param {Say} say @param {Actions} actions */
function tooHardButton(run, say, actions) {
  const back = wayBack(run);
  return button("too-hard", say.shown(back ? say("too_hard_easier", { step: spoken(back.name) }) : say("too_hard")), actions.tooHard);
}

/** @param {Run} run @param {Say} say @param {Actions} actions */
export function interludeScreen(run, say, actions) {
  const draw = { round: roundScreen, breath: breathScreen, hard: hardScreen, easier: easierScreen }[run.interlude ?? "round"];
  return el("div", { class: `screen interlude ${run.interlude}` },
    el("div", { class: "top" }, placeLine(run, say), lastChip(run, say, actions)),
    progress(run),
    el("div", { class: "between" }, ...draw(run, say, actions)));
}

/** @param {Run} run @param {Say} say @param {Actions} actions */
function roundScreen(run, say, actions) {
  const { round, number, step } = /** @type {Task} */ (task(run));
  const before = run.tasks[run.at - 1];
  const another = before.step.id !== step.id;
  const asks = step.passage ? say(`passage.task.${step.level}`)
    : round.contrast && round.support !== "imitation" ? say("contrast.round") : say(`prompt.${round.form}.${round.support}`);
  return [
    heading(say(before.kind !== "warm-up" ? "round_done" : run.trials.at(-1)?.mark === "clear" ? "warm_up_done" : "ready")),
    another && el("p", { class: "lead" }, el("span", { class: "sound-sign", dir: "auto", lang: say.language }, step.sound), " ", ...say.shown(spoken(step.name))),
    el("p", { class: "lead" }, another || step.passage ? asks : `${say("round", { number })}: ${asks}`),
    another && step.reminder && el("p", { class: "reminder" }, ...say.shown(say("remind", { reminder: spoken(step.reminder) }))),
    el("div", { class: "choices" },
      button("go-on", say(another ? "go_on" : "round_next"), actions.goOn, "big"),
      button("stop", say("enough"), actions.stop)),
  ];
}

/** @param {Run} _run @param {Say} say @param {Actions} actions */
function breathScreen(_run, say, actions) {
  return [
    el("div", { class: "breathing", "aria-hidden": "true" }),
    heading(say("breath")),
    el("p", { class: "lead" }, ...say.caution("breath_text")),
    el("div", { class: "choices" },
      button("go-on", say("go_on"), actions.goOn, "big"),
      button("stop", say("enough"), actions.stop)),
  ];
}

/** The model comes back. @param {Run} run @param {Say} say @param {Actions} actions */
function hardScreen(run, say, actions) {
  return [
    heading(say("hard")),
    el("p", { class: "lead" }, say("hard_text")),
    el("div", { class: "choices" },
      button("go-on", say("go_on"), actions.goOn, "big"),
      tooHardButton(run, say, actions),
      button("stop", say("enough"), actions.stop)),
  ];
}

/** @param {Run} run @param {Say} say @param {Actions} actions */
function easierScreen(run, say, actions) {
  const back = wayBack(run);
  return [
    heading(say("easier_title")),
    el("p", { class: "lead" }, say("easier_text")),
    el("div", { class: "choices" },
      button("too-hard", say.shown(back ? say("go_to", { step: spoken(back.name) }) : say("too_hard")), actions.tooHard, "big"),
      button("go-on", say("stay"), actions.goOn),
      button("stop", say("enough"), actions.stop)),
  ];
}
