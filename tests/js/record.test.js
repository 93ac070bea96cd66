import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import {
  confirmed, counts, elapsed, listeners, newSitting, roleOf, timeOfDay, tries, unfinished, mergeSittings, withZone,
} from "../../site_templates/theme/assets/js/record.js";

const example = JSON.parse(await readFile(new URL("./sitting.json", import.meta.url), "utf8"));
const page = { site: example.site, plan: example.plan, practice: example.practice, helper: "home", times: ["morning", "evening"] };

test("a new sitting has the keys of the example, in their order", () => {
  const made = newSitting(page, new Date(2026, 11, 7, 8, 15, 4), example.id);
  assert.deepEqual(Object.keys(made), Object.keys(example));
  assert.deepEqual({ ...made, start: "" }, { ...example, start: "", trials: [], tallies: [], note: "", done: 0, end: "" });
  assert.match(made.start, /^2026-12-07T08:15:04[+-]\d\d:\d\d$/);
});

const zones = [
  ["west of Greenwich", 360, "2026-12-07T08:15:04-06:00"],
  ["east, with half an hour", -330, "2026-12-07T08:15:04+05:30"],
  ["at Greenwich", 0, "2026-12-07T08:15:04+00:00"],
];
for (const [name, offset, expected] of zones) {
  test(`local time with its zone: ${name}`, () => {
    const date = new Date(2026, 11, 7, 8, 15, 4);
    date.getTimezoneOffset = () => offset;
    assert.equal(withZone(date), expected);
  });
}

const hours = [
  [6, ["morning", "evening"], "morning"], [10, ["morning", "evening"], "morning"],
  [15, ["morning", "evening"], "evening"], [21, ["morning", "evening"], "evening"],
  [8, ["evening"], "evening"], [12, ["morning", "midday", "evening"], "midday"], [12, [], "midday"],
  [13, ["morning", "afternoon"], "afternoon"],
];
for (const [hour, planned, expected] of hours) {
  test(`at ${hour} o'clock of [${planned}] it is ${expected}`, () => assert.equal(timeOfDay(hour, planned), expected));
}

const START = Date.parse(example.start);
const LAST = START + example.tallies.at(-1).ms;
const minutes = (n) => new Date(LAST + n * 60000);

const going = [
  ["five minutes after the last mark", [example], page, 5, true],
  ["half an hour after it", [example], page, 30, false],
  ["of another practice", [example], { ...page, practice: "0".repeat(32) }, 5, false],
  ["with another listener", [example], { ...page, helper: "self" }, 5, false],
  ["nothing was kept", [], page, 5, false],
  ["the clock was set back", [example], page, -60, false],
];
for (const [name, kept, here, after, expected] of going) {
  test(`a sitting goes on: ${name}`, () => assert.equal(unfinished(kept, here, minutes(after)) !== null, expected));
}

test("counts and tries leave out what was not tried", () => {
  assert.deepEqual(counts(example.trials), { clear: 1, almost: 0, missed: 0, not_tried: 1 });
  assert.equal(tries(example.trials), 1);
  const again = { ...example.trials[0], repeat: true };
  assert.deepEqual(counts([...example.trials, again]), counts(example.trials), "nor a word said once more after a miss");
  assert.equal(tries([...example.trials, again]), 1);
});

test("milliseconds count from the start and never below it", () => {
  assert.equal(elapsed(example, new Date(START + 1234)), 1234);
  assert.equal(elapsed(example, new Date(START - 5000)), 0);
});

test("union: each sitting once, oldest first, the fuller copy, the newer note", () => {
  const early = { ...example, trials: example.trials.slice(0, 1) };
  const noted = { ...example, note: "later" };
  const before = { ...example, id: "0".repeat(32), start: "2026-12-06T18:00:00-06:00" };
  assert.deepEqual(mergeSittings([example, early, before, noted]), [before, noted]);
});

// Shared with tests/model/test_record.py: copies of one sitting, and which of them is kept.
const cases = JSON.parse(await readFile(new URL("./copies.json", import.meta.url), "utf8"));
for (const { name, copies, kept } of cases) {
  test(`of copies of a sitting is kept: ${name}`, () => {
    const given = copies.map(({ trials, tallies = [], note, done = 0, end = "" }) => ({
      ...example, trials: example.trials.slice(0, trials), tallies: tallies.map(([targets, slipped]) => ({ ...example.tallies[0], targets, slipped })), note, done, end,
    }));
    assert.deepEqual(mergeSittings(given), [given[kept]]);
  });
}

test("a tally without a number of slips is no figure; none is a number", () => {
  const tally = example.tallies[0];
  assert.equal(confirmed(tally), true);
  assert.equal(confirmed({ ...tally, slipped: 0 }), true);
  assert.equal(confirmed({ ...tally, slipped: null }), false);
  assert.equal(confirmed({ ...tally, targets: null }), false);
});

test("what was kept before there were tallies is read", () => {
  const { tallies: _, ...old } = example;
  assert.deepEqual(mergeSittings([old]), [old]);
  assert.notEqual(unfinished([old], page, minutes(0)), null);
});

const roles = [
  ["as the plan has it", "home", {}, "home"],
  ["as the family chose on this device", "home", { helper: "school" }, "school"],
  ["who practises alone does so everywhere", "self", { helper: "school" }, "self"],
  ["nobody practises alone unasked", "other home", { helper: "self" }, "other home"],
  ["a role that nobody knows", "home", { helper: "grandma" }, "home"],
];
for (const [name, helper, settings, expected] of roles) {
  test(`who listens: ${name}`, () => assert.equal(roleOf({ helper }, settings), expected));
}

const offered = [
  ["all roles", "home", [], {}, ["home", "other home", "school"]],
  ["the only one of the program first", "school", [], { helper: "home" }, ["school", "home", "other home"]],
  ["of several those of the program alone", "other home", ["home"], { helper: "home" }, ["other home", "home"]],
  ["and who was chosen before", "home", ["other home"], { helper: "school" }, ["home", "other home", "school"]],
  ["but nobody unknown", "home", ["other home"], { helper: "self" }, ["home", "other home"]],
];
for (const [name, helper, other_helpers, settings, expected] of offered) {
  test(`who may be chosen: ${name}`, () => assert.deepEqual(listeners({ helper, other_helpers }, settings), expected));
}
