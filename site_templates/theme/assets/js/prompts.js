// What is asked for now: the line above the buttons, and what a screen reader says.

import { el, sign, spoken } from "./dom.js";
import { placeText } from "./frame.js";
import { displayOrder } from "./pairs.js";
import { awake, clientFirst, isOver, modelOf, needsModel, task } from "./run.js";

/** @import { ItemData, Run, Task } from "../../../types" */
/** @import { Say, View } from "./screens.js" */

/** What comes now, with a drawing for who cannot read. @param {Run} run @param {Say} say @param {View} view */
export function promptLine(run, say, view) {
  const text = shownPrompt(run, say, view);
  const drawn = promptSign(run, view);
  return el("p", { class: "prompt" }, drawn && sign(drawn), el("span", { dir: "auto" }, ...say.shown(text)));
}

/** Ear, still hand, open mouth; none where something else is asked for. @param {Run} run @param {View} view */
function promptSign(run, view) {
  if (run.phase === "amend" || run.phase === "again" || (task(run)?.pair && run.phase !== "say")) return null;
  if (clientFirst(run) || run.own !== null) return null;
  if (run.phase === "wait") return "wait";
  if (view.yourself?.there()) return null;
  if (view.playing || run.phase === "hear" || (run.phase === "ask" && needsModel(run))) return "ear";
  return "mouth";
}

/** Before a try the reminder takes the place of what the drawing says. @param {Run} run @param {Say} say @param {View} view */
function shownPrompt(run, say, view) {
  const now = /** @type {Task} */ (task(run));
  const tries = ["say", "marked"].includes(run.phase) || (run.phase === "ask" && now.round.support === "spontaneous");
  const asked = now.pair || clientFirst(run) || run.own !== null || now.kind === "warm-up";
  const reminds = now.step.reminder && tries && !view.playing && !asked && !view.yourself?.prompt(run);
  return reminds ? spoken(now.step.reminder) : prompt(run, say, view);
}

/** @param {Run} run @param {Say} say @param {View} view */
export function prompt(run, say, view) {
  const now = /** @type {Task} */ (task(run));
  if (now.pair) return contrastPrompt(run, say, view);
  if (run.phase === "amend") return say("amend");
  if (run.phase === "again" && !view.playing) return say("after_miss", { word: spoken(now.item.text) });
  if (view.playing || run.phase === "hear") return say("playing");
  if (run.phase === "wait") return say("wait");
  const own = view.yourself?.prompt(run);
  if (own) return own;
  if (clientFirst(run) && !view.playing) return say(run.phase === "ask" ? "own.look" : "own.say");
  if (run.own !== null) return say("own.helper");
  if (["say", "marked"].includes(run.phase) && now.kind === "warm-up" && awake(run)) return say("say_and_mark");
  if (run.phase === "say" || run.phase === "marked") {
    return say(now.round.form === "long" ? "say_long" : run.waited ? "say_now" : "say");
  }
  if (!modelOf(run, now) && now.round.support !== "spontaneous") {
    const { form, support } = now.round;
    return say(form === "long" ? "helper_says_long" : support === "delayed" ? "helper_says_delayed" : "helper_says", { word: spoken(now.item.text) });
  }
  return say(`prompt.${now.round.form}.${now.round.support}`);
}

/** @param {Run} run @param {Say} say @param {View} view */
function contrastPrompt(run, say, view) {
  if (view.playing) return say("playing");
  if (run.phase === "ask") return say("contrast.choose");
  if (run.phase === "say") return say("contrast.say");
  if (run.phase === "reported") return say("contrast.confirm");
  if (run.mark === "not_tried") return say("after");
  return say(run.mark === "clear" ? "contrast.same" : "contrast.other");
}

/** What the helper is told beside it, in a contrast round. @param {Run} run @param {Say} say */
export function helperHint(run, say) {
  if (run.phase === "ask") return say("contrast.away");
  const reminder = task(run)?.step.reminder;
  if (run.phase === "say") return reminder ? `${say("remind", { reminder: spoken(reminder) })} · ${say("contrast.listen")}` : say("contrast.listen");
  if (run.phase === "reported") return say("contrast.answer");
  return run.mark === "missed" ? say("contrast.model") : "";
}

/**
 * What a screen reader says: where the run stands, the word and what comes; then only what changes.
 * Nothing while a clip plays or while a mark shows.
 * @param {Run} run @param {Say} say @param {View} view @param {string} before
 */
export function statusText(run, say, view, before) {
  const now = task(run);
  if (!now || isOver(run) || run.phase === "interlude" || now.step.passage) return "";
  const [reminder, word] = [now.step.reminder && spoken(now.step.reminder), spoken(now.item.text)];
  if (now.pair) return pairStatus(run, now.pair, say, view);
  if (run.phase === "marked") return before;
  if (view.playing || run.phase === "hear") return "";
  const text = view.trouble ? `${say(`no_sound.${view.trouble}`)} ${prompt(run, say, view)}` : prompt(run, say, view);
  if (run.phase === "amend") return `${word}: ${text}`;
  const own = view.yourself;
  if (own?.note()) return `${own.note()} ${text}`;
  if (own?.prompt(run)) return text;
  if (run.phase === "ask") {
    const start = say("status", { place: placeText(run, say), word, text });
    return reminder && now.round.support === "spontaneous" ? `${start} ${reminder}` : start;
  }
  return reminder && run.phase === "say" && run.own === null ? `${text} ${reminder}` : text;
}

/**
 * What is asked of both; the two words before one is picked, as they stand on the screen; what was
 * heard, since the helper's tap is no secret; what was picked not before both look.
 * @param {Run} run @param {readonly ItemData[]} pair @param {Say} say @param {View} view
 */
function pairStatus(run, pair, say, view) {
  const text = [prompt(run, say, view), helperHint(run, say)].filter(Boolean).join(" ");
  const nameOf = (/** @type {string | null} */ id) => spoken(pair.find((item) => item.id === id)?.text ?? "");
  if (view.playing) return "";
  if (run.phase === "ask") {
    const [one, other] = displayOrder(run).map((item) => spoken(item.text));
    return say("status", { place: placeText(run, say), word: say("contrast.either", { one, other }), text });
  }
  if (run.phase === "reported") return say("contrast.tapped", { word: nameOf(run.reported), text });
  if (run.phase !== "marked" || !run.chosen) return text;
  return say("contrast.both", { chosen: nameOf(run.chosen), heard: nameOf(run.reported), text });
}
