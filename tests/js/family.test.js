// Weeks of practice over the pages' own logic, drawn at a seed: who gets which share, and whose time.

import assert from "node:assert/strict";
import { test } from "node:test";

import { usedMs } from "../../site_templates/theme/assets/js/today.js";
import { drawn, memory, pageOf, practise, round, step } from "./family.js";

const vowel = step("vowel", "", 4, [round("1", "imitation")]);
const words = step("words", "vowel", 8, [round("1", "imitation"), round("2", "spontaneous")]);
const phrases = step("phrases", "words", 10, [round("1", "imitation"), round("2", "spontaneous")]);
const sentences = step("sentences", "phrases", 6, [round("1", "imitation", 2)]);
const STEPS = [words, phrases, sentences];
const PLANNED = { words: 16, phrases: 20, sentences: 12 };
const TOTAL = 48;
const page = pageOf(STEPS, [vowel]);

/**
 * A week of two sittings a day; one that was broken off is gone on with after two minutes.
 * @param {number} seed
 * @param {(number: number, random: () => number) => object} howOf  of the n-th sitting, as `practise` takes it
 */
function week(seed, howOf, of = page) {
  const [random, store, runs] = [drawn(seed), memory(), []];
  for (let number = 0; number < 14; number++) {
    let clock = new Date(2026, 11, 7 + Math.floor(number / 2), number % 2 ? 18 : 8);
    for (let part = 0; part < 3; part++) {
      const how = howOf(number, random);
      const done = practise({ page: of, store, clock, random }, part < 2 ? how : { ...how, killed: undefined, enough: undefined });
      if (!done) break;
      runs.push(done);
      if (done.run.end === "enough" || done.run.end === "hard") break;
      clock = new Date(done.clock.getTime() + 2 * 60_000 * random());
    }
  }
  return { runs, store };
}

/**
 * Of each step: its share of the planned tries that were made over its share of the plan; and the least
 * that it can be, since after so many whole passes of the plan a part of one may have come on top.
 */
function shares(runs) {
  const tried = runs.flatMap(({ planned }) => planned);
  const passes = Math.floor(tried.length / TOTAL);
  assert.ok(passes >= 3, `${tried.length} tries`);
  const found = Object.entries(PLANNED).map(([id, n]) => tried.filter((one) => one === id).length / tried.length / (n / TOTAL));
  return [found, Math.min(0.8, passes / (passes + 1))];
}

const between = (random, least, most) => least + (most - least) * random();
const skill = { well: 0.85, fairly: 0.6, badly: 0.35 }; // how much is clear: none, some and much help
const weeks = Object.entries(skill).flatMap(([name, clear]) => [
  [`${name}, time for all`, () => ({ clear }), [4, 8]],
  [`${name}, cut off by time`, () => ({ clear }), [10, 25]],
  [`${name}, the page dies now and then`, (_, random) => ({ clear, killed: () => random() < 0.05 }), [8, 20]],
  [`${name}, often enough after a while`, (_, random) => ({ clear, enough: () => random() < 0.02 }), [8, 20]],
]);
for (const [name, how, [quick, slow]] of weeks) {
  test(`over a week every step gets at least 80 % of its planned share, help and all: ${name}`, () => {
    for (let seed = 1; seed <= 3; seed++) {
      const { runs } = week(seed, (number, random) => ({ ...how(number, random), tryMs: () => Math.round(1000 * between(random, quick, slow)) }));
      const [found, least] = shares(runs);
      assert.ok(Math.min(...found) >= least, `seed ${seed}: ${found.map((one) => one.toFixed(2))}`);
    }
  });
}

test("such weeks hold what they are to test: help, easier steps, kind ends, deaths", () => {
  const { runs } = week(1, (_, random) => ({ clear: 0.45, tryMs: () => 9000, killed: () => random() < 0.03 }));
  const ends = new Set(runs.map(({ run }) => run.end));
  assert.ok(runs.some(({ run }) => run.eased > 0) && runs.some(({ run }) => run.tasks.some(({ kind }) => kind === "easier")));
  assert.ok(runs.some(({ run }) => run.trials.some(({ repeat }) => repeat)));
  assert.ok(["time", "hard", ""].every((end) => ends.has(end)), [...ends].join());
});

const text = step("text", "", 0, [], { passage: { paragraphs: [], words: 40, targets: 9, situation: "", minutes: 3 } });

test("the time that runs use is the time that today's page counts, over rests, deaths and texts", () => {
  for (let seed = 1; seed <= 6; seed++) {
    const rest = (random) => (random() < 0.1 ? between(random, 50_000, 200_000) : between(random, 3000, 15_000));
    const how = (_, random) => ({ clear: 0.7, tryMs: () => Math.round(rest(random)), killed: () => random() < 0.06, enough: () => random() < 0.02 });
    const { runs, store } = week(seed, how, pageOf([words, text, phrases], [vowel]));
    const used = runs.reduce((sum, { run }) => sum + run.usedMs, 0);
    const counted = store.all().reduce((sum, sitting) => sum + usedMs(sitting), 0);
    assert.equal(used, counted, `seed ${seed}`);
    assert.ok(runs.length > 14 && runs.some(({ run }) => run.tallies.length > 1), "deaths, and a text read twice");
  }
});

test("of a run that goes on, no trial is lost, none is twice, and no more is done than was planned", () => {
  for (let seed = 1; seed <= 6; seed++) {
    const { runs, store } = week(seed, (_, random) => ({ clear: 0.6, tryMs: () => 6000, killed: () => random() < 0.1 }));
    const made = runs.flatMap(({ run }) => run.trials);
    const kept = store.all().flatMap(({ trials }) => trials);
    assert.deepEqual(kept, made, `seed ${seed}`);
    assert.ok(store.all().every(({ done }) => done <= TOTAL));
    for (const { here, run, planned } of runs) {
      assert.equal(run.before + here.left, TOTAL);
      assert.ok(planned.length <= here.left);
    }
  }
});
