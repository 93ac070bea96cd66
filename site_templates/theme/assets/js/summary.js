// The end of a sitting: work done for the child, counts for the helper. Both are of all its parts, as the
// record has it: a page that died on the way takes nothing from them.

import { button, el, heading, sign } from "./dom.js";
import { lastChip, progress } from "./frame.js";
import { endsWell } from "./help.js";
import { offerPart } from "./offer-part.js";
import { MARKS, counts, tries } from "./record.js";

/** @import { PageData, Run, Sitting } from "../../../types" */
/** @import { Actions, Say, View } from "./screens.js" */

/**
 * Work done for the child, counts for the helper.
 * @param {Run} run @param {Sitting} sitting @param {PageData} page @param {Say} say @param {View} view
 * @param {Actions} actions
 */
export function summaryScreen(run, sitting, page, say, view, actions) {
  const done = tries(sitting.trials);
  return el("div", { class: "screen summary" },
    el("div", { class: "top" }, lastChip(run, say, actions)),
    progress(run),
    heading(say(run.end === "done" ? "done" : "enough_done")),
    el("p", { class: "lead" }, done ? say.count("done_tries", done) : sitting.tallies?.length ? say("done_text") : say("done_none")),
    ...(view.ending?.parts() ?? []),
    run.end === "hard" && el("p", { class: "note" }, ...say.caution("was_hard")),
    run.end === "enough" && !endsWell(run.trials) && el("p", { class: "note" }, ...say.caution("end_easy")),
    el("div", { class: "choices" },
      page.minutes ? button("home", say("home"), actions.home, "big")
        : el("a", { class: "button big", href: page.home, "data-key": "home" }, say("home")),
      run.end === "enough" && button("go-on", say("go_on_after"), actions.goOn, "minor")),
    el("details", { class: "more" },
      el("summary", { "data-key": "helper" }, say("for_helper")),
      helperPart(sitting, say, view, actions),
      view.ending && view.ending.choice(),
      el("p", { class: "links" }, el("a", { href: `${page.home}visit/`, "data-key": "visit" }, say("visit")))),
    offerPart(view.offered, page, say, actions));
}

/** @param {Sitting} sitting @param {Say} say @param {View} view @param {Actions} actions */
function helperPart({ trials, note }, say, view, actions) {
  const totals = counts(trials);
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
