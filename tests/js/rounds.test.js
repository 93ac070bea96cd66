import assert from "node:assert/strict";
import { test } from "node:test";

import { holds as holdsOf, misses as missesOf } from "../../site_templates/theme/assets/js/help.js";
import { advance } from "../../site_templates/theme/assets/js/rounds.js";
import { actualSupport, awake, clientFirst, lastMarked, startRun, task } from "../../site_templates/theme/assets/js/run.js";
import { resumeIndex, tasks } from "../../site_templates/theme/assets/js/tasks.js";

const items = ["key", "cow", "cup"].map((id) => ({ id, text: id, natural: { src: id }, long: { src: id } }));
const round = (form, support, times = 1, show = "both") => ({ id: `${form}-${support}`, form, support, show, times });

function page(rounds, entries = items) {
  return { steps: [{ id: "k-words", easier: "", misses: 3, judges: false, passage: null, rounds, items: entries }] };
}

function run(rounds, entries) {
  return startRun(tasks(page(rounds, entries)));
}

const mark = (kind, ms = 0) => ({ type: "mark", mark: kind, ms });
const NEXT = { type: "next" };
const HEARD = [{ type: "hear" }, { type: "heard" }];
const go = (state, ...events) => events.reduce(advance, state);
const DECLINED = { type: "declined" };
const [RETRY, GO_ON] = [{ type: "retry" }, { type: "go-on" }];
/** Mark after mark, each without a model and without another try. */
const rated = (state, ...kinds) => kinds.reduce((now, kind) => {
  const after = go(now, DECLINED, mark(kind), NEXT);
  return after.phase === "again" ? go(after, GO_ON) : after;
}, state);

test("tasks go through each round as often as it says, items in order", () => {
  const all = tasks(page([round("natural", "imitation", 2), round("natural", "spontaneous")]));
  assert.deepEqual(all.map((t) => t.item.id), ["key", "cow", "cup", "key", "cow", "cup", "key", "cow", "cup"]);
  assert.deepEqual(all.map((t) => t.first), [true, false, false, false, false, false, true, false, false]);
  assert.deepEqual(all.map((t) => t.number), [1, 1, 1, 1, 1, 1, 2, 2, 2]);
});

const support = [
  ["imitation, heard", "imitation", { played: true, waited: false, again: false }, "imitation"],
  ["imitation, the model was declined", "imitation", { played: false, waited: false, again: false }, "spontaneous"],
  ["delayed, waited to the end", "delayed", { played: true, waited: true, again: false }, "delayed"],
  ["delayed, said before the wait was over", "delayed", { played: true, waited: false, again: false }, "imitation"],
  ["delayed, heard once more after the wait", "delayed", { played: true, waited: true, again: true }, "imitation"],
  ["delayed, the model was declined", "delayed", { played: false, waited: false, again: false }, "spontaneous"],
  ["spontaneous, no model", "spontaneous", { played: false, waited: false, again: false }, "spontaneous"],
  ["spontaneous, but the model was heard first", "spontaneous", { played: true, waited: false, again: false }, "imitation"],
];
for (const [name, planned, state, expected] of support) {
  test(`support given: ${name}`, () => assert.equal(actualSupport(planned, state), expected));
}

const given = [
  ["the clip was heard", "imitation", HEARD, "imitation"],
  ["the helper said it", "imitation", [{ type: "said" }], "imitation"],
  ["without a model", "imitation", [DECLINED], "spontaneous"],
  ["heard and waited for", "delayed", [...HEARD, { type: "waited" }], "delayed"],
  ["said by the helper, who counted to three", "delayed", [{ type: "said" }], "delayed"],
  ["said by the helper once more right before", "delayed", [...HEARD, { type: "waited" }, { type: "said" }], "imitation"],
  ["already said", "delayed", [...HEARD, { type: "hurried" }], "imitation"],
  ["heard though none was planned", "spontaneous", HEARD, "imitation"],
  ["none was planned", "spontaneous", [], "spontaneous"],
];
for (const [name, planned, before, expected] of given) {
  test(`recorded: ${planned}, ${name}`, () => {
    assert.equal(go(run([round("natural", planned)]), ...before, mark("clear")).trials[0].support, expected);
  });
}

