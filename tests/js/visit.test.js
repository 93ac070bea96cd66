import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { wordsOf } from "../../site_templates/theme/assets/js/dom.js";
import { copy, share, waysHere } from "../../site_templates/theme/assets/js/hand-on.js";
import { tries } from "../../site_templates/theme/assets/js/record.js";
import { figures, recentSittings } from "../../site_templates/theme/assets/js/visit-figures.js";
import { letter, report } from "../../site_templates/theme/assets/js/visit-report.js";

const example = JSON.parse(await readFile(new URL("./sitting.json", import.meta.url), "utf8"));
const NOW = new Date(2026, 11, 14, 9, 0, 0);

const said = (mark, part = {}) => ({ ...example.trials[1], mark, support: "spontaneous", item: "cow", ...part });
const on = (day, trials, part = {}) => ({ ...example, id: day, start: `2026-${day}T08:15:04-06:00`, trials, tallies: [], note: "", end: "done", ...part });

test("the last 14 days begin 13 days before today, by the tablet's own calendar", () => {
  const days = ["11-30", "12-01", "12-14"].map((day) => on(day, [said("clear")]));
  assert.deepEqual(recentSittings(days, NOW).map(({ id }) => id), ["12-01", "12-14"]);
  const { recent, all } = figures(days, NOW);
  assert.deepEqual([recent.since, recent.days, all.since, all.days], ["2026-12-01", 2, "2026-11-30", 3]);
});

test("where all that is kept is recent, it is one period", () => {
  const { recent, all } = figures([on("12-13", [said("clear")])], NOW);
  assert.equal(recent, all);
});

test("two sittings of a day are one day", () => {
  const { all } = figures([on("12-13", [said("clear")]), { ...on("12-13", [said("missed")]), id: "b" }], NOW);
  assert.deepEqual([all.days, all.sittings, all.tries], [1, 2, 2]);
});

test("what was not tried and a repeat after a miss count nowhere", () => {
  const trials = [said("missed"), said("clear", { repeat: true }), said("not_tried"), said("missed"), said("missed", { repeat: true })];
  const { all } = figures([on("12-13", trials)], NOW);
  assert.deepEqual([all.tries, tries(trials)], [2, 2], "the sitting's end says the same as the visit");
  assert.deepEqual(all.steps[0].all, { tries: 2, clear: 0 });
  assert.deepEqual(all.missed, [{ step: "k-words", item: "cow", tries: 2, missed: 2 }]);
});

test("tries are told by the support that was given; only clear is clear", () => {
  const trials = [said("clear", { support: "imitation" }), said("almost", { support: "imitation" }), said("clear")];
  const [step] = figures([on("12-13", trials)], NOW).all.steps;
  assert.deepEqual([step.all, step.almost], [{ tries: 3, clear: 2 }, 1]);
  assert.deepEqual(step.supports, { imitation: { tries: 2, clear: 1 }, spontaneous: { tries: 1, clear: 1 } });
});

test("words chosen from pairs have a line of their own and are no missed words", () => {
  const trials = [said("missed", { chosen: "key", heard: "tea" }), said("missed", { chosen: "key", heard: "tea" }), said("clear", { chosen: "tea", heard: "tea" })];
  const { steps: [step], missed, tries } = figures([on("12-13", trials)], NOW).all;
  assert.deepEqual([step.all, step.contrast, missed, tries], [{ tries: 0, clear: 0 }, { tries: 3, clear: 1 }, [], 0], "nor tries, as in the log");
});

test("sounds of a text count where their number is confirmed", () => {
  const tallies = [{ ...example.tallies[0], targets: 22, slipped: 3 }, { ...example.tallies[0], targets: 9, slipped: null }];
  const { steps: [step], tries } = figures([on("12-13", [], { tallies })], NOW).all;
  assert.deepEqual([step.step, step.targets, tries], ["k-a-text", { tries: 22, clear: 19 }, 22], "each is a try, as in the log");
});

test("slips of what is told or talked are shown as they were counted, without a rate", () => {
  const talk = (slipped) => ({ ...example.tallies[0], step: "k-dinner", words: null, targets: null, slipped });
  const days = [on("12-12", [], { tallies: [talk(3), talk(null)] }), on("12-13", [], { tallies: [talk(0)] })];
  const { steps: [step], ...rest } = figures(days, NOW).all;
  assert.deepEqual([step.step, step.targets, step.slips, rest.tries], ["k-dinner", null, [3, 0], 0]);
  const { sections: [{ lines }] } = report(figures(days, NOW), data, tell);
  assert.deepEqual(lines, [{ head: "k-dinner", text: "", more: ["slips 3, 0"] }]);
});

