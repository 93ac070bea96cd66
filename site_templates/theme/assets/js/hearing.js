// Whether the device can be heard: a word is played, and the ear tells, not the device. No state of its own.

import { button, el, sign } from "./dom.js";
import { testClip } from "./tasks.js";

/** @import { PageData } from "../../../types" */
/** @typedef {ReturnType<typeof import("./dom.js").wordsOf>} Say */

/**
 * heard: what was answered to the last word that was played; "" before one was. keeps: the device keeps
 * what is marked; offline: it has the whole site. stones: what draws the path, once the sitting is done.
 * @typedef {{ loading: boolean, trouble: "" | "connection" | "volume", heard: "" | "ask" | "yes" | "no", keeps: boolean, offline: boolean, stones: (() => HTMLElement) | null }} StartView
 * @typedef {object} HearingActions
 * @property {() => void} test
 * @property {(answer: "yes" | "no") => void} heard
 */

/**
 * The button that plays it, then the question; after a no, what to try. Nothing where nothing is played.
 * @param {Pick<PageData, "steps" | "home" | "hiss">} page @param {Say} say @param {StartView} view @param {HearingActions} actions
 */
export function hearing(page, say, { heard }, actions) {
  if (!testClip(page)) return null;
  const play = el("button", { type: "button", class: "button minor", "data-key": "test", onclick: actions.test },
    sign("hear"), say(heard ? "heard.again" : "test"));
  if (!heard || heard === "yes") return play;
  const answers = [
    el("strong", {}, say("heard.ask")),
    button("heard-yes", say("heard.yes"), () => actions.heard("yes"), "minor"),
    button("heard-no", say("heard.no"), () => actions.heard("no"), "minor"),
  ];
  return el("div", { class: "hearing", role: "group", "aria-label": say("heard.ask") },
    ...(heard === "ask" ? answers : [
      el("p", { class: "note small" }, hearingSaid({ trouble: "", heard }, say), " ",
        page.hiss && el("a", { href: `${page.home}helper/#hiss` }, say("heard.check"))),
      play,
    ]));
}

/** Why nothing was heard, beside the buttons that were tapped for it. @param {StartView} view @param {Say} say */
export const notHeard = (view, say) => view.trouble && el("p", { class: "note small" }, say(`no_sound.${view.trouble}`));

/** The same, and what to try after a no, for who does not see it come. @param {Pick<StartView, "trouble" | "heard">} view @param {Say} say */
export function hearingSaid({ trouble, heard }, say) {
  if (trouble) return say(`no_sound.${trouble}`);
  return heard === "no" ? `${say("heard.try")} ${say("heard.alone")}` : "";
}
