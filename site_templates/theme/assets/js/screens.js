// What the rounds look like: each function draws one screen from a state. No state of its own.

import { el, sign } from "./dom.js";
import { MARKS, counts, tries } from "./record.js";
import { clipOf, task, testClip } from "./rounds.js";

/** @import { ItemData, Mark, PageData, Run, Task } from "../../../types" */
/** @typedef {ReturnType<typeof import("./dom.js").wordsOf>} Say */

/**
 * What the buttons of all screens do.
 * @typedef {object} Actions
 * @property {(at: number) => void} start
 * @property {() => void} test
 * @property {() => void} hear
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
 */

/** @param {string} key @param {string} label @param {() => void} onclick @param {string} [classes] */
export const button = (key, label, onclick, classes = "") =>
  el("button", { type: "button", class: `button ${classes}`.trim(), "data-key": key, onclick }, label);

/** @param {string} text @param {string} [classes] */
const heading = (text, classes = "") => el("h2", { tabindex: -1, class: classes, "data-key": "heading" }, text);

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
  const last = run.at + 1 === run.tasks.length;
  return el("div", { class: `screen task ${now.round.support}` },
    topRow(run, now, say, actions),
    progressDots(run),
    el("div", { class: "word-area" }, ...shown(now, run, page, view, say, actions)),
    el("div", { class: "controls" },
      el("p", { class: "prompt" }, prompt(run, now, say, view)),
      page.reminder ? el("p", { class: "reminder" }, say("remind", { reminder: page.reminder })) : null,
      hearButton(run, now, say, actions),
      view.silent && el("p", { class: "note small" }, say("no_sound")),
      markButtons(run, say, actions),
      button("next", say(last ? "finish" : "next"), actions.next, `next big${run.phase === "marked" ? "" : " invisible"}`),
      !view.kept && el("p", { class: "note small" }, say("not_kept"))));
}

/** @param {Run} run @param {Task} now @param {Say} say @param {Actions} actions */
export function topRow(run, now, say, actions) {
  const place = say("of", { at: run.at + 1, all: run.tasks.length });
  return el("div", { class: "top" },
    heading(`${say("round", { number: now.number })} · ${place}`, "position"),
    button("stop", say("enough"), actions.stop));
}

/** One dot for each try, filled when it is done, whatever its mark. @param {Run} run */
export function progressDots(run) {
  const done = run.phase === "done" ? run.tasks.length : run.at;
  const kind = (/** @type {number} */ i) => (i < done ? "done" : i === done ? "current" : "");
  return el("div", { class: "dots", "aria-hidden": "true" },
    ...run.tasks.map((_, i) => el("i", { class: kind(i) })));
}

/**
 * The picture, the print or both. Without a picture the print is shown, whatever was planned.
 * @param {Task} now @param {Run} run @param {PageData} page @param {View} view @param {Say} say
 * @param {Actions} actions
 */
function shown({ round, item }, run, page, view, say, actions) {
  const picture = round.show === "print" ? null : item.picture;
  const print = !picture || round.show !== "picture" || run.phase === "marked" || view.revealed;
  // Beside the word itself a picture with the same name would only be read out twice.
  const alt = picture && print && picture.alt.toLowerCase() === item.text.toLowerCase() ? "" : picture?.alt;
  return [
    picture && el("img", { class: "drawing", src: picture.src, alt, width: 480, height: 480 }),
    print ? wordOf(item, page) : button("reveal", say("reveal"), actions.reveal, "minor"),
  ];
}

/** @param {ItemData} item @param {PageData} page */
function wordOf(item, page) {
  const size = item.text.length > 24 ? "sentence" : item.text.length > 10 ? "phrase" : "";
  return el("p", { class: `item-text ${size}`.trim(), dir: "auto", lang: page.language },
    ...item.letters.map(([text, target]) => (target ? el("span", { class: "target" }, text) : text)));
}

/** @param {Run} run @param {Task} now @param {Say} say @param {View} view */
export function prompt(run, now, say, view) {
  if (now.pair) return contrastPrompt(run, say, view);
  if (run.phase === "marked") return say("after");
  if (view.playing) return say("playing");
  if (run.phase === "wait") return say("wait");
  if (run.phase === "say") return say(run.waited ? "say_now" : "say");
  if (!clipOf(now.item, now.round) && now.round.support !== "spontaneous") {
    return say(now.round.form === "long" ? "helper_says_long" : "helper_says");
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

/** @param {Run} run @param {Task} now @param {Say} say @param {Actions} actions */
function hearButton(run, now, say, actions) {
  const alone = now.round.support === "spontaneous";
  const name = run.phase === "marked" ? "hear_after" : run.played ? "hear_again" : alone ? "hear_help" : "hear";
  const classes = alone || run.phase === "marked" ? "hear" : "hear big";
  if (!clipOf(now.item, now.round)) {
    return now.helped && run.phase !== "marked" && helperSaidButton(run, alone, say, actions, classes);
  }
  return el("button", { type: "button", class: `button ${classes}`, "data-key": "hear", onclick: actions.hear }, sign("hear"), say(name));
}

/** Where there is no clip the helper says the word, and tells when that is done.
 * @param {Run} run @param {boolean} alone @param {Say} say @param {Actions} actions @param {string} classes */
function helperSaidButton(run, alone, say, actions, classes) {
  const name = run.played ? "said_again" : alone ? "said_help" : "said";
  return button("hear", say(name), actions.hear, classes);
}

/** @param {Run} run @param {Say} say @param {Actions} actions */
function markButtons(run, say, actions) {
  return el("div", { class: "mark-group", role: "group", "aria-labelledby": "mark-label" },
    el("p", { id: "mark-label", class: "quiet" }, say("marks_label")),
    el("div", { class: "marks" }, ...MARKS.map((mark) =>
      el("button", {
        type: "button", class: `mark ${mark}`, "data-key": mark,
        "aria-pressed": String(run.mark === mark), onclick: () => actions.mark(mark),
      }, sign(mark), say(`marks.${mark}`)))));
}

/** @param {Run} run @param {PageData} page @param {Say} say @param {Actions} actions */
export function interludeScreen(run, page, say, actions) {
  const draw = { round: roundScreen, breath: breathScreen, hard: hardScreen }[run.interlude ?? "round"];
  return el("div", { class: `screen interlude ${run.interlude}` }, progressDots(run), ...draw(run, page, say, actions));
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
    progressDots(run),
    heading(say(run.phase === "done" ? "done" : "enough_done")),
    el("p", { class: "lead" }, done ? say.count("done_tries", done) : say("done_none")),
    el("div", { class: "choices" },
      el("a", { class: "button big", href: page.home, "data-key": "home" }, say("home")),
      button("again", say("practise_again"), () => actions.start(0))),
    el("details", { class: "more" },
      el("summary", { "data-key": "helper" }, say("for_helper")),
      helperPart(run, say, view, actions, note)));
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
