// The end of a sitting: work done for the child, counts for the helper.

import { button, el, heading, sign } from "./dom.js";
import { lastChip, progress } from "./frame.js";
import { endsWell } from "./help.js";
import { offerPart } from "./offer-part.js";
import { MARKS, counts, tries } from "./record.js";

/** @import { PageData, Run } from "../../../types" */
/** @import { Actions, Say, View } from "./screens.js" */

/**
 * Work done for the child, counts for the helper.
 * @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {Actions} actions
 * @param {string} note
 */
export function summaryScreen(run, page, say, view, actions, note) {
  const done = tries(run.trials);
  return el("div", { class: "screen summary" },
    el("div", { class: "top" }, lastChip(run, say, actions)),
    progress(run),
    heading(say(run.end === "done" ? "done" : "enough_done")),
    el("p", { class: "lead" }, done ? say.count("done_tries", done) : run.tallies.length ? say("done_text") : say("done_none")),
    ...(view.ending?.parts() ?? []),
    run.end === "hard" && el("p", { class: "note" }, ...say.caution("was_hard")),
    run.end === "enough" && !endsWell(run.trials) && el("p", { class: "note" }, ...say.caution("end_easy")),
    el("div", { class: "choices" },
      page.minutes ? button("home", say("home"), actions.home, "big")
        : el("a", { class: "button big", href: page.home, "data-key": "home" }, say("home")),
      run.end === "enough" && button("go-on", say("go_on_after"), actions.goOn, "minor")),
    el("details", { class: "more" },
      el("summary", { "data-key": "helper" }, say("for_helper")),
      helperPart(run, say, view, actions, note),
      view.ending && view.ending.choice(),
      el("p", { class: "links" }, el("a", { href: `${page.home}visit/`, "data-key": "visit" }, say("visit")))),
    offerPart(view.offered, page, say, actions));
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
    el("p", { id: "note-hint", class: "quiet" }, ...say.caution("note_hint")),
    el("p", { class: "quiet" }, say(view.kept ? "kept" : "not_kept")));
}
