import assert from "node:assert/strict";
import { test } from "node:test";

import { withZone } from "../../site_templates/theme/assets/js/record.js";
import { standing, usedMs } from "../../site_templates/theme/assets/js/today.js";

const MINUTE = 60_000;
const TOTAL = 48;
const page = {
  practice: "a".repeat(32), times: ["morning", "evening"], days: ["mon", "tue", "wed", "thu", "fri"],
  helper: "home", by_role: [], minutes: 8, estimate: 8, planned_days: 14,
};
const at = (day, hour, minute = 0) => new Date(2026, 11, day, hour, minute); // 7 December 2026 is a Monday
const MONDAY = at(7, 18, 30);

/** Tries of a sitting, so many ms apart. */
const tried = (number, each = 5000) => Array.from({ length: number }, (_, i) => ({ mark: "clear", ms: (i + 1) * each }));
const sitting = (start, time, change = {}) => ({
  id: start.toISOString(), practice: page.practice, helper: "home", start: withZone(start), time, tallies: [],
  trials: tried(change.done ?? 0), began: 0, done: 0, end: "", ...change,
});
const now = (sittings, change = {}) => standing(sittings, { ...page, ...change.page }, change.settings ?? {}, change.now ?? MONDAY, TOTAL);

const times = [
  ["tries follow one another", [{ ms: 5000 }, { ms: 9000 }], [], 9000],
  ["a rest of the helper counts a minute", [{ ms: 5000 }, { ms: 305_000 }], [], 65_000],
  ["a text counts whole", [{ ms: 5000 }], [{ ms: 245_000 }], 245_000],
  ["a text that was left open counts ten minutes", [], [{ ms: 60 * MINUTE }], 10 * MINUTE],
  ["a try after a text counts from its end", [{ ms: 250_000 }, { ms: 5000 }], [{ ms: 245_000 }], 250_000],
  ["kept before there were texts", [{ ms: 5000 }], undefined, 5000],
];
for (const [name, trials, tallies, expected] of times) {
  test(`time used: ${name}`, () => assert.equal(usedMs({ trials, tallies }), expected));
}

const today = (change) => sitting(at(7, 18), "evening", change);
const kinds = [
  ["nothing yet", [], {}, "ready"],
  ["done this morning, nothing this evening", [sitting(at(7, 8), "morning", { done: TOTAL, end: "done" })], {}, "ready"],
  ["the same time of yesterday", [sitting(at(6, 18), "evening", { done: TOTAL, end: "done" })], {}, "ready"],
  ["every try gone through", [today({ done: TOTAL })], {}, "done"],
  ["in two records", [today({ done: 30 }), sitting(at(7, 18, 10), "evening", { began: 30, done: 18 })], {}, "done"],
  ["the minutes used, the page closed", [today({ done: 10, trials: tried(10, 50_000) })], {}, "done"],
  ["the minutes used in two records", [today({ done: 5, trials: tried(5, 50_000) }), today({ done: 5, trials: tried(5, 50_000) })], {}, "done"],
  ["a long rest does not use them", [today({ done: 2, trials: [{ ms: 5000 }, { ms: 15 * MINUTE }] })], {}, "begun"],
  ["ended by time", [today({ done: 20, end: "time" })], {}, "done"],
  ["enough for today", [today({ done: 20, end: "enough" })], {}, "begun"],
  ["too hard", [today({ done: 20, end: "hard" })], {}, "begun"],
  ["enough, then all the rest", [today({ done: 20, end: "enough" }), today({ began: 20, done: 28, end: "done" })], {}, "done"],
  ["opened, nothing tried", [today({})], {}, "ready"],
  ["a text alone", [today({ tallies: [{ ms: 2 * MINUTE }] })], {}, "begun"],
  ["practice of another plan", [today({ done: TOTAL, end: "done", practice: "b".repeat(32) })], {}, "ready"],
  ["a Saturday", [], { now: at(12, 18) }, "free"],
  ["practised on a Saturday", [sitting(at(12, 18), "evening", { done: TOTAL })], { now: at(12, 18, 30) }, "done"],
  ["paused", [], { settings: { paused: true } }, "paused"],
  ["paused on a Saturday", [], { settings: { paused: true }, now: at(12, 18) }, "paused"],
];
for (const [name, sittings, change, expected] of kinds) {
  test(`how the sitting stands: ${name}`, () => assert.equal(now(sittings, change).kind, expected));
}

test("the time of day is the planned one that is nearest, but a sitting under way keeps its own", () => {
  assert.equal(now([]).time, "evening");
  assert.equal(now([], { now: at(7, 9) }).time, "morning");
  const begun = sitting(at(7, 13, 55), "morning", { done: 20 }); // from 14:00 on the evening is nearer
  assert.deepEqual([now([begun], { now: at(7, 14, 5) }).time, now([begun], { now: at(7, 14, 5) }).kind], ["morning", "begun"]);
  assert.deepEqual([now([begun], { now: at(7, 14, 40) }).time, now([begun], { now: at(7, 14, 40) }).kind], ["evening", "ready"]);
  const late = sitting(at(7, 23, 58), "evening", { done: TOTAL, end: "done" });
  assert.equal(now([late], { now: at(8, 0, 3) }).kind, "done");
});