test("marks sleep until the model has ended or was declined", () => {
  const fresh = run([round("natural", "imitation")]);
  const [playing, heard] = [go(fresh, HEARD[0]), go(fresh, ...HEARD)];
  assert.deepEqual([fresh, playing, heard, go(fresh, DECLINED)].map(awake), [false, false, true, true]);
  for (const state of [fresh, playing]) assert.equal(go(state, mark("clear")), state);
  assert.equal(awake(go(run([round("natural", "delayed")]), ...HEARD)), false);
  assert.equal(awake(run([round("natural", "spontaneous")])), true);
});

test("a clip that was not heard is asked for again", () => {
  const fresh = run([round("natural", "imitation")]);
  assert.deepEqual(go(fresh, HEARD[0], { type: "unheard" }), fresh);
});

test("who practises alone is asked for no model where there is no clip", () => {
  const silent = items.map((item) => ({ ...item, natural: null }));
  const state = startRun(tasks({ ...page([round("natural", "imitation")], silent), helper: "self" }));
  assert.equal(awake(state), true);
  assert.equal(go(state, mark("clear")).trials[0].support, "spontaneous");
});

test("a delayed round waits after the model, then asks", () => {
  const waiting = go(run([round("natural", "delayed")]), ...HEARD);
  assert.equal(waiting.phase, "wait");
  const asked = go(waiting, { type: "waited" });
  assert.equal(asked.phase, "say");
  assert.equal(go(asked, mark("clear")).trials[0].support, "delayed");
  assert.equal(go(asked, ...HEARD, mark("clear")).trials[0].support, "imitation");
});

test("while a mark shows it can be given anew; it stays one trial", () => {
  const state = go(run([round("natural", "imitation")]), ...HEARD, mark("missed", 900), mark("clear", 1200), NEXT);
  assert.deepEqual(state.trials, [{
    step: "k-words", round: "natural-imitation", item: "key", form: "natural", support: "imitation", mark: "clear", ms: 1200,
  }]);
  assert.equal(missesOf(state.trials), 0);
});

test("the last mark can be changed when the next word is there", () => {
  const state = rated(run([round("natural", "imitation", 2)]), "clear", "missed");
  assert.deepEqual([lastMarked(state).task.item.id, lastMarked(state).trial.mark], ["cow", "missed"]);
  const amend = go(state, { type: "change" });
  assert.deepEqual([amend.phase, task(amend).item.id], ["amend", "cow"]);
  const changed = go(amend, mark("clear", 5000));
  assert.deepEqual(changed.trials.map((t) => [t.item, t.mark, t.ms]), [["key", "clear", 0], ["cow", "clear", 0]]);
  assert.deepEqual({ ...changed, trials: [] }, { ...state, trials: [] });
  assert.deepEqual(go(amend, { type: "keep" }), state);
});

test("a model that was heard before the change need not be heard again", () => {
  const state = go(rated(run([round("natural", "imitation")]), "clear"), ...HEARD, { type: "change" }, mark("almost"));
  assert.equal(state.phase, "say");
  assert.deepEqual(go(state, mark("clear")).trials.map((t) => [t.mark, t.support]), [["almost", "spontaneous"], ["clear", "imitation"]]);
});

test("a change takes back what the mark brought, and brings what it would have", () => {
  const three = rated(run([round("natural", "imitation", 3)]), "missed", "missed", "missed");
  assert.equal(go(three, { type: "change" }, mark("almost")).phase, "ask");
  assert.equal(go(three, { type: "change" }, { type: "keep" }).interlude, "hard");
  const all = rated(run([round("natural", "spontaneous")]), "clear", "clear", "clear");
  assert.equal(all.phase, "done");
  const mended = go(all, { type: "change" }, mark("missed"));
  assert.deepEqual([mended.phase, mended.trials[2].mark], ["done", "missed"]);
});

test("after a miss the word stays, for one more try at most, which is an imitation", () => {
  const missed = go(run([round("natural", "spontaneous")]), mark("missed"), NEXT);
  assert.deepEqual([missed.phase, task(missed).item.id], ["again", "key"]);
  const retried = go(missed, RETRY, mark("missed"), NEXT);
  assert.deepEqual([retried.phase, task(retried).item.id], ["ask", "cow"]);
  assert.deepEqual(retried.trials.map((t) => [t.item, t.support, t.mark, t.repeat]), [
    ["key", "spontaneous", "missed", undefined], ["key", "imitation", "missed", true],
  ]);
  assert.equal(missesOf(retried.trials), 1);
  assert.equal(task(go(missed, GO_ON)).item.id, "cow");
});

