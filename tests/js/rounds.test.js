import assert from "node:assert/strict";
import { test } from "node:test";

import { advance, startRun, actualSupport, resumeIndex, task, tasks } from "../../site_templates/theme/assets/js/rounds.js";

const LIMITS = { misses: 3, breath: 5 };
const items = ["key", "cow", "cup"].map((id) => ({ id, text: id }));
const round = (form, support, times = 1, show = "both") => ({ id: `${form}-${support}`, form, support, show, times });

function page(rounds, entries = items) {
  return { step: { id: "k-words" }, rounds, items: entries };
}

function run(rounds, entries) {
  return startRun(tasks(page(rounds, entries)), LIMITS);
}

const mark = (kind, ms = 0) => ({ type: "mark", mark: kind, ms });
const NEXT = { type: "next" };
const PLAYED = { type: "played" };
const go = (state, ...events) => events.reduce(advance, state);
const rated = (state, ...kinds) => kinds.reduce((now, kind) => go(now, mark(kind), NEXT), state);

test("tasks go through each round as often as it says, items in order", () => {
  const all = tasks(page([round("natural", "imitation", 2), round("natural", "spontaneous")]));
  assert.deepEqual(all.map((t) => t.item.id), ["key", "cow", "cup", "key", "cow", "cup", "key", "cow", "cup"]);
  assert.deepEqual(all.map((t) => t.first), [true, false, false, false, false, false, true, false, false]);
  assert.deepEqual(all.map((t) => t.number), [1, 1, 1, 1, 1, 1, 2, 2, 2]);
});

const support = [
  ["imitation, heard", "imitation", { played: true, waited: false, again: false }, "imitation"],
  ["imitation, the helper said the word", "imitation", { played: false, waited: false, again: false }, "imitation"],
  ["delayed, waited to the end", "delayed", { played: true, waited: true, again: false }, "delayed"],
  ["delayed, said before the wait was over", "delayed", { played: true, waited: false, again: false }, "imitation"],
  ["delayed, heard once more after the wait", "delayed", { played: true, waited: true, again: true }, "imitation"],
  ["delayed, without the clip", "delayed", { played: false, waited: false, again: false }, "delayed"],
  ["spontaneous, no model", "spontaneous", { played: false, waited: false, again: false }, "spontaneous"],
  ["spontaneous, but the model was heard first", "spontaneous", { played: true, waited: false, again: false }, "imitation"],
];
for (const [name, planned, state, expected] of support) {
  test(`support given: ${name}`, () => assert.equal(actualSupport(planned, state), expected));
}

const alone = [
  ["imitation, the clip was played", "imitation", [PLAYED], "imitation"],
  ["imitation, without a model", "imitation", [], "spontaneous"],
  ["delayed, the clip was played and waited for", "delayed", [PLAYED, { type: "waited" }], "delayed"],
  ["delayed, without a model", "delayed", [], "spontaneous"],
];
for (const [name, planned, before, expected] of alone) {
  test(`support given to who practises alone: ${name}`, () => {
    const state = startRun(tasks({ ...page([round("natural", planned)]), helper: "self" }), LIMITS);
    assert.equal(go(state, ...before, mark("clear")).trials[0].support, expected);
  });
}

test("a delayed round waits after the model, then asks", () => {
  const waiting = go(run([round("natural", "delayed")]), PLAYED);
  assert.equal(waiting.phase, "wait");
  const asked = go(waiting, { type: "waited" });
  assert.equal(asked.phase, "say");
  assert.equal(go(asked, mark("clear")).trials[0].support, "delayed");
  assert.equal(go(asked, PLAYED, mark("clear")).trials[0].support, "imitation");
});

test("a model heard after the mark changes nothing in the record", () => {
  const state = go(run([round("natural", "spontaneous")]), mark("almost", 900), PLAYED);
  assert.deepEqual(state.trials, [{
    step: "k-words", round: "natural-spontaneous", item: "key", form: "natural", support: "spontaneous", mark: "almost", ms: 900,
  }]);
  assert.equal(go(state, mark("clear", 1200)).trials[0].support, "spontaneous");
});

test("a mark can be corrected until the next item; it stays one trial", () => {
  const state = go(run([round("natural", "imitation")]), mark("missed"), mark("clear"), NEXT);
  assert.deepEqual(state.trials.map((t) => t.mark), ["clear"]);
  assert.equal(state.misses, 0);
});