test("another listener goes on with the sitting of this evening", () => {
  assert.deepEqual(now([today({ done: 20, helper: "other home" })]).left, 28);
});

const places = [
  ["never practised", [], 0],
  ["all done", [{ done: TOTAL }], 0],
  ["cut off by time", [{ done: 30, end: "time" }], 30],
  ["cut off again, past the end", [{ done: 30, end: "time" }, { began: 30, done: 30, end: "time" }], 12],
  ["all done from the middle", [{ began: 30, done: TOTAL }], 0],
  ["more than all", [{ done: 50 }], 0],
  ["a step practised on its own page in between", [{ done: 30 }, { trials: tried(15) }], 30],
  ["kept by an earlier version", [{ began: undefined, done: undefined, end: undefined, trials: tried(15) }], 0],
  ["another plan in between", [{ done: 30 }, { done: 10, practice: "b".repeat(32) }], 30],
];
for (const [name, changes, expected] of places) {
  test(`where the next run begins: ${name}`, () => {
    const sittings = changes.map((change, i) => sitting(at(1 + i, 8), "morning", change));
    assert.equal(now(sittings).from, expected);
  });
}

test("what is left, in tries and in minutes", () => {
  const of = (sittings, change) => (({ left, minutesLeft, about }) => [left, minutesLeft, about])(now(sittings, change));
  assert.deepEqual(of([]), [48, 8, 8]);
  assert.deepEqual(of([], { page: { minutes: 5 } }), [48, 5, 5], "it ends with the planned minutes");
  assert.deepEqual(of([], { page: { minutes: 10, estimate: 7 } }), [48, 10, 7]);
  assert.deepEqual(of([today({ done: 24, trials: tried(24, 5000) })]), [24, 6, 4]);
  assert.deepEqual(of([today({ done: 12, trials: tried(9, 50_000) })]), [36, 1, 1], "never less than a minute");
  assert.deepEqual(of([today({ done: TOTAL, end: "done" })]), [48, 8, 8], "once more is a whole one");
});

test("a new sheet is due after the planned days, counted from the first sitting on this plan", () => {
  const first = sitting(at(7, 18), "evening", { done: 10 });
  const before = sitting(at(1, 8), "morning", { done: 10, practice: "b".repeat(32) });
  const due = (sittings, day, planned_days = 14) => now(sittings, { now: at(day, 9), page: { planned_days } }).newSheet;
  assert.equal(due([], 30), false);
  assert.equal(due([before, first], 20), false);
  assert.equal(due([before, first], 21), true);
  assert.equal(due([before, first], 14, 7), true);
  assert.deepEqual([16, 17].map((day) => due([first], day, 10)), [false, true]);
});

const morning = (day) => [sitting(at(day, 8), "morning", { done: TOTAL, end: "done" })];
const evening = (day) => [sitting(at(day, 18), "evening", { done: TOTAL, end: "done" })];
const later = [
  ["this evening, after the morning", morning(7), { now: at(7, 8, 20) }, [0, "mon", "evening"]],
  ["tomorrow, after the evening", evening(7), {}, [1, "tue", "morning"]],
  ["on Monday, after Friday evening", evening(11), { now: at(11, 18, 30) }, [3, "mon", "morning"]],
  ["on Monday, on a free Saturday", [], { now: at(12, 10) }, [2, "mon", "morning"]],
  ["on Monday, after a free Saturday was used", evening(12), { now: at(12, 18, 30) }, [2, "mon", "morning"]],
  ["tomorrow, on a free Sunday", [], { now: at(13, 10) }, [1, "mon", "morning"]],
  ["in a week, with one sitting a week", evening(7), { page: { days: ["mon"], times: ["evening"] } }, [7, "mon", "evening"]],
  ["this morning, when the evening's ended after midnight", [sitting(at(7, 23, 58), "evening", { done: TOTAL, end: "done" })], { now: at(8, 0, 3) }, [0, "tue", "morning"]],
];
for (const [name, sittings, change, expected] of later) {
  test(`what is next: ${name}`, () => {
    const { days, day, time } = now(sittings, change).next;
    assert.deepEqual([days, day, time], expected);
  });
}

test("on a device the days are those of who listens there", () => {
  const own = { by_role: [{ role: "home", days: ["mon", "tue", "thu", "fri"] }, { role: "school", days: ["wed"] }] };
  const on = (day, helper) => now([], { now: at(day, 9), page: own, settings: { helper } });
  assert.deepEqual([9, 10].map((day) => on(day, "school").kind), ["ready", "free"]);
  assert.deepEqual([9, 10].map((day) => on(day, undefined).kind), ["free", "ready"]);
  assert.deepEqual(on(9, "home").next, { days: 1, day: "thu", time: "morning" });
  assert.equal(on(9, "other home").kind, "ready", "any day, for one whom the program does not name");
});

