// The screen of a contrast round. No state of its own.

import { el, sign } from "./dom.js";
import { laidOut, task } from "./rounds.js";
import { button, prompt, stones, topRow } from "./screens.js";

/** @import { ItemData, PageData, Run, Task } from "../../../types" */
/** @import { Deeds, Say, View } from "./screens.js" */

/** Letters of a word that stands in its full size on a card of a telephone. */
const SHORT = 6;

/**
 * Two pictures: the child taps one unseen, the helper the one that was heard. Between the two taps
 * nothing on the screen depends on the first.
 * @param {Run} run @param {PageData} page @param {Say} say @param {View} view @param {Deeds} deeds
 */
export function contrastScreen(run, page, say, view, deeds) {
  const now = /** @type {Task} */ (task(run));
  const both = laidOut(run);
  const size = both.some(({ text }) => text.length > SHORT) ? "long" : "";
  return el("div", { class: "stage task contrast" },
    topRow(run, now, say, deeds),
    stones(run),
    el("div", { class: `show two ${size}`.trim(), role: "group", "aria-label": say("contrast.two") },
      ...both.map((item) => sideOf(item, run, page, say, deeds))),
    el("div", { class: "work" },
      el("p", { class: "prompt" }, prompt(run, now, say, view)),
      page.reminder && run.phase === "say" ? el("p", { class: "reminder" }, say("remind", { reminder: page.reminder })) : null,
      el("p", { class: "quiet aside" }, aside(run, say)),
      view.silent && el("p", { class: "note small" }, say("no_sound")),
      ...contrastButtons(run, say, deeds),
      !view.kept && el("p", { class: "note small" }, say("not_kept"))));
}

/** One of the two. @param {ItemData} item @param {Run} run @param {PageData} page @param {Say} say @param {Deeds} deeds */
function sideOf(item, run, page, say, deeds) {
  const parts = [
    item.picture && el("img", { class: "drawing", src: item.picture.src, alt: "", width: 360, height: 360 }),
    el("span", { class: "say", dir: "auto", lang: page.language }, item.text),
  ];
  if (run.phase === "marked") {
    const signs = [run.chosen === item.id && say("contrast.chosen"), run.told === item.id && say("contrast.heard")];
    return el("div", { class: `side${signs.some(Boolean) ? " meant" : ""}` }, ...parts,
      el("span", { class: "tags" }, ...signs.map((text) => text && el("strong", { class: "tag" }, text))));
  }
  const choosing = run.phase === "ask";
  return el("button", {
    type: "button", class: "side", "data-key": `side-${item.id}`,
    "aria-pressed": choosing ? null : String(run.told === item.id),
    onclick: () => (choosing ? deeds.choose : deeds.tell)(item.id),
  }, ...parts);
}

/** What the helper is told. @param {Run} run @param {Say} say */
function aside(run, say) {
  if (run.phase === "ask") return say("contrast.away");
  if (run.phase === "say") return say("contrast.listen");
  if (run.phase === "told") return say("contrast.answer");
  return run.mark === "missed" ? say("contrast.model") : "";
}

/** @param {Run} run @param {Say} say @param {Deeds} deeds */
function contrastButtons(run, say, deeds) {
  const last = run.at + 1 === run.tasks.length;
  const hear = (/** @type {string} */ name) =>
    el("button", { type: "button", class: "button hear", "data-key": "hear", onclick: deeds.hear }, sign("hear"), say(name));
  const passed = button("not_tried", say("marks.not_tried"), () => deeds.mark("not_tried"), "quietly");
  const spoken = task(run)?.pair?.every((item) => item.natural) ?? false;
  if (run.phase === "ask") return [spoken && hear("contrast.hear_both"), passed];
  if (run.phase === "say") {
    return [el("div", { class: "choices" }, button("again", say("contrast.again"), deeds.chooseAgain, "quietly"), passed)];
  }
  if (run.phase === "told") return [button("look", say("contrast.look"), deeds.look, "next big")];
  return [run.chosen && spoken && hear("hear_after"), button("next", say(last ? "finish" : "next"), deeds.next, "next big")];
}
