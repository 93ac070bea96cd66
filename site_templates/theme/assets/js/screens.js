// The screen of a try. No state of its own.

import { button, el, ring, sign } from "./dom.js";
import { notes, progress, topRow } from "./frame.js";
import { promptLine } from "./prompts.js";
import { MARKS } from "./record.js";
import { awake, clientFirst, modelOf, needsModel, task } from "./run.js";

/** @import { ItemData, Mark, PageData, Run, Task } from "../../../types" */
/** @typedef {ReturnType<typeof import("./dom.js").wordsOf>} Say */

/**
 * What the buttons of all screens do.
 * @typedef {object} Actions
 * @property {() => void} hear
 * @property {() => void} said     the helper gave the model
 * @property {() => void} decline  no model is wanted
 * @property {() => void} hurry    it was said before the wait was over
 * @property {() => void} change   the last mark
 * @property {() => void} keep     it stays as it is
 * @property {() => void} hearLast
 * @property {() => void} retry    once more after a miss
 * @property {() => void} pause
 * @property {() => void} reveal
 * @property {(mark: Mark) => void} mark
 * @property {(item: string) => void} choose
 * @property {() => void} chooseAgain
 * @property {(item: string) => void} report
 * @property {(mark: Mark) => void} own  what the client heard, before the helper tells
 * @property {() => void} tooHard
 * @property {() => void} pace     words come by themselves, or not any more
 * @property {() => void} sound    clips again, or the helper's voice in their place
 * @property {() => void} home     to where it was started
 * @property {() => void} look
 * @property {() => void} next
 * @property {() => void} goOn
 * @property {() => void} stop
 * @property {(note: string) => void} note
 * @property {() => void} takeOffer
 * @property {() => void} leaveOffer   not now
 * @property {() => void} refuseOffer  never again
 */

/**
 * What is only seen, and never kept.
 * @typedef {object} View
 * @property {boolean} playing
 * @property {"" | "connection" | "volume"} trouble  why the last clip did not play
 * @property {boolean} paced   words come by themselves
 * @property {number} span     seconds in which the try is waited for; 0 for none
 * @property {boolean} revealed  the helper looked at the word
 * @property {boolean} kept    the device keeps the marks
 * @property {boolean} resting  a new word has just come: taps meant for the last one are not taken
 * @property {boolean} stopping  whether to stop is asked
 * @property {import("./offering.js").Offered | null} offered  under the end
 * @property {import("./hear-yourself.js").HearYourself | null} yourself  where the client may hear the own try
 * @property {import("./ending.js").Ending | null} ending  what ends a sitting besides, once it has
 */

/** @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {Actions} actions */
export function taskScreen(run, page, say, view, actions) {
  const now = /** @type {Task} */ (task(run));
  return el("div", { class: `screen task ${now.round.support}` },
    topRow(run, say, actions),
    progress(run),
    notes(view, say, actions),
    el("div", { class: "word-area" }, ...shown(now, run, page, view, say, actions), waiting(run, page, view)),
    el("div", { class: "controls" },
      promptLine(run, say, view),
      el("div", { class: "models" }, ...modelButtons(run, now, say, view, actions)),
      markButtons(run, say, view, actions)));
}

/** The quiet before a delayed try; when words come by themselves, the time for the try. @param {Run} run @param {PageData} page @param {View} view */
function waiting(run, page, view) {
  if (run.phase === "wait") return ring(page.pause);
  const framed = Boolean(task(run)?.item.picture) && task(run)?.round.show !== "print"; // around nothing it is only a line
  return framed && view.span > 0 && ["ask", "say"].includes(run.phase) && ring(view.span);
}

/**
 * The picture, the print or both. Without a picture the print is shown, whatever was planned.
 * @param {Task} now @param {Run} run @param {PageData} page @param {View} view @param {Say} say
 * @param {Actions} actions
 */
function shown({ round, item }, run, page, view, say, actions) {
  const picture = round.show === "print" ? null : item.picture;
  const print = !picture || round.show !== "picture" || ["marked", "again", "amend"].includes(run.phase) || view.revealed;
  // Beside the word itself a picture with the same name would only be read out twice.
  const alt = picture && print && picture.alt.toLowerCase() === item.text.toLowerCase() ? "" : picture?.alt;
  return [
    picture && el("img", { class: "drawing", src: picture.src, alt, lang: alt ? page.language : null, width: 480, height: 480 }),
    print ? wordOf(item, page, run.phase === "hear" && round.form === "long" ? item.long : null) : button("reveal", say("reveal"), actions.reveal, "minor"),
  ];
}