test("there is no next item without a mark", () => {
  const state = run([round("natural", "imitation")]);
  assert.equal(go(state, NEXT), state);
});

const streaks = [
  ["three misses in a row", ["missed", "missed", "missed"], true],
  ["what was not tried does not break the row", ["missed", "missed", "not_tried", "missed"], true],
  ["what was not tried is no miss", ["not_tried", "not_tried", "not_tried"], false],
  ["almost breaks the row", ["missed", "missed", "almost", "missed"], false],
  ["clear breaks the row", ["missed", "clear", "missed", "missed"], false],
];
for (const [name, kinds, offered] of streaks) {
  test(`the way back: ${name}`, () => {
    const state = rated(run([round("natural", "imitation", 3)]), ...kinds);
    assert.equal(state.interlude === "hard", offered);
  });
}

test("after the offer the count of misses begins anew", () => {
  const state = go(rated(run([round("natural", "imitation", 3)]), "missed", "missed", "missed"), { type: "go-on" });
  assert.equal(state.phase, "ask");
  assert.equal(task(state).item.id, "key");
  assert.notEqual(rated(state, "missed", "missed").interlude, "hard");
  assert.equal(rated(state, "missed", "missed", "missed").interlude, "hard");
});

test("a breath after five long holds in a row, and again after five more", () => {
  const state = rated(run([round("long", "imitation", 5)]), ...Array(5).fill("clear"));
  assert.equal(state.interlude, "breath");
  const on = go(state, { type: "go-on" });
  assert.equal(rated(on, ...Array(4).fill("clear")).phase, "ask");
  assert.equal(rated(on, ...Array(5).fill("clear")).interlude, "breath");
});

test("natural tries need no breath, and end a row of long ones", () => {
  const natural = rated(run([round("natural", "imitation", 5)]), ...Array(5).fill("clear"));
  assert.notEqual(natural.interlude, "breath");
  const mixed = go(rated(run([round("long", "imitation"), round("natural", "imitation")]), "clear", "clear", "clear"), { type: "go-on" });
  assert.equal(go(mixed, mark("clear"), NEXT).holds, 0);
});

test("interludes come one after the other: hard, breath, round", () => {
  const five = Array.from({ length: 5 }, (_, i) => ({ id: `w${i}` }));
  const start = run([round("long", "imitation"), round("natural", "imitation")], five);
  const first = rated(start, "clear", "clear", "missed", "missed", "missed");
  const second = go(first, { type: "go-on" });
  const third = go(second, { type: "go-on" });
  assert.deepEqual([first, second, third].map((s) => s.interlude), ["hard", "breath", "round"]);
  assert.equal(go(third, { type: "go-on" }).phase, "ask");
});

test("the last item ends the run, without an interlude", () => {
  const state = rated(run([round("natural", "imitation")]), "missed", "missed", "missed");
  assert.equal(state.phase, "done");
  assert.equal(state.interlude, null);
});

test("stopping is possible at any time and final", () => {
  const state = go(rated(run([round("natural", "imitation")]), "clear"), { type: "stop" });
  assert.equal(state.phase, "stopped");
  assert.equal(state.trials.length, 1);
  assert.equal(go(state, mark("clear"), NEXT, PLAYED), state);
  const waiting = go(run([round("natural", "delayed")]), PLAYED, { type: "stop" });
  assert.equal(go(waiting, { type: "waited" }).phase, "stopped");
});

test("an interrupted run is found again by its last trials", () => {
  const all = tasks(page([round("natural", "imitation"), round("natural", "spontaneous")]));
  const done = rated(startRun(all, LIMITS), "clear", "clear").trials;
  assert.equal(resumeIndex(all, done), 2);
  assert.equal(resumeIndex(all, []), 0);
  assert.equal(resumeIndex(all, [{ ...done[0], step: "k-other" }, ...done]), 2);
  assert.equal(resumeIndex(all, [...done, ...done]), 2);
  const whole = go(rated(startRun(all, LIMITS), "clear", "clear", "clear"), { type: "go-on" });
  assert.equal(resumeIndex(all, rated(whole, "clear", "clear", "clear").trials), 0);
});
