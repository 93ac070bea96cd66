import assert from "node:assert/strict";
import { test } from "node:test";

import { advance, canMove, canRecord, initialState, isDone, isDoubted, keepable, mustHear, waits, wouldBeLost } from "../../site_templates/recording_page/js/state.js";

const card = (id, state = "missing") => ({
  id, stem: id, text: id, letters: [[id, false]], form: "natural", level: "word", ipa: "", sound: "k", holdable: false, alone: false,
  clients: ["heron-07"], current: true, state, files: state === "missing" ? [] : [`${id}.wav`], reasons: [], replaceable: true,
});
const assessment = (verdict) => ({ verdict, reasons: [], seconds: 1 });
const after = (state, ...events) => events.reduce(advance, state);
const [opened, record, begin, stored, check, keep, discard, lost] = ["opened", "record", "begin", "stored", "check", "keep", "discard", "lost"].map((type) => ({ type }));
const stop = { type: "stop", cut: false };
const cutStop = { type: "stop", cut: true };
const assessed = (verdict) => ({ type: "assessed", assessment: assessment(verdict) });
const failed = (why, problem = "It did not work.") => ({ type: "failed", why, problem });
const go = (to) => ({ type: "go", to });
const CARDS = [card("key", "good"), card("cow"), card("cup")];
const KEPT = [card("key", "good"), card("cow", "good"), card("cup")];
const three = () => initialState(CARDS, "takes");
const recorded = [opened, record, begin, stop];
const judged = [...recorded, assessed("good")];

test("it begins at the first that is not recorded", () => {
  assert.equal(three().at, 1);
  assert.equal(initialState([card("key", "good"), card("cow", "again")]).at, 1);
  assert.equal(initialState([card("key", "good")]).at, 0);
});

test("a refused recording is not isDone, a doubtful one is once it was heard", () => {
  const states = ["missing", "good", "doubtful", "heard", "again", "unheard"];
  assert.deepEqual(states.map((s) => isDone(card("x", s))), [false, true, false, true, false, true]);
});

test("a doubtful recording is kept once it was heard", () => {
  const state = after(three(), ...recorded, assessed("doubtful"));
  assert.deepEqual([mustHear(state), keepable(state), advance(state, keep)], [true, false, state]);
  const listened = advance(state, { type: "heard" });
  assert.deepEqual([mustHear(listened), keepable(listened), advance(listened, keep).phase], [false, true, "saving"]);
  const next = after(listened, keep, { type: "kept", cards: KEPT, file: "cow.wav" });
  assert.equal(next.heard, false);
  assert.equal(keepable(after(listened, record, begin, stop, assessed("doubtful"))), false);
});

test("a doubtful recording in the folder is called right once it was heard", () => {
  const doubted = initialState([card("key", "good"), card("cow", "doubtful"), card("cup")]);
  assert.deepEqual([doubted.at, isDoubted(doubted), doubted.heard], [1, true, false]);
  assert.equal(after(doubted, { type: "heard" }, go(2), go(1)).heard, false);
  const used = advance(advance(doubted, { type: "heard" }), { type: "accepted", cards: [card("key", "good"), card("cow", "heard"), card("cup")] });
  assert.deepEqual([used.at, used.heard, used.notice], [2, false, "“cow” is used from now on."]);
});

test("from the microphone to the verdict", () => {
  const phases = judged.map((_, i) => after(three(), ...judged.slice(0, i + 1)).phase);
  assert.deepEqual(phases, ["idle", "ready", "recording", "assessing", "assessed"]);
});

test("stopping before it began records nothing", () => {
  assert.equal(after(three(), opened, record, stop).phase, "idle");
});

