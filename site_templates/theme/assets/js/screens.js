// What the rounds look like: each function draws one screen from a state. No state of its own.

import { button, el, heading, ring, sign } from "./dom.js";
import { lastChip, notes, progress, topRow } from "./frame.js";
import { promptLine } from "./prompts.js";
import { MARKS, counts, tries } from "./record.js";
import { awake, clipOf, needsModel, task, testClip } from "./rounds.js";

/** @import { ItemData, Mark, PageData, Run, Task } from "../../../types" */
/** @typedef {ReturnType<typeof import("./dom.js").wordsOf>} Say */

/**
 * What the buttons of all screens do.
 * @typedef {object} Actions
 * @property {(at: number) => void} start
 * @property {() => void} test
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
 * @property {() => void} look
 * @property {() => void} next
 * @property {() => void} goOn
 * @property {() => void} stop
 * @property {(note: string) => void} note
 */

/**
 * What is only seen, and never kept.
 * @typedef {object} View
 * @property {boolean} playing
 * @property {boolean} loading
 * @property {boolean} silent  the last clip did not play
 * @property {boolean} revealed  the helper looked at the word
 * @property {boolean} kept    the device keeps the marks
 * @property {boolean} resting  a new word has just come: taps meant for the last one are not taken
 * @property {boolean} stopping  whether to stop is asked
 */

/** @param {PageData} page @param {Say} say @param {View} view @param {Actions} actions @param {number} at */
export function startScreen(page, say, view, actions, at) {
  const pictures = page.items.flatMap(({ picture }) => (picture ? [picture] : [])).slice(0, 6);
  return el("div", { class: "screen ready" },
    heading(say("ready")),
    pictures.length > 0 && el("div", { class: "preview-row", "aria-hidden": "true" },
      ...pictures.map(({ src }) => el("img", { class: "drawing", src, alt: "", width: 96, height: 96 }))),
    page.reminder ? el("p", { class: "reminder" }, say("remind", { reminder: page.reminder })) : null,
    page.changes && el("p", { class: "quiet" }, say("changes")),
    el("div", { class: "choices" },
      at > 0 && button("resume", say("again_from", { number: at + 1 }), () => actions.start(at), "big"),
      button("start", view.loading ? say("loading") : at > 0 ? say("afresh") : say("start"),
        () => actions.start(0), at > 0 ? "" : "big"),
      testClip(page) && el("button", { type: "button", class: "button", "data-key": "test", onclick: actions.test }, sign("hear"), say("test"))),
    view.silent && el("p", { class: "note" }, say("no_sound")));
}

