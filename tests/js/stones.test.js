import assert from "node:assert/strict";
import { test } from "node:test";

import { ANIMAL, HEIGHT, REACH, WIDTH, curve, hills, numbersOf, runsRight } from "../../site_templates/theme/assets/js/stones-curve.js";
import { PATH, stonesOf, walk } from "../../site_templates/theme/assets/js/stones.js";

const SEEDS = ["7k2mz9qd4wthc", "aaaaaaaaaaaaa", "zzzzzzzzzzzzz", ...Array.from({ length: 60 }, (_, i) => `seed-${i}`)];

const trials = (number, mark = "clear") => Array.from({ length: number }, () => ({ mark }));
let made = 0;
const sitting = (tries, more = {}) => ({ id: `${made++}`, start: "2026-12-07T08:00:00Z", plan: "a", trials: trials(tries), tallies: [], end: "done", ...more });

test("a sitting of 16 to 60 tries and more lays 8 to 14 stones, a shorter one fewer, none at all only without a try", () => {
  assert.deepEqual([0, 1, 2, 5, 10, 16, 23, 24, 32, 48, 60, 64, 200].map((tries) => stonesOf(sitting(tries))), [0, 1, 1, 3, 5, 8, 8, 9, 10, 12, 13, 14, 14]);
});

test("marks make no difference, what was not tried or was said once more is no further try", () => {
  for (const mark of ["clear", "almost", "missed"]) assert.equal(stonesOf({ trials: trials(16, mark), tallies: [] }), 8);
  const more = [...trials(16), ...trials(9, "not_tried"), { mark: "clear", repeat: true }];
  assert.equal(stonesOf({ trials: more, tallies: [] }), 8);
});

test("a text counts by what was said of it, not by its slips; a talk that nobody counted as a short sitting", () => {
  const text = (targets, slipped) => stonesOf({ trials: [], tallies: [{ targets, slipped }] });
  assert.deepEqual([text(20, 0), text(20, 19), text(20, null), text(0, 0), text(null, null)], [8, 8, 8, 0, 8]);
  assert.equal(stonesOf({ trials: trials(4) }), 2); // kept before there were tallies
});

test("each sitting goes on where the one before ended, whatever its plan, its day or its end", () => {
  const all = [
    sitting(16, { start: "2026-11-02T08:00:00Z", plan: "old" }), // then five weeks of nothing
    sitting(10, { start: "2026-12-06T18:00:00Z", end: "" }), // left in the middle
    sitting(4, { end: "hard" }),
    sitting(32, { id: "now" }),
  ];
  const steps = all.map((_, i) => walk(all.slice(0, i + 1), "2026-12-07")?.laid);
  assert.deepEqual(steps, [8, 13, 15, 25]);
  assert.deepEqual(walk(all, "2026-12-07", "now"), { number: 1, laid: 25, today: 12, fresh: 10, begun: false });
  assert.equal(walk([], "2026-12-07"), null);
  assert.equal(walk([sitting(0)], "2026-12-07"), null);
});

test("a full path stays full until the next stone, which begins another one", () => {
  const full = Array.from({ length: PATH / 8 }, () => sitting(16));
  assert.deepEqual(walk(full, "2026-12-08"), { number: 1, laid: PATH, today: 0, fresh: 0, begun: false });
  const next = sitting(16, { id: "now", start: "2026-12-08T08:00:00Z" });
  assert.deepEqual(walk([...full, next], "2026-12-08", "now"), { number: 2, laid: 8, today: 8, fresh: 8, begun: true });
  const across = [...full.slice(1), sitting(4), next]; // 114 lay there; six more fill the first one
  assert.deepEqual(walk(across, "2026-12-08", "now"), { number: 2, laid: 2, today: 8, fresh: 8, begun: true });
  const on = [...full, next, sitting(4, { id: "later", start: "2026-12-08T18:00:00Z" })];
  assert.deepEqual(walk(on, "2026-12-08", "later"), { number: 2, laid: 10, today: 10, fresh: 2, begun: false });
});

test("for all that a sitting can be, the path only grows", () => {
  const next = numbersOf("any");
  const all = [];
  let before = 0;
  for (let i = 0; i < 200; i++) {
    all.push(sitting(Math.floor(80 * next())));
    const now = walk(all, "2026-12-07");
    const stones = now ? (now.number - 1) * PATH + now.laid : 0;
    assert.ok(stones >= before && stones - before <= 14);
    assert.ok(!now || (now.laid >= 1 && now.laid <= PATH));
    before = stones;
  }
});

test("every stone and the animal on it lie inside the drawing", () => {
  for (const seed of SEEDS) {
    for (const { x, y } of curve(seed, PATH)) {
      assert.ok(x >= REACH && x <= WIDTH - REACH && y >= REACH && y <= HEIGHT - REACH, `${seed}: ${x} ${y}`);
      assert.ok(x >= ANIMAL / 2 && x <= WIDTH - ANIMAL / 2 && y >= ANIMAL, `${seed}: ${x} ${y}`);
    }
  }
});

test("no two stones touch, and neighbors lie side by side", () => {
  for (const seed of SEEDS) {
    const stones = curve(seed, PATH);
    for (const [i, one] of stones.entries()) {
      for (const other of stones.slice(i + 1)) {
        assert.ok(Math.hypot(one.x - other.x, one.y - other.y) > 2 * REACH, `${seed}: ${i}`);
      }
      const after = stones[i + 1];
      if (after) assert.ok(Math.hypot(one.x - after.x, one.y - after.y) < 3 * REACH, `${seed}: ${i}`);
    }
  }
});

test("a client has the same path each time, and another one has another", () => {
  assert.deepEqual(curve(SEEDS[0], PATH), curve(SEEDS[0], PATH));
  assert.deepEqual(hills(SEEDS[0]), hills(SEEDS[0]));
  assert.equal(new Set(SEEDS.map((seed) => JSON.stringify(curve(seed, PATH)))).size, SEEDS.length);
  const left = SEEDS.filter((seed) => curve(seed, PATH)[0].x < WIDTH / 2).length;
  assert.ok(left > 0.2 * SEEDS.length && left < 0.8 * SEEDS.length);
});

test("rows run to one side and the next ones to the other, so the animal knows where to look", () => {
  const middle = (points, row) => points.map((_, at) => at).filter((at) => Math.floor((at * 4) / PATH) === row)[Math.floor(PATH / 8)];
  for (const seed of SEEDS) {
    const points = curve(seed, PATH);
    const rows = [0, 1, 2, 3].map((row) => runsRight(points, middle(points, row)));
    assert.deepEqual(rows, [rows[0], !rows[0], rows[0], !rows[0]], seed);
    assert.equal(rows[0], points[0].x < WIDTH / 2, "the first stone lies where its row begins");
    assert.equal(runsRight(points, 0), rows[0]);
  }
});