test("the words most missed are those with most misses, of two tries and more", () => {
  const many = (item, misses, others) => [...Array(misses).fill(said("missed", { item })), ...Array(others).fill(said("clear", { item }))];
  const trials = [...many("a", 1, 0), ...many("b", 2, 8), ...many("c", 2, 1), ...many("d", 5, 9), ...many("e", 0, 9), ...many("f", 1, 5), ...many("g", 1, 4), ...many("h", 1, 6)];
  assert.deepEqual(figures([on("12-13", trials)], NOW).all.missed.map(({ item }) => item), ["d", "c", "b", "g", "f"]);
});

test("nothing practised is no figure", () => {
  assert.equal(figures([], NOW), null);
  assert.equal(figures([on("12-13", [said("not_tried")])], NOW), null);
});

const data = {
  site: example.site, client: "heron-07", language: "en-US", helper: "home", other_helpers: [], records: ["copy"],
  steps: [{ id: "k-words", name: "words", sound: "k", items: [["cow", "Cow!"]] }], wording: {},
};
const tell = wordsOf({
  recent: "Last 14 days", since: "Since {day}", days: "Days", sittings: "Sittings", tries: "Tries", hard: "Hard", steps: "Clear", clear_of: "{clear} of {tries}",
  clear: "{count} clear", almost: "{number} almost", misses: "{number} missed", "support.spontaneous": "no model", "support.imitation": "model", contrast: "pairs {count}", targets: "text {count}", slips: "slips {slips}", missed: "Missed",
  missed_of: "{missed} of {tries}", notes: "Notes", "heard.home": "home", "heard.school": "school", heard_by: "Heard: {roles}", "message.title": "Record of {client}", "message.data": "Data:",
});

test("the letter says who, when, how much and what is hard, in plain lines", () => {
  const sittings = [
    on("11-20", [said("clear", { step: "gone-step", item: "tea" })], { note: "Began well." }),
    on("12-12", [said("missed"), said("missed"), said("almost"), said("clear")], { helper: "school", end: "hard" }),
    on("12-13", [said("clear")], { note: "Tired.\n\nPR1/ she said" }),
  ];
  const text = letter(report(figures(sittings, NOW), data, tell, true), data, tell, "2026-12-14");
  assert.equal(text, `Record of heron-07
December 14, 2026

Last 14 days
- Days: 2
- Sittings: 2
- Tries: 5
- Hard: 1

Since Nov 20, 2026
- Days: 3
- Sittings: 3
- Tries: 6
- Hard: 1

Clear (Last 14 days)
- k: words: 2 of 5 clear, 1 almost, 2 missed; no model 2 of 5

Missed (Last 14 days)
- Cow!: 2 of 5

Notes
- Dec 13, 2026: Tired. PR1/ she said
- Nov 20, 2026: Began well.

Heard: home 1, school 1 (Last 14 days)

Data:`);
});

test("a step that is no longer published is shown by its id, after the others", () => {
  const trials = [said("clear", { step: "gone-step", item: "old-word" }), said("missed", { step: "gone-step", item: "old-word" }), said("clear")];
  const { sections } = report(figures([on("12-13", trials)], NOW), data, tell);
  assert.deepEqual(sections.map(({ lines }) => lines.map(({ head }) => head)), [["k: words", "gone-step"], ["old-word"]]);
});

test("without practice in the last days, all of it is shown", () => {
  const shown = report(figures([on("11-02", [said("clear")])], NOW), data, tell);
  assert.deepEqual([shown.columns, shown.within], [["Last 14 days", "Since Nov 2, 2026"], "Since Nov 2, 2026"]);
});

const file = new File(["x"], "x.txt", { type: "text/plain" });
const every = ["share", "download", "copy", "code"];
const devices = [
  ["a tablet that shares files", { canShare: () => true }, every],
  ["one that shares no files", { canShare: () => false }, ["download", "copy", "code"]],
  ["a browser that cannot share", {}, ["download", "copy", "code"]],
  ["one that refuses to say", { canShare: () => { throw new Error("no"); } }, ["download", "copy", "code"]],
  ["a home screen of iOS", { canShare: () => true, standalone: true }, ["share", "copy", "code"]],
];
for (const [name, device, expected] of devices) {
  test(`ways out of the page: ${name}`, () => assert.deepEqual(waysHere(every, device, file), expected));
}
test("a way that the clinic does not want is not there", () => assert.deepEqual(waysHere(["code"], { canShare: () => true }, file), ["code"]));

const named = (name) => Object.assign(new Error(name), { name });
test("who turns back from the share sheet is told nothing", async () => {
  assert.equal(await share({ share: () => Promise.reject(named("AbortError")) }, file), "cancelled");
  assert.equal(await share({ share: () => Promise.reject(named("NotAllowedError")) }, file), "failed");
  const given = [];
  assert.equal(await share({ share: async (what) => void given.push(what) }, file), "done");
  assert.deepEqual(given, [{ files: [file] }]);
});
test("without a clipboard nothing is said to be copied", async () => {
  assert.equal(await copy({}, "x"), "failed");
  assert.equal(await copy({ clipboard: { writeText: () => Promise.reject(named("NotAllowedError")) } }, "x"), "failed");
});