test("on a device the times are those of who listens there", () => {
  const home = { role: "home", days: page.days, times: ["morning", "evening"] };
  const own = { times: ["morning", "midday", "evening"], by_role: [home, { role: "school", days: ["mon"], times: ["midday"] }] };
  const on = (hour, helper, sittings = []) => now(sittings, { now: at(7, hour), page: own, settings: { helper } });
  assert.deepEqual([on(18, "school").time, on(18, "home").time, on(12, "other home").time], ["midday", "evening", "midday"]);
  const noon = [sitting(at(7, 12), "midday", { done: TOTAL, end: "done" })];
  assert.deepEqual(on(18, "school", noon).next, { days: 7, day: "mon", time: "midday" });
  assert.equal(on(18, "home", noon).kind, "ready");
});

test("nothing is next while there is something to do now, or practice is paused", () => {
  assert.deepEqual([now([]), now([today({ done: 20 })]), now([], { settings: { paused: true } })].map(({ next }) => next), [null, null, null]);
});

// Three steps of a sitting, in order; what a week of two sittings a day does with them.
const STEPS = [16, 20, 12];
const stepOf = (index) => (index < 16 ? 0 : index < 36 ? 1 : 2);

/**
 * @param {(sitting: number) => number} seconds  of a try in the n-th sitting
 * @param {(sitting: number, tries: number) => "" | "enough" | "killed"} breaks
 * @returns {{ tries: number[], sittings: object[] }}
 */
function week(seconds, breaks = () => "") {
  const [sittings, counts] = [[], STEPS.map(() => 0)];
  for (let number = 0; number < 14; number++) {
    let clock = at(7 + Math.floor(number / 2), number % 2 ? 18 : 8);
    for (let part = 0; part < 3; part++) {
      const here = standing(sittings, { ...page, days: ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] }, {}, clock, TOTAL);
      if (here.kind === "done") break;
      const made = sitting(clock, number % 2 ? "evening" : "morning", { began: here.from });
      const limit = here.minutesLeft * MINUTE;
      while (made.end === "" && made.done < here.left) {
        counts[stepOf((here.from + made.done) % TOTAL)] += 1;
        made.done += 1;
        made.trials = tried(made.done, seconds(number) * 1000);
        const broken = part === 0 ? breaks(number, made.done) : "";
        if (broken === "killed") break;
        made.end = made.done === here.left ? "done" : usedMs(made) >= limit ? "time" : broken;
      }
      sittings.push(made);
      if (made.end === "enough") break;
      clock = new Date(clock.getTime() + usedMs(made) + 2 * MINUTE);
    }
  }
  return { tries: counts, sittings };
}

/** Of each step: its share of all tries over its planned share. */
const fairness = (counts) => {
  const all = counts.reduce((a, b) => a + b, 0);
  return counts.map((count, step) => count / all / (STEPS[step] / TOTAL));
};

const weeks = [
  ["the minutes hold 60 % of the tries", () => 8 * 60 / 28.8],
  ["one try more than half", () => 8 * 60 / 25],
  ["the minutes hold a third", () => 30],
  ["slower in the evening", (n) => (n % 2 ? 25 : 13)],
  ["quick in between: whole sittings begin at the beginning", (n) => (n % 3 ? 17 : 8)],
  ["often enough after a few", () => 17, (n, tries) => (n % 3 === 1 && tries === 7 ? "enough" : "")],
  ["the page is closed in between", () => 17, (n, tries) => (n % 2 && tries === 9 ? "killed" : "")],
];
for (const [name, seconds, breaks] of weeks) {
  test(`over a week every step gets at least 80 % of its planned share: ${name}`, () => {
    const { tries } = week(seconds, breaks);
    const shares = fairness(tries);
    assert.ok(Math.min(...shares) >= 0.8, `${tries}: ${shares.map((s) => s.toFixed(2))}`);
  });
}

test("always from the beginning, the last step would get less: what the week's test can find", () => {
  const tries = STEPS.map(() => 0);
  for (let number = 0; number < 14; number++) for (let index = 0; index < 29; index++) tries[stepOf(index)] += 1;
  assert.ok(Math.min(...fairness(tries)) < 0.8);
});

test("with time enough every sitting has every try, also when the page was closed in between", () => {
  const whole = STEPS.map((number) => number * 14);
  assert.deepEqual(week(() => 6).tries, whole);
  const { tries, sittings } = week(() => 6, (n, done) => (n % 2 && done === 9 ? "killed" : ""));
  assert.deepEqual([tries, sittings.length], [whole, 14 + 7]);
});