/** @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {Actions} actions */
export function taskScreen(run, page, say, view, actions) {
  const now = /** @type {Task} */ (task(run));
  return el("div", { class: `screen task ${now.round.support}` },
    topRow(run, say, actions),
    progress(run),
    el("div", { class: "word-area" }, ...shown(now, run, page, view, say, actions), run.phase === "wait" && ring(page.pause), notes(view, say)),
    el("div", { class: "controls" },
      promptLine(run, page, say, view),
      el("div", { class: "models" }, ...modelButtons(run, now, say, actions)),
      markButtons(run, say, view, actions)));
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
    picture && el("img", { class: "drawing", src: picture.src, alt, width: 480, height: 480 }),
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

/** How a model is had, or done without. @param {Run} run @param {Task} now @param {Say} say @param {Actions} actions */
function modelButtons(run, now, say, actions) {
  if (run.phase === "amend") return [hearAgain(now, say, actions), button("keep", say("keep"), actions.keep, "minor")];
  if (run.phase === "again") {
    return [hearAgain(now, say, actions), button("retry", say("retry"), actions.retry), button("go-on", say("go_on"), actions.goOn)];
  }
  const alone = now.round.support === "spontaneous";
  const [clip, wanted, fresh] = [clipOf(now.item, now.round), needsModel(run), run.phase === "ask"];
  const busy = run.phase === "hear" || run.phase === "marked";
  const hear = clip && el("button", {
    type: "button", class: `button hear${wanted && fresh ? " big" : ""}`, "data-key": "hear", "aria-disabled": run.phase === "marked" && "true",
    onclick: actions.hear,
  }, sign("hear"), el("span", {}, say(run.played ? "hear_again" : alone ? "hear_help" : "hear")));
  const said = now.helped && (clip ? wanted && fresh : !busy)
    && button("said", say(run.played ? "said_again" : alone ? "said_help" : "said"), actions.said, clip ? "minor" : wanted && fresh ? "big" : "");
  const decline = wanted && fresh && button("decline", say("decline"), actions.decline, "minor");
  const hurry = run.phase === "wait" && button("hurry", say("hurry"), actions.hurry, "minor");
  return [hear, said, decline, hurry];
}

/** @param {Task} now @param {Say} say @param {Actions} actions */
function hearAgain({ item, round }, say, actions) {
  return clipOf(item, round)
    && el("button", { type: "button", class: "button hear", "data-key": "hear", onclick: actions.hear }, sign("hear"), el("span", {}, say("hear")));
}

/** They sleep until the model was heard or declined, and for a moment after a new word. @param {Run} run @param {Say} say @param {View} view @param {Actions} actions */
function markButtons(run, say, view, actions) {
  const sleeping = !awake(run);
  const given = run.phase === "amend" ? run.trials[run.trials.length - 1].mark : run.mark;
  return el("div", { class: `marks${sleeping ? " sleeping" : ""}`, role: "group", "aria-label": say("marks_label") },
    ...MARKS.map((mark) =>
      el("button", {
        type: "button", class: `mark ${mark}`, "data-key": mark, "aria-pressed": String(given === mark),
        "aria-disabled": (sleeping || view.resting) && "true", onclick: () => actions.mark(mark),
      }, sign(mark), el("span", {}, say(`marks.${mark}`)))));
}

/** @param {PageData} page @param {Say} say @param {Actions} actions */
export function stopScreen({ easier }, say, actions) {
  return el("div", { class: "screen interlude stopping" },
    heading(say("stop_title")),
    el("div", { class: "choices" },
      button("go-on", say("go_on"), actions.goOn, "big"),
      easier ? el("a", { class: "button", href: easier.href, "data-key": "easier" }, say("too_hard_easier", { step: easier.name }))
        : button("too-hard", say("too_hard"), actions.stop),
      button("stop", say("enough"), actions.stop)));
}

/** @param {Run} run @param {PageData} page @param {Say} say @param {Actions} actions */
export function interludeScreen(run, page, say, actions) {
  const draw = { round: roundScreen, breath: breathScreen, hard: hardScreen }[run.interlude ?? "round"];
  return el("div", { class: `screen interlude ${run.interlude}` }, progress(run), lastChip(run, say, actions), ...draw(run, page, say, actions));
}

/** @param {Run} run @param {PageData} _ @param {Say} say @param {Actions} actions */
function roundScreen(run, _, say, actions) {
  const { round, number } = /** @type {Task} */ (task(run));
  return [
    heading(say("round_done")),
    el("p", { class: "lead" }, `${say("round", { number })}: ${
      round.contrast && round.support !== "imitation" ? say("contrast.round") : say(`prompt.${round.form}.${round.support}`)}`),
    button("go-on", say("round_next"), actions.goOn, "big"),
    button("stop", say("enough"), actions.stop),
  ];
}

/** @param {Run} _run @param {PageData} _page @param {Say} say @param {Actions} actions */
function breathScreen(_run, _page, say, actions) {
  return [
    el("div", { class: "breathing", "aria-hidden": "true" }),
    heading(say("breath")),
    el("p", { class: "lead" }, say("breath_text")),
    button("go-on", say("go_on"), actions.goOn, "big"),
    button("stop", say("enough"), actions.stop),
  ];
}

/** @param {Run} run @param {PageData} page @param {Say} say @param {Actions} actions */
function hardScreen(run, page, say, actions) {
  const { easier } = page;
  return [
    heading(say("hard")),
    el("p", { class: "lead" }, say("hard_text", { misses: run.limits.misses })),
    el("div", { class: "choices" },
      easier && el("a", { class: "button big", href: easier.href, "data-key": "easier" }, say("easier", { step: easier.name })),
      button("stop", say("stop_well"), actions.stop, easier ? "" : "big"),
      button("go-on", say("one_more"), actions.goOn)),
  ];
}

/**
 * Work done for the child, counts for the helper.
 * @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {Actions} actions
 * @param {string} note
 */
export function summaryScreen(run, page, say, view, actions, note) {
  const done = tries(run.trials);
  return el("div", { class: "screen summary" },
    progress(run),
    lastChip(run, say, actions),
    heading(say(run.phase === "done" ? "done" : "enough_done")),
    el("p", { class: "lead" }, done ? say.count("done_tries", done) : say("done_none")),
    el("div", { class: "choices" },
      el("a", { class: "button big", href: page.home, "data-key": "home" }, say("home")),
      button("again", say("practise_again"), () => actions.start(0))),
    el("details", { class: "more" },
      el("summary", { "data-key": "helper" }, say("for_helper")),
      helperPart(run, say, view, actions, note),
      el("p", { class: "links" }, el("a", { href: `${page.home}visit/`, "data-key": "visit" }, say("visit")))));
}

/** @param {Run} run @param {Say} say @param {View} view @param {Actions} actions @param {string} note */
function helperPart(run, say, view, actions, note) {
  const totals = counts(run.trials);
  const area = /** @type {HTMLTextAreaElement} */ (el("textarea", { id: "note", rows: 3, maxlength: 280, "aria-describedby": "note-hint", oninput: () => actions.note(area.value) }));
  area.value = note;
  return el("div", { class: "helper-part" },
    el("h3", {}, say("counts")),
    el("ul", { class: "totals" }, ...MARKS.map((mark) =>
      el("li", {}, sign(mark), el("span", {}, say(`marks.${mark}`)), el("strong", {}, String(totals[mark]))))),
    el("label", { for: "note" }, say("note")),
    area,
    el("p", { id: "note-hint", class: "quiet" }, say("note_hint")),
    el("p", { class: "quiet" }, say(view.kept ? "kept" : "not_kept")));
}
