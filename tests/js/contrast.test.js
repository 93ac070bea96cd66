import assert from "node:assert/strict";
import { test } from "node:test";

import { plain, spoken as kept } from "../../site_templates/theme/assets/js/dom.js";
import { displayOrder } from "../../site_templates/theme/assets/js/pairs.js";
import { statusText } from "../../site_templates/theme/assets/js/prompts.js";
import { advance } from "../../site_templates/theme/assets/js/rounds.js";
import { startRun, task } from "../../site_templates/theme/assets/js/run.js";
import { resumeIndex, tasks } from "../../site_templates/theme/assets/js/tasks.js";

const [key, tea, cape, tape, cap, tap] = ["key", "tea", "cape", "tape", "cap", "tap"].map((id) => ({ id, text: id }));
const spoken = { id: "natural-imitation", form: "natural", support: "imitation", show: "both", times: 1, contrast: false };
const contrast = { id: "natural-contrast", form: "natural", support: "spontaneous", show: "both", times: 2, contrast: true };
const step = { id: "k-pairs", easier: "", misses: 3, passage: null, rounds: [contrast], items: [key, cape], pairs: [[key, tea], [cape, tape]], imitated: [] };
const page = { steps: [step] };

const start = () => startRun(tasks(page));
const go = (state, ...events) => events.reduce(advance, state);
const choose = (item) => ({ type: "choose", item });
const reported = (item, ms = 0) => ({ type: "reported", item, ms });
const [AGAIN, LOOK, NEXT, HEAR] = ["choose-again", "look", "next", "hear"].map((type) => ({ type }));
const skipped = { type: "mark", mark: "not_tried", ms: 5 };

test("a contrast round goes over the pairs, other rounds over the items", () => {
  const all = tasks({ steps: [{ ...step, rounds: [spoken, contrast] }] });
  assert.deepEqual(all.map((t) => t.item.id), ["key", "cape", "key", "cape", "key", "cape"]);
  assert.deepEqual(all.map((t) => t.pair && t.pair[1].id), [null, null, "tea", "tape", "tea", "tape"]);
  assert.deepEqual(all.map((t) => t.first), [true, false, true, false, false, false]);
});

test("of pairs without pictures one word is heard and said, the other in the next pass", () => {
  const imitation = { ...contrast, id: "natural-contrast-imitation", support: "imitation" };
  const bare = { steps: [{ ...step, rounds: [imitation, contrast], pairs: [[key, tea]], imitated: [[cape, tape], [cap, tap]] }] };
  const all = tasks(bare);
  assert.deepEqual(all.map((t) => t.item.id), ["cape", "tap", "tape", "cap", "key", "key"]);
  assert.deepEqual(all.map((t) => t.pair === null), [true, true, true, true, false, false]);
  const state = go(startRun(all), { type: "said" }, { type: "mark", mark: "clear", ms: 9 }, NEXT);
  assert.deepEqual(state.trials.map((t) => [t.item, t.support, t.mark, t.chosen]), [["cape", "imitation", "clear", undefined]]);
  assert.equal(resumeIndex(all, state.trials), 1);
});

const outcomes = [
  ["the same word", "key", "key", "clear"], ["another word", "key", "tea", "missed"],
  ["the other word, heard as such", "tea", "tea", "clear"], ["the other word, heard as the target", "tea", "key", "missed"],
];
for (const [name, chosen, heard, mark] of outcomes) {
  test(`chosen and heard are both recorded: ${name}`, () => {
    const state = go(start(), choose(chosen), reported(heard, 700), LOOK);
    assert.equal(state.phase, "marked");
    assert.deepEqual(state.trials, [{
      step: "k-pairs", round: "natural-contrast", item: chosen, form: "natural", support: "spontaneous",
      mark, ms: 700, chosen, heard,
    }]);
  });
}

test("both can be corrected: the choice until something was heard, the tap until both look", () => {
  const state = go(start(), choose("key"), AGAIN, choose("tea"), reported("key"), reported("tea"), LOOK);
  assert.deepEqual(state.trials.map((t) => [t.chosen, t.heard, t.mark]), [["tea", "tea", "clear"]]);
  assert.equal(go(state, reported("key")), state);
  const heard = go(start(), choose("key"), reported("key"));
  assert.equal(go(heard, AGAIN), heard);
});

