// A family by script, over the pages' own logic and keeper, as lead.js uses them: no page, no waiting.
// What is heard, how long it takes and when the page is closed is drawn at a seed.

import { makeKeeper } from "../../site_templates/theme/assets/js/keeper.js";
import { mergeSittings } from "../../site_templates/theme/assets/js/record.js";
import { advance } from "../../site_templates/theme/assets/js/rounds.js";
import { isOver, needsModel, startRun, task } from "../../site_templates/theme/assets/js/run.js";
import { part, tasks, warmUp } from "../../site_templates/theme/assets/js/tasks.js";
import { standing } from "../../site_templates/theme/assets/js/today.js";

const item = (id) => ({ id, text: id, natural: { src: id, duration: 1 }, long: null, picture: null });
export const round = (id, support, times = 1) => ({ id, form: "natural", support, show: "both", times, contrast: false });
/** A step of so many items, with ids of its own. */
export const step = (id, easier, count, rounds, more = {}) => ({
  id, name: id, easier, misses: 3, judges: false, passage: null, pairs: [], imitated: [], rounds,
  items: Array.from({ length: count }, (_, i) => item(`${id}-${i}`)), ...more,
});

/** Today's page of some steps. */
export const pageOf = (steps, easier, more = {}) => ({
  site: "7k2mz9qd4wthc", plan: "a".repeat(32), practice: "a".repeat(32), helper: "home", times: ["morning", "evening"],
  days: ["mon", "tue", "wed", "thu", "fri", "sat", "sun"], by_role: [], minutes: 8, estimate: 8, planned_days: 14, breath: 5, steps, easier, ...more,
});

/** Numbers from 0 to 1 that are always the same for a seed (mulberry32, by T. Ettinger, public domain). */
export function drawn(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What a device keeps; a sitting is made anew for each save, so no copy is needed. */
export function memory() {
  const kept = new Map();
  return { save: (sitting) => Boolean(kept.set(sitting.id, sitting)), all: () => mergeSittings([...kept.values()]) };
}

/**
 * One run on today's page, from Start to its end or until the page is closed.
 * @param {{ page: object, store: ReturnType<typeof memory>, clock: Date, random: () => number }} where
 * @param {{ clear: number, tryMs: () => number, killed?: () => boolean, enough?: () => boolean }} how
 *   clear: how likely a mark is; tryMs: of a try; killed, enough: asked after each try
 * @returns {{ run: object, here: object, planned: string[], clock: Date } | null}  the steps of planned tries;
 *   null where this sitting is done
 */
export function practise({ page, store, clock, random }, { clear, tryMs, killed = () => false, enough = () => false }) {
  const [known, all, steps] = [store.all(), tasks(page), [...page.steps, ...page.easier]];
  const here = standing(known, page, {}, clock, all.length);
  if (here.kind === "done") return null;
  const keeper = makeKeeper(store, page, true);
  const ahead = part(all, here.from, here.left);
  const goesOn = keeper.begin(known, clock, here.from, false);
  let run = startRun(ahead, {
    warmUp: goesOn ? [] : warmUp(steps, ahead[0]), steps, breath: page.breath,
    limitMs: here.minutesLeft * 60_000, ms: keeper.last(), before: all.length - here.left,
  });
  let now = clock.getTime();
  const planned = [];
  const go = (event) => { run = advance(run, event); keeper.save(run, []); };
  const kind = () => (random() < clear ? "clear" : random() < 0.5 ? "almost" : random() < 0.9 ? "missed" : "not_tried");
  const tried = () => {
    now += tryMs();
    if (needsModel(run)) go(random() < 0.8 ? { type: "said" } : { type: "declined" });
    if (task(run).kind === "planned" && !run.repeats) planned.push(task(run).step.id);
    go({ type: "mark", mark: kind(), ms: keeper.ms(new Date(now)) });
  };
  while (!isOver(run)) {
    if (run.phase === "interlude") go({ type: run.interlude === "easier" && random() < 0.7 ? "too-hard" : "go-on" });
    else if (run.phase === "marked") go({ type: "next" });
    else if (run.phase === "again") go({ type: random() < 0.5 ? "retry" : "go-on" });
    else if (task(run).step.passage) {
      planned.push(task(run).step.id);
      const told = Array.from({ length: random() < 0.5 ? 1 : 2 }, () => ({ step: task(run).step.id, ms: keeper.ms(new Date((now += tryMs() * 20))) }));
      now += 3000; // until it is left
      go({ type: "text-over", tallies: told });
    } else {
      tried();
      if (killed()) break;
      if (enough()) go({ type: "stop" });
    }
  }
  return { run, here, planned, clock: new Date(now) };
}