test("after keeping comes the next that is missing, from the end on to the beginning", () => {
  const state = after(three(), opened, go(2), record, begin, stop, assessed("good"), keep);
  assert.equal(state.phase, "saving");
  const next = advance(state, { type: "kept", cards: [card("key", "good"), card("cow"), card("cup", "good")], file: "cup.wav" });
  assert.deepEqual([next.at, next.phase, next.assessment, next.notice], [1, "idle", null, "Kept “cup” as cup.wav."]);
  const all = advance(state, { type: "kept", cards: [card("key", "good"), card("cow", "heard"), card("cup", "good")], file: "cup.wav" });
  assert.deepEqual([all.at, all.notice], [2, "Kept “cup” as cup.wav. All are recorded."]);
});

test("what is refused cannot be kept, but recorded again", () => {
  const state = after(three(), ...recorded, assessed("again"));
  assert.equal(keepable(state), false);
  assert.equal(advance(state, keep), state);
  assert.equal(advance(state, record).phase, "ready");
});

test("while it records, is judged or kept, nobody moves away", () => {
  for (const steps of [[record], [record, begin], [record, begin, stop], [record, begin, stop, assessed("good"), keep]]) {
    const state = after(three(), opened, ...steps);
    assert.equal(advance(state, go(0)), state);
  }
  const left = after(three(), ...judged, go(0));
  assert.deepEqual([left.at, left.phase, left.assessment], [0, "idle", null]);
});

test("one does not move beyond either end", () => {
  assert.equal(advance(three(), go(9)).at, 2);
  assert.equal(advance(three(), go(-1)).at, 0);
});

test("a recording that could not be kept is still there, and only a named button parts with it", () => {
  for (const [why, away] of [["other", false], ["away", true]]) {
    const state = after(three(), ...judged, keep, failed(why, "The disk is full."));
    assert.deepEqual([state.phase, state.problem, state.away, waits(state), keepable(state)], ["assessed", "The disk is full.", away, true, true]);
    assert.equal(advance(state, go(0)), state);
    assert.equal(canMove(state), false);
    assert.deepEqual([advance(state, discard).phase, waits(advance(state, discard))], ["idle", false]);
    assert.equal(advance(state, record).phase, "ready");
  }
});

test("what the server will not keep stays to be heard, as before", () => {
  const state = after(three(), ...judged, keep, failed("refused", "Others share these files."));
  assert.deepEqual([state.phase, state.problem, waits(state)], ["assessed", "Others share these files.", false]);
});

test("a recording that could not be judged waits to be judged", () => {
  const state = after(three(), ...recorded, failed("away"));
  assert.deepEqual([state.phase, state.away, waits(state), keepable(state)], ["recorded", true, true, false]);
  assert.equal(advance(state, go(0)), state);
  const again = after(state, { type: "back", cards: CARDS }, check);
  assert.deepEqual([again.phase, again.away], ["assessing", false]);
  assert.equal(keepable(advance(again, assessed("good"))), true);
});

test("what cannot be read is no recording", () => {
  const state = after(three(), ...recorded, failed("refused", "Nothing was recorded."));
  assert.deepEqual([state.phase, state.problem], ["idle", "Nothing was recorded."]);
});

test("when the server answers again, keeping is offered again", () => {
  const state = after(three(), ...judged, keep, failed("away"), { type: "back", cards: CARDS });
  assert.deepEqual([state.away, state.problem, state.notice, state.phase], [false, "", "The recording page is there again.", "assessed"]);
  const done = after(state, keep, { type: "kept", cards: KEPT, file: "cow.wav" });
  assert.deepEqual([done.phase, done.at, done.held], ["idle", 2, false]);
});

test("after a restart the prompt is found at its new place; without it the page begins anew", () => {
  const away = after(three(), ...judged, keep, failed("away"));
  const moved = advance(away, { type: "back", cards: [card("comb"), card("cow"), card("key")].reverse() });
  assert.deepEqual([moved.at, moved.phase], [1, "assessed"]);
  const other = advance(away, { type: "back", cards: [card("sun")] });
  assert.deepEqual([other.at, other.phase, other.away, other.microphone, waits(other)], [0, "idle", false, "open", false]);
});

