// What stands before the rounds of one step. No state of its own.

import { button, el, heading, spoken } from "./dom.js";
import { hearing, notHeard } from "./hearing.js";

/** @import { PageData } from "../../../types" */
/** @import { HearingActions, StartView } from "./hearing.js" */
/** @import { Say } from "./screens.js" */

/**
 * What can be done before practice. more: one more sitting, though this one is done.
 * @typedef {HearingActions & StartOwn} StartActions
 * @typedef {object} StartOwn
 * @property {(from: number, left: number, minutes: number, more?: boolean) => void} start
 * @property {() => void} pausePractice
 * @property {() => void} resumePractice
 */

/** @param {PageData} page @param {Say} say @param {StartView} view @param {StartActions} actions @param {number} at @param {number} all */
export function startScreen(page, say, view, actions, at, all) {
  const [step] = page.steps;
  const pictures = step.items.flatMap(({ picture }) => (picture ? [picture] : [])).slice(0, 6);
  return el("div", { class: "screen ready" },
    heading(say("ready")),
    pictures.length > 0 && el("div", { class: "preview-row", "aria-hidden": "true" },
      ...pictures.map(({ src }) => el("img", { class: "drawing", src, alt: "", width: 96, height: 96 }))),
    step.reminder ? el("p", { class: "reminder" }, ...say.shown(say("remind", { reminder: spoken(step.reminder) }))) : null,
    step.changes && el("p", { class: "quiet" }, say("changes")),
    el("div", { class: "choices" },
      at > 0 && button("resume", say("again_from", { number: at + 1 }), () => actions.start(at, all - at, 0), "big"),
      button("start", view.loading ? say("loading") : at > 0 ? say("afresh") : say("start"),
        () => actions.start(0, all, 0), at > 0 ? "" : "big"),
      hearing(page, say, view, actions),
      notHeard(view, say)),
    ...deviceLines(view, say));
}

/** What the device does and does not, told quietly. @param {StartView} view @param {Say} say */
export function deviceLines({ keeps, offline }, say) {
  return [!keeps && el("p", { class: "note small" }, say("not_kept")), offline && el("p", { class: "quiet device" }, say("offline"))];
}
