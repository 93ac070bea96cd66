import assert from "node:assert/strict";
import { test } from "node:test";

import { makeKeeper } from "../../site_templates/theme/assets/js/keeper.js";
import { advance } from "../../site_templates/theme/assets/js/rounds.js";
import { startRun } from "../../site_templates/theme/assets/js/run.js";
import { tasks } from "../../site_templates/theme/assets/js/tasks.js";

const round = { id: "1", form: "natural", support: "spontaneous", show: "both", times: 1, contrast: false };
const items = ["key", "cow"].map((id) => ({ id, text: id, natural: { src: id }, long: null }));
const step = { id: "k-words", name: "words", easier: "", misses: 3, judges: false, passage: null, pairs: [], imitated: [], items, rounds: [round] };
const PAGE = { site: "a", plan: "b", practice: "c", times: ["morning"], helper: "home" };

test("a planned try that is said once more is gone through already, so a page that dies there goes on with the next", () => {
  let last = null;
  const keeper = makeKeeper({ save: (sitting) => (last = sitting) }, PAGE, true);
  keeper.begin([], new Date(2026, 11, 7, 8), 0, false);
  const done = [];
  let run = startRun(tasks({ steps: [step], helper: "home" }), { steps: [step] });
  for (const event of [{ type: "mark", mark: "missed", ms: 5000 }, { type: "next" }, { type: "retry" }, { type: "mark", mark: "clear", ms: 9000 }, { type: "next" }]) {
    run = advance(run, event);
    keeper.save(run, []);
    done.push(last.done);
  }
  assert.deepEqual(done, [1, 1, 1, 1, 1]);
  assert.deepEqual(last.trials.map(({ item, mark, repeat }) => [item, mark, repeat ?? false]), [["key", "missed", false], ["key", "clear", true]]);
});

test("a sitting has all its parts, whatever died between; one more sitting begins at nothing", () => {
  const store = { save: () => true };
  const clear = (keeper, ms) => {
    keeper.save(advance(startRun(tasks({ steps: [step], helper: "home" }), { steps: [step] }), { type: "mark", mark: "clear", ms }), []);
    return keeper.sitting();
  };
  const begun = (known, another) => {
    const keeper = makeKeeper(store, PAGE, true);
    keeper.begin(known, new Date(2026, 11, 7, 8), 0, another);
    return keeper;
  };
  const first = clear(begun([], false), 5000);
  const [whole, other] = [false, true].map((another) => clear(begun([first], another), 9000));
  assert.deepEqual([whole.id === first.id, whole.trials.length, other.id === first.id, other.trials.length], [true, 2, false, 1]);
});
