// The card with which today's page begins: where the sitting of now stands, and one button for all of
// it. No state of its own.

import { button, el, heading, spoken } from "./dom.js";
import { hearing, notHeard } from "./hearing.js";
import { deviceLines } from "./start-screen.js";

/** @import { Next, PageData, Standing } from "../../../types" */
/** @typedef {ReturnType<typeof import("./dom.js").wordsOf>} Say */

/**
 * What the card does; what a page of rounds does before it begins, besides.
 * @typedef {import("./hearing.js").HearingActions & CardOwn} CardActions
 * @typedef {object} CardOwn
 * @property {(from: number, left: number, minutes: number) => void} start
 * @property {() => void} pausePractice
 * @property {() => void} resumePractice
 */

const MAX_PICTURES = 6;

/**
 * @param {Standing} here @param {Pick<PageData, "steps" | "home" | "hiss">} page @param {Say} say
 * @param {import("./hearing.js").StartView} view @param {CardActions} actions
 */
export function todayCard(here, page, say, view, actions) {
  const { kind } = here;
  const starts = kind === "ready" || kind === "begun";
  return el("div", { class: `screen ready today ${kind}` },
    headingOf(here, say),
    kind === "begun" && el("p", { class: "lead" }, say("today.begun_text")),
    kind === "paused" && el("p", { class: "lead" }, say("today.paused_text")),
    here.next && el("p", { class: "lead" }, say("today.next", { when: whenOf(here.next, say) })),
    here.newSheet && kind !== "paused" && el("p", { class: "note small new-sheet" }, ...say.caution("today.new_sheet")),
    kind === "done" && view.stones !== null && view.stones(),
    ...(starts ? [previewRow(page), ...reminders(page, say)] : []),
    el("div", { class: "choices" },
      mainButton(here, say, view, actions),
      kind === "ready" && hearing(page, say, view, actions),
      notHeard(view, say)),
    kind !== "paused" && pausePart(say, actions),
    ...deviceLines(view, say));
}

/** @param {Standing} here @param {Say} say */
function headingOf({ kind, time }, say) {
  if (kind === "ready") return heading(say(`today.now.${time}`));
  if (kind !== "done") return heading(say(`today.${kind}`));
  const done = heading(say(`today.done.${time}`));
  done.prepend(el("span", { "aria-hidden": "true" }, "✓ "));
  return done;
}

/**
 * What is there to do now; no more than one button is loud.
 * @param {Standing} here @param {Say} say @param {{ loading: boolean }} view @param {CardActions} actions
 */
function mainButton({ kind, from, left, minutesLeft, about }, say, view, actions) {
  if (kind === "paused") return button("unpause", say("today.unpause"), actions.resumePractice, "big");
  const start = () => actions.start(from, left, minutesLeft);
  const minutes = say.count("today.about", about);
  const [key, label, classes] = {
    ready: ["start", say("today.start", { minutes }), "big"],
    begun: ["resume", say("today.go_on", { minutes }), "big"],
    done: ["once-more", say("today.once_more"), ""],
    free: ["start", say("today.anyway"), ""],
  }[kind];
  return button(key, view.loading ? say("loading") : label, start, classes);
}

/** Some of what comes up, of each step in turn. @param {Pick<PageData, "steps">} page */
function previewRow({ steps }) {
  const shown = steps.map(({ items }) => items.flatMap(({ picture }) => picture ?? []));
  const longest = Math.max(0, ...shown.map((pictures) => pictures.length));
  const inTurn = Array.from({ length: longest }, (_, at) => shown.flatMap((pictures) => pictures[at] ?? [])).flat();
  const pictures = inTurn.filter(({ src }, at) => inTurn.findIndex((other) => other.src === src) === at).slice(0, MAX_PICTURES);
  if (pictures.length === 0) return null;
  return el("div", { class: "preview-row", "aria-hidden": "true" },
    ...pictures.map(({ src }) => el("img", { class: "drawing", src, alt: "", width: 96, height: 96 })));
}

/**
 * What is said before a try, each once; with its sound where there are several.
 * @param {Pick<PageData, "steps">} page @param {Say} say
 */
function reminders({ steps }, say) {
  const given = steps.filter(({ reminder }, at) => reminder && steps.findIndex((other) => other.reminder === reminder) === at);
  return given.map(({ reminder, sound }) => el("p", { class: "reminder", dir: "auto" },
    given.length > 1 && el("span", { class: "sound-sign", lang: say.language }, sound), el("span", {}, ...say.shown(say("remind", { reminder: spoken(reminder) })))));
}

/** As people say it: this evening, tomorrow morning, Monday at midday. @param {Next} next @param {Say} say */
function whenOf({ days, day, time }, say) {
  if (days === 0) return say(`today.when.today.${time}`);
  const at = say(`today.when.times.${time}`);
  return days === 1 ? say("today.when.tomorrow", { time: at }) : say("today.when.later", { day: say(`today.when.days.${day}`), time: at });
}

/** Kept on this device alone: nobody is told. @param {Say} say @param {CardActions} actions */
function pausePart(say, actions) {
  return el("details", { class: "more" },
    el("summary", { "data-key": "pause" }, say("today.pause_ask")),
    el("p", {}, say("today.pause_text")),
    button("pause-practice", say("today.pause"), actions.pausePractice));
}
