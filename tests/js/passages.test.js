import assert from "node:assert/strict";
import { test } from "node:test";

import { advancePassage, pieces, startPassage, tallies, upTo } from "../../site_templates/theme/assets/js/passages.js";

// For k: the letters of the two in the last word stand side by side.
const text = { paragraphs: [[["K", true], ["im’s bus, a boo", false], ["kc", true], ["ase!", false]]], words: 4, targets: 3, counts: [1, 0, 0, 2], situation: "", minutes: 5 };
const reading = { id: "s-text", level: "reading", passage: text };
const telling = { id: "s-tale", level: "telling", passage: text };
const talk = { id: "s-dinner", level: "talk", passage: { ...text, paragraphs: [], words: 0, targets: 0, counts: [], situation: "At dinner, with Grandpa" } };

/** Events by name, a second apart; a number is a tap on that word. */
const go = (state, ...events) => events.reduce((now, event, at) =>
  advancePassage(now, typeof event === "number" ? { type: "word", word: event } : { type: event }, state.ms + 1000 * (at + 1)), state);
const begun = (step) => startPassage(step, 60_000);
const tally = (more) => ({ step: "s-text", words: null, targets: null, slipped: null, later: false, ms: 0, ...more });

test("a text falls into words, and each keeps the letters of its targets", () => {
  const [line] = pieces(text.paragraphs);
  assert.deepEqual(line.filter((p) => p.number !== null).map((p) => p.text), ["Kim’s", "bus", "a", "bookcase"]);
  assert.equal(line.map((p) => p.text).join(""), "Kim’s bus, a bookcase!");
  assert.deepEqual(line.at(-2).parts, [["boo", false], ["kc", true], ["ase", false]]);
  assert.deepEqual(pieces([[["One", false]], [["two", false]]]).flat().map((p) => p.number), [0, 1]);
});

test("a tap more on a word is a slip more, up to its targets, then none again", () => {
  const taps = [0, 1, 2, 3].map((n) => go(begun(reading), ...Array(n).fill(3)).slips[3]);
  assert.deepEqual(taps, [0, 1, 2, 0]);
  assert.equal(go(begun(reading), 0, 0).slips[0], 0);
});

test("a word without a target and a word that is not there take no tap", () => {
  const state = begun(reading);
  for (const word of [1, 9, -1, 0.5]) assert.equal(go(state, word), state);
});

test("read to the end: words, targets and the confirmed number", () => {
  const state = go(begun(reading), 0, "whole", "yes");
  assert.deepEqual(tallies(state), [tally({ words: 4, targets: 3, slipped: 1, ms: 63_000 })]);
});

test("up to a word: what comes after it was not said, so its slips count as little as its targets", () => {
  const state = go(begun(reading), 0, 3, "stopped", 1);
  assert.deepEqual([state.phase, state.number, upTo(state)], ["confirm", 1, { words: 2, targets: 1 }]);
  const other = go(state, "back", "whole");
  assert.deepEqual([other.number, upTo(other)], [2, { words: 4, targets: 3 }]);
});

test("the number may be put right, between none and all targets", () => {
  const state = go(begun(reading), "whole", "fewer", "more", "more", "more", "more");
  assert.equal(state.number, 3);
  assert.equal(go(state, "fewer", "fewer", "fewer", "fewer").number, 0);
});

test("no tap is no slip only once somebody says so", () => {
  const state = go(begun(reading), "whole");
  assert.deepEqual(tallies(state), [tally({ words: 4, targets: 3, ms: 61_000 })]);
  assert.equal(tallies(go(state, "yes"))[0].slipped, 0);
  assert.equal(tallies(go(state, "uncounted"))[0].slipped, null);
});

test("what is left in the middle is kept unconfirmed once anything was tapped", () => {
  assert.deepEqual(tallies(begun(reading)), []);
  assert.deepEqual(tallies(go(begun(reading), 0)), [tally({ ms: 61_000 })]);
  assert.deepEqual(tallies(go(begun(telling), "slip")), [tally({ step: "s-tale", ms: 61_000 })]);
});

test("once more only while its minutes last, each time with a tally of its own", () => {
  const first = go(begun(reading), 0, "whole", "yes");
  assert.equal(first.phase, "again");
  const second = go(first, "once-more");
  assert.deepEqual([second.phase, second.slips, tallies(second).length], ["going", [0, 0, 0, 0], 1]);
  assert.deepEqual(tallies(go(second, "whole", "yes")).map((t) => t.slipped), [1, 0]);
  const [before, after] = [359_999, 360_000].map((ms) => advancePassage(go(begun(reading), "whole"), { type: "yes" }, ms).phase);
  assert.deepEqual([before, after], ["again", "done"]); // 5 minutes from 60 s on
  assert.equal(go(first, "next").phase, "done");
});

test("a telling: taps count and are taken back; targets are not known", () => {
  const state = go(begun(telling), "take-back", "slip", "slip", "slip", "take-back", "over");
  assert.equal(state.number, 2);
  assert.deepEqual(tallies(go(state, "more", "yes")), [tally({ step: "s-tale", slipped: 3, ms: 68_000 })]);
  assert.equal(go(state, "yes").phase, "done");
  assert.equal(go(state, "back", "slip", "over").number, 3);
});

test("a talk now is counted, one held already is told from memory, one not held leaves nothing", () => {
  assert.equal(go(begun(talk), "slip").phase, "ready");
  assert.deepEqual(tallies(go(begun(talk), "now", "slip", "over", "yes")), [tally({ step: "s-dinner", slipped: 1, ms: 64_000 })]);
  const later = go(begun(talk), "later");
  assert.equal(go(later, "yes"), later); // no number, no answer
  assert.deepEqual(tallies(go(later, "more", "more", "yes")), [tally({ step: "s-dinner", slipped: 2, later: true, ms: 64_000 })]);
  assert.equal(tallies(go(later, "none", "yes"))[0].slipped, 0);
  assert.deepEqual([go(later, "back").phase, go(later, "back").later], ["ready", false]);
  assert.deepEqual(tallies(go(begun(talk), "skip")), []);
});

test("what makes no sense here changes nothing", () => {
  const states = { ready: begun(talk), going: begun(reading), ending: go(begun(reading), "stopped"), confirm: go(begun(reading), "whole"), again: go(begun(reading), "whole", "yes"), done: go(begun(talk), "skip") };
  const wrong = {
    ready: ["over", "yes", "whole", 0], going: ["slip", "over", "yes", "more", "next", "now"], ending: ["whole", "yes", 9],
    confirm: ["whole", "slip", "next", "fewer", 0], again: ["yes", "back", 0], done: ["back", "yes", "next", "now", "slip", 0],
  };
  for (const [phase, events] of Object.entries(wrong)) {
    assert.equal(states[phase].phase, phase);
    for (const event of events) assert.equal(go(states[phase], event), states[phase], `${event} in ${phase}`);
  }
});

test("a step of words is no text", () => {
  assert.throws(() => startPassage({ id: "k-words", level: "word", passage: null }, 0), /k-words/);
});