test("a server that is gone is said while nothing goes on, and noted while one records", () => {
  const away = { type: "away", problem: "It was stopped." };
  const idle = advance(three(), away);
  assert.deepEqual([idle.away, idle.problem], [true, "It was stopped."]);
  assert.equal(advance(idle, away), idle);
  const live = after(three(), opened, record, begin, away);
  assert.deepEqual([live.phase, live.away, live.problem], ["recording", true, ""]);
  assert.equal(advance(live, away), live);
  assert.deepEqual([advance(idle, { type: "back", cards: CARDS })].map((s) => [s.away, s.problem, s.notice]), [[false, "", ""]]);
});

test("a recording of an earlier window is offered again", () => {
  const recording = { id: "1", folder: "takes", card: CARDS[2], wav: new ArrayBuffer(2), cut: true, assessment: assessment("doubtful"), made: 1 };
  const state = advance(three(), { type: "restored", at: 2, recording });
  assert.deepEqual([state.at, state.phase, state.cut, waits(state), keepable(advance(state, { type: "heard" })), state.stored], [2, "assessed", true, true, true, true]);
  assert.equal(advance(three(), { type: "restored", at: 2, recording: { ...recording, assessment: null } }).phase, "recorded");
  const busy = after(three(), opened, record);
  assert.equal(advance(busy, { type: "restored", at: 2, recording }), busy);
});

test("a microphone that is pulled out takes no finished recording with it", () => {
  const gone = after(three(), ...judged, lost);
  assert.deepEqual([gone.phase, gone.microphone, keepable(gone), canRecord(gone)], ["assessed", "gone", true, false]);
  assert.equal(advance(gone, record), gone);
  const done = after(gone, keep, { type: "kept", cards: KEPT, file: "cow.wav" });
  assert.deepEqual([done.phase, done.microphone, done.at], ["idle", "gone", 2]);
  for (const [steps, phase] of [[recorded, "assessing"], [[...judged, keep], "saving"], [[...recorded, failed("away")], "recorded"]]) {
    assert.equal(after(three(), ...steps, lost).phase, phase);
  }
});

test("pulled out while it records: cut short, and judged like any other", () => {
  const state = after(three(), opened, record, begin, cutStop, lost);
  assert.deepEqual([state.phase, state.cut, state.microphone], ["assessing", true, "gone"]);
  const done = advance(state, assessed("good"));
  assert.deepEqual([done.phase, done.cut], ["assessed", true]);
  assert.equal(after(done, opened, record, begin).cut, false);
  assert.equal(after(three(), opened, record, lost).phase, "idle");
});

test("another microphone is asked for once there is one", () => {
  const [none, some] = [false, true].map((any) => ({ type: "devices", any }));
  const gone = after(three(), opened, lost, none);
  assert.equal(gone.microphone, "gone");
  assert.equal(advance(gone, none), gone);
  assert.equal(after(gone, some).microphone, "there");
  assert.equal(after(gone, some, none).microphone, "gone");
  assert.equal(after(gone, some, opened).microphone, "open");
  assert.equal(after(three(), some).microphone, "closed");
});

test("a microphone that does not open is said, and the recording stays", () => {
  const closed = { type: "closed", problem: "It is not allowed." };
  const state = after(three(), ...judged, lost, closed);
  assert.deepEqual([state.phase, state.microphone, state.microphoneProblem, keepable(state)], ["assessed", "closed", "It is not allowed.", true]);
});

test("closing the page is warned of only where something is lost", () => {
  for (const [steps, loss] of [
    [[opened], false], [[opened, record, begin], true], [recorded, true], [[...recorded, stored], false],
    [judged, true], [[...recorded, stored, assessed("good")], false], [[...recorded, assessed("again")], false],
    [[...judged, keep, failed("away")], true], [[...recorded, stored, failed("away")], false],
  ]) {
    assert.equal(wouldBeLost(after(three(), ...steps)), loss);
  }
});

test("what does not fit changes nothing", () => {
  for (const event of [record, begin, stop, assessed("good"), keep, check, discard, stored, failed("away"), { type: "back", cards: KEPT }]) {
    const state = three();
    assert.equal(advance(state, event), state);
  }
});
