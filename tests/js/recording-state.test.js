import assert from "node:assert/strict";
import { test } from "node:test";

import { advance, initialState, isDone, keepable } from "../../site_templates/recording_page/js/state.js";

const card = (id, state = "missing") => ({
  id, text: id, letters: [[id, false]], form: "natural", level: "word", sound: "k", holdable: false, alone: false,
  clients: ["heron-07"], current: true, state, files: state === "missing" ? [] : [`${id}.wav`], reasons: [], replaceable: true,
});
const assessment = (verdict) => ({ verdict, reasons: [], seconds: 1 });
const after = (state, ...events) => events.reduce(advance, state);
const [opened, record, begin, stop, keep] = ["opened", "record", "begin", "stop", "keep"].map((type) => ({ type }));
const assessed = (verdict) => ({ type: "assessed", assessment: assessment(verdict) });
const three = () => initialState([card("key", "good"), card("cow"), card("cup")]);

test("it begins at the first that is not recorded", () => {
  assert.equal(three().at, 1);
  assert.equal(initialState([card("key", "good"), card("cow", "again")]).at, 1);
  assert.equal(initialState([card("key", "good")]).at, 0);
});

test("a refused recording is not isDone, a doubtful one is", () => {
  assert.deepEqual(["missing", "good", "doubtful", "again", "unheard"].map((s) => isDone(card("x", s))), [false, true, true, false, true]);
});

test("from the microphone to the verdict", () => {
  const steps = [opened, record, begin, stop, assessed("good")];
  const phases = steps.map((_, i) => after(three(), ...steps.slice(0, i + 1)).phase);
  assert.deepEqual(phases, ["idle", "ready", "recording", "assessing", "assessed"]);
});

test("stopping before it began records nothing", () => {
  assert.equal(after(three(), opened, record, stop).phase, "idle");
});

test("after keeping comes the next that is missing, from the end on to the beginning", () => {
  const state = after(three(), opened, { type: "go", to: 2 }, record, begin, stop, assessed("good"), keep);
  assert.equal(state.phase, "saving");
  const next = advance(state, { type: "kept", cards: [card("key", "good"), card("cow"), card("cup", "good")], file: "cup.wav" });
  assert.deepEqual([next.at, next.phase, next.assessment, next.notice], [1, "idle", null, "Kept “cup” as cup.wav."]);
  const all = advance(state, { type: "kept", cards: [card("key", "good"), card("cow", "doubtful"), card("cup", "good")], file: "cup.wav" });
  assert.deepEqual([all.at, all.notice], [2, "Kept “cup” as cup.wav. All are recorded."]);
});

test("what is refused cannot be kept, but recorded again", () => {
  const state = after(three(), opened, record, begin, stop, assessed("again"));
  assert.equal(keepable(state), false);
  assert.equal(advance(state, keep), state);
  assert.equal(advance(state, record).phase, "ready");
  assert.equal(keepable(after(three(), opened, record, begin, stop, assessed("doubtful"))), true);
});

test("while it records, is judged or kept, nobody moves away", () => {
  const go = { type: "go", to: 0 };
  for (const steps of [[record], [record, begin], [record, begin, stop], [record, begin, stop, assessed("good"), keep]]) {
    const state = after(three(), opened, ...steps);
    assert.equal(advance(state, go), state);
  }
  const left = after(three(), opened, record, begin, stop, assessed("good"), go);
  assert.deepEqual([left.at, left.phase, left.assessment], [0, "idle", null]);
});

test("one does not move beyond either end", () => {
  assert.equal(advance(three(), { type: "go", to: 9 }).at, 2);
  assert.equal(advance(three(), { type: "go", to: -1 }).at, 0);
});

test("a recording that could not be kept is still there", () => {
  const state = after(three(), opened, record, begin, stop, assessed("good"), keep, { type: "failed", problem: "The disk is full." });
  assert.deepEqual([state.phase, state.problem], ["assessed", "The disk is full."]);
  assert.ok(keepable(state));
});

test("a microphone that is pulled out ends whatever was going on, but not what was sent to be kept", () => {
  const closed = { type: "closed", problem: "It is gone." };
  assert.deepEqual([after(three(), opened, record, begin, closed)].map((s) => [s.phase, s.problem]), [["closed", "It is gone."]]);
  const cards = [card("key", "good"), card("cow", "good"), card("cup")];
  const state = after(three(), opened, record, begin, stop, assessed("good"), keep, closed, { type: "kept", cards, file: "cow.wav" });
  assert.deepEqual([state.phase, state.cards[1].state], ["closed", "good"]);
});

test("what does not fit changes nothing", () => {
  for (const event of [record, begin, stop, assessed("good"), keep]) {
    const state = three();
    assert.equal(advance(state, event), state);
  }
});