test("the same mark once more changes nothing, so that the next word comes", () => {
  const state = go(run([round("natural", "spontaneous")]), mark("clear", 100));
  assert.equal(go(state, mark("clear", 300)), state);
});

test("a mark while the word stays is that of the second try; a wrong tap is changed afterwards", () => {
  const again = go(run([round("natural", "spontaneous")]), mark("missed"), NEXT, mark("clear"), NEXT);
  assert.deepEqual([again.trials.map((t) => [t.mark, t.repeat]), task(again).item.id], [[["missed", undefined], ["clear", true]], "cow"]);
  const wrong = go(run([round("natural", "spontaneous")]), mark("missed"), NEXT, GO_ON, { type: "change" }, mark("clear"));
  assert.deepEqual([wrong.trials.map((t) => t.mark), task(wrong).item.id], [["clear"], "cow"]);
});

test("a try that was repeated takes no place among the tasks", () => {
  const all = tasks(page([round("natural", "spontaneous")]));
  const done = go(startRun(all), mark("missed"), NEXT, RETRY, mark("clear"), NEXT, mark("clear")).trials;
  assert.equal(resumeIndex(all, done), 2);
});

test("there is nothing to change before the first mark, while a clip plays, and after a pair", () => {
  const fresh = run([round("natural", "imitation")]);
  assert.equal(go(fresh, { type: "change" }), fresh);
  const playing = go(rated(fresh, "clear"), HEARD[0]);
  assert.equal(go(playing, { type: "change" }), playing);
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
  assert.equal(holdsOf(rated(mixed, "clear").trials), 0);
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
  const state = rated(run([round("natural", "imitation")]), "missed", "missed", "clear");
  assert.deepEqual([state.phase, state.interlude, state.end], ["done", null, "done"]);
});

test("stopping is possible at any time and final", () => {
  const state = go(rated(run([round("natural", "imitation")]), "clear"), { type: "stop" });
  assert.equal(state.phase, "stopped");
  assert.equal(state.trials.length, 1);
  assert.equal(go(state, mark("clear"), NEXT, ...HEARD), state);
  const waiting = go(run([round("natural", "delayed")]), ...HEARD, { type: "stop" });
  assert.equal(go(waiting, { type: "waited" }).phase, "stopped");
});

test("an interrupted run is found again by its last trials", () => {
  const all = tasks(page([round("natural", "imitation"), round("natural", "spontaneous")]));
  const done = rated(startRun(all), "clear", "clear").trials;
  assert.equal(resumeIndex(all, done), 2);
  assert.equal(resumeIndex(all, []), 0);
  assert.equal(resumeIndex(all, [{ ...done[0], step: "k-other" }, ...done]), 2);
  assert.equal(resumeIndex(all, [...done, ...done]), 2);
  const whole = go(rated(startRun(all), "clear", "clear", "clear"), { type: "go-on" });
  assert.equal(resumeIndex(all, rated(whole, "clear", "clear", "clear").trials), 0);
});

const STOP = { type: "stop" };
test("who stopped by mistake goes on where it stood, and no try is lost or asked twice", () => {
  const state = run([round("natural", "spontaneous", 2), round("natural", "delayed")]);
  const tried = go(state, mark("almost", 5), NEXT);
  const stopped = go(tried, STOP);
  assert.deepEqual([stopped.phase, stopped.end], ["stopped", "enough"]);
  assert.deepEqual(go(stopped, GO_ON), tried);
  const between = go(rated(state, ...Array(6).fill("clear")));
  assert.equal(between.interlude, "round");
  assert.deepEqual(go(between, STOP, GO_ON), between);
  const amended = go(tried, STOP, { type: "change" }, mark("clear"), GO_ON);
  assert.deepEqual([amended.at, amended.phase, amended.end, amended.trials.map((t) => t.mark)], [1, "ask", "", ["clear"]]);
  assert.deepEqual(go(tried, { type: "change" }, STOP, GO_ON), tried);
});

test("only who stopped goes on: a sitting that is done is over", () => {
  const state = rated(run([round("natural", "spontaneous")]), "clear", "clear", "clear");
  assert.equal(state.phase, "done");
  assert.equal(go(state, GO_ON), state);
});