test("what makes no sense here changes nothing", () => {
  const state = start();
  for (const event of [reported("key"), LOOK, NEXT, AGAIN, choose("cow"), { type: "mark", mark: "clear", ms: 0 }]) {
    assert.equal(advance(state, event), state);
  }
  const chosen = go(state, choose("key"));
  for (const event of [choose("tea"), reported("cow"), LOOK, NEXT, HEAR]) assert.equal(advance(chosen, event), chosen);
});

test("a skipped pair holds no choice, also after the helper's tap", () => {
  for (const state of [start(), go(start(), choose("tea")), go(start(), choose("tea"), reported("key"))]) {
    const after = go(state, skipped);
    assert.deepEqual(after.trials, [{
      step: "k-pairs", round: "natural-contrast", item: "key", form: "natural", support: "spontaneous", mark: "not_tried", ms: 5,
    }]);
    assert.equal(go(after, NEXT).at, 1);
  }
});

test("both words heard before the choice make it an imitation", () => {
  assert.equal(go(start(), HEAR, choose("key"), reported("key")).trials[0].support, "imitation");
  assert.equal(go(start(), choose("key"), reported("key"), LOOK, HEAR).trials[0].support, "spontaneous");
});

test("the next pair begins without a choice; three mix-ups in a row offer the way back", () => {
  const miss = (state) => go(state, choose(task(state).pair[0].id), reported(task(state).pair[1].id), LOOK, NEXT);
  const once = miss(start());
  assert.deepEqual([once.phase, once.chosen, once.reported, once.at], ["ask", null, null, 1]);
  assert.equal(miss(miss(once)).interlude, "hard");
});

test("between the two taps the state shows alike whatever was chosen", () => {
  const [one, other] = ["key", "tea"].map((id) => go(start(), choose(id)));
  assert.deepEqual({ ...one, chosen: "" }, { ...other, chosen: "" });
  assert.deepEqual(displayOrder(one), displayOrder(other));
});

test("the sides change from pair to pair, and for the helper half of the time", () => {
  const at = (n) => ({ ...startRun(tasks(page)), at: n });
  const left = (state) => task(state).pair.indexOf(displayOrder(state)[0]);
  assert.deepEqual([0, 1, 2, 3].map((n) => left(at(n))), [0, 1, 0, 1]);
  const helper = [0, 1, 2, 3].map((n) => left(go(at(n), choose(task(at(n)).pair[0].id))));
  assert.deepEqual(helper, [1, 1, 0, 0]);
  assert.deepEqual(displayOrder(startRun(tasks({ steps: [{ ...step, rounds: [spoken] }] }))), []);
});

test("an interrupted contrast round is found again, whichever word was chosen", () => {
  const all = tasks(page);
  const done = go(start(), choose("tea"), reported("tea"), LOOK, NEXT, choose("cape"), reported("cape")).trials;
  assert.equal(resumeIndex(all, done), 2);
});

test("a screen reader hears what is asked of both, both words, then what was heard, and what was picked only once both look", () => {
  const say = Object.assign((key, values = {}) => [key, ...Object.values(values)].join(" "), { count: () => "" });
  const [view, after] = [{ playing: false, trouble: "" }, (...events) => go(start(), ...events)];
  const said = (state) => plain(statusText(state, say, view, ""));
  assert.ok(statusText(start(), say, view, "").includes(kept("key")), "words keep their language");
  assert.equal(said(start()), "status of 1 4 contrast.either key tea contrast.choose contrast.away");
  assert.deepEqual(["key", "tea"].map((id) => said(after(choose(id)))), Array(2).fill("contrast.say contrast.listen"));
  for (const id of ["key", "tea"]) assert.equal(said(after(choose(id), reported("tea"))), "contrast.tapped tea contrast.confirm contrast.answer");
  assert.equal(said(after(choose("key"), reported("tea"), LOOK)), "contrast.both key tea contrast.other contrast.model");
  assert.equal(said(after(choose("key"), skipped)), "after");
});
