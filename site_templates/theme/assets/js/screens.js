// What the rounds look like: each function draws one screen from a state. No state of its own.

import { el, ring, sign } from "./dom.js";
import { MARKS, counts, tries } from "./record.js";
import { awake, clipOf, isOver, lastMarked, needsModel, task, testClip } from "./rounds.js";

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
  return el("div", { class: `screen task ${now.round.support}` },
    topRow(run, say, actions),
    progress(run),
    el("div", { class: "word-area" }, ...shown(now, run, page, view, say, actions), run.phase === "wait" && ring(page.pause), notes(view, say)),
    el("div", { class: "controls" },
      promptLine(run, page, say, view),
      el("div", { class: "models" }, ...(run.phase === "amend" ? amendButtons(now, say, actions) : modelButtons(run, now, say, actions))),
      markButtons(run, say, view, actions)));
}

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
  const [all, done] = [run.tasks.length, run.phase === "amend" ? run.at + 1 : run.at];
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

/**
 * The picture, the print or both. Without a picture the print is shown, whatever was planned.
 * @param {Task} now @param {Run} run @param {PageData} page @param {View} view @param {Say} say
 * @param {Actions} actions
 */
function shown({ round, item }, run, page, view, say, actions) {
  const picture = round.show === "print" ? null : item.picture;
  const print = !picture || round.show !== "picture" || ["marked", "amend"].includes(run.phase) || view.revealed;
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

/** What comes now, with a drawing for who cannot read. @param {Run} run @param {PageData} page @param {Say} say @param {View} view */
export function promptLine(run, page, say, view) {
  const text = shownPrompt(run, page, say, view);
  const drawn = promptSign(run, view);
  return el("p", { class: "prompt" }, drawn && sign(drawn), el("span", { dir: "auto" }, text));
}

/** Ear, still hand, open mouth; none where something else is asked for. @param {Run} run @param {View} view */
function promptSign(run, view) {
  if (run.phase === "amend" || (task(run)?.pair && run.phase !== "say")) return null;
  if (run.phase === "wait") return "wait";
  if (view.playing || run.phase === "hear" || (run.phase === "ask" && needsModel(run))) return "ear";
  return "mouth";
}

/** Before a try the reminder takes the place of what the drawing says. @param {Run} run @param {PageData} page @param {Say} say @param {View} view */
function shownPrompt(run, page, say, view) {
  const now = /** @type {Task} */ (task(run));
  const tries = ["say", "marked"].includes(run.phase) || (run.phase === "ask" && now.round.support === "spontaneous");
  return page.reminder && tries && !view.playing && !now.pair ? page.reminder : prompt(run, say, view);
}

/** @param {Run} run @param {Say} say @param {View} view */
export function prompt(run, say, view) {
  const now = /** @type {Task} */ (task(run));
  if (now.pair) return contrastPrompt(run, say, view);
  if (run.phase === "amend") return say("amend");
  if (view.playing || run.phase === "hear") return say("playing");
  if (run.phase === "wait") return say("wait");
  if (run.phase === "say" || run.phase === "marked") {
    return say(now.round.form === "long" ? "say_long" : run.waited ? "say_now" : "say");
  }
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

/**
 * What a screen reader says: where the run stands, the word and what comes; then only what changes.
 * Nothing while a clip plays or while a mark shows.
 * @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {string} before
 */
export function statusText(run, page, say, view, before) {
  const now = task(run);
  if (!now || isOver(run) || run.phase === "interlude") return "";
  if (now.pair) return prompt(run, say, view);
  if (run.phase === "marked") return before;
  if (view.playing || run.phase === "hear") return "";
  const text = prompt(run, say, view);
  if (run.phase === "ask") {
    const start = say("status", { place: say("of", { at: run.at + 1, all: run.tasks.length }), word: now.item.text, text });
    return page.reminder && now.round.support === "spontaneous" ? `${start} ${page.reminder}` : start;
  }
  return page.reminder && run.phase === "say" ? `${text} ${page.reminder}` : text;
}

/** How a model is had, or done without. @param {Run} run @param {Task} now @param {Say} say @param {Actions} actions */
function modelButtons(run, now, say, actions) {
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
function amendButtons({ item, round }, say, actions) {
  const clip = clipOf(item, round);
  return [
    clip && el("button", { type: "button", class: "button hear", "data-key": "hear", onclick: actions.hear }, sign("hear"), el("span", {}, say("hear_again"))),
    button("keep", say("keep"), actions.keep, "minor"),
  ];
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