/**
 * heard: the clip that plays now and holds the sound; a line runs along its letters as long as it does.
 * @param {ItemData} item @param {PageData} page @param {ItemData["long"]} heard
 */
function wordOf(item, page, heard) {
  const size = item.text.length > 24 ? "sentence" : item.text.length > 10 ? "phrase" : "";
  return el("p", { class: `item-text ${size}`.trim(), dir: "auto", lang: page.language },
    ...item.letters.map(([text, target]) => (target ? timed(el("span", { class: "target" }, text), heard) : text)));
}

/** @param {HTMLElement} letters @param {ItemData["long"]} heard */
function timed(letters, heard) {
  if (!heard || heard.start === null || heard.end === null) return letters;
  letters.classList.add("held");
  letters.style.setProperty("--from", `${heard.start}s`);
  letters.style.setProperty("--for", `${heard.end - heard.start}s`);
  return letters;
}

/** How a model is had, or done without, and the own try heard. @param {Run} run @param {Task} now @param {Say} say @param {View} view @param {Actions} actions */
function modelButtons(run, now, say, { yourself }, actions) {
  if (run.phase === "amend") return [hearAgain(run, now, say, actions), button("keep", say("keep"), actions.keep, "minor")];
  if (run.phase === "again") {
    return [yourself?.compare(run) ?? hearAgain(run, now, say, actions), button("retry", say("retry"), actions.retry), button("go-on", say("go_on"), actions.goOn)];
  }
  const instead = yourself?.instead(run);
  if (instead) return instead;
  const alone = now.round.support === "spontaneous";
  const [clip, wanted, fresh] = [modelOf(run, now), needsModel(run), run.phase === "ask"];
  const busy = run.phase === "hear" || run.phase === "marked";
  const hear = clip && el("button", {
    type: "button", class: `button hear${wanted && fresh ? " big" : ""}`, "data-key": "hear", "aria-disabled": run.phase === "marked" && "true",
    onclick: actions.hear,
  }, sign("hear"), el("span", {}, say(run.played ? "hear_again" : alone ? "hear_help" : "hear")));
  const said = now.helped && (clip ? wanted && fresh : !busy)
    && button("said", say(run.played ? "said_again" : alone ? "said_help" : "said"), actions.said, clip ? "minor" : wanted && fresh ? "big" : "");
  const decline = wanted && fresh && button("decline", say("decline"), actions.decline, "minor");
  const hurry = run.phase === "wait" && button("hurry", say("hurry"), actions.hurry, "minor");
  return [hear, said, decline, hurry, yourself?.record(run) ?? null];
}

/** @param {Run} run @param {Task} now @param {Say} say @param {Actions} actions */
function hearAgain(run, now, say, actions) {
  return modelOf(run, now)
    && el("button", { type: "button", class: "button hear", "data-key": "hear", onclick: actions.hear }, sign("hear"), el("span", {}, say("hear")));
}

/** They ask the client first where the program wants it. They sleep until the model was heard or declined, and for a moment after a new word. @param {Run} run @param {Say} say @param {View} view @param {Actions} actions */
function markButtons(run, say, view, actions) {
  const sleeping = !awake(run);
  const given = run.phase === "amend" ? run.trials[run.trials.length - 1].mark : run.mark;
  const own = clientFirst(run);
  return el("div", { class: `marks${sleeping ? " sleeping" : ""}${own ? " own" : ""}`, role: "group", "aria-label": say(own ? "own.label" : "marks_label") },
    ...MARKS.map((mark) =>
      el("button", {
        type: "button", class: `mark ${mark}`, "data-key": mark, "aria-pressed": String(given === mark),
        "aria-disabled": (sleeping || view.resting) && "true", onclick: () => (own && mark !== "not_tried" ? actions.own : actions.mark)(mark),
      }, sign(mark), el("span", {}, say(`marks.${mark}`)))));
}
