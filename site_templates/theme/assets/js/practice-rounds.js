// <practice-rounds>: leads through the rounds of a step. Holds the state, asks the logic, draws.

import { makeScreenLock } from "./awake.js";
import { contrastScreen } from "./contrast.js";
import { wordsOf } from "./dom.js";
import { browserApis as soundApis, makePlayer } from "./player.js";
import { statusText } from "./prompts.js";
import { elapsed, newSitting, tries, unfinished } from "./record.js";
import { advance, awake, clipOf, isOver, lastMarked, needsModel, resumeIndex, startRun, task, tasks, testClip } from "./rounds.js";
import { interludeScreen, startScreen, stopScreen, summaryScreen, taskScreen } from "./screens.js";
import { browserApis as storageApis, makeStore } from "./store.js";

/** @import { Event, PageData, Run, Sitting, Trial } from "../../../types" */
/** @import { Actions, View } from "./screens.js" */

const MAX_LOAD_WAIT_MS = 1500; // how long Start waits for the clips of its round before it goes on
const SHOWN_MS = 500; // how long a mark shows before the next word comes
const REST_MS = 500; // how long a new word takes no mark: the tap may be meant for the last one
const MAX_OVERDUE_MS = 1000; // after its length a clip counts as heard, whatever the browser says

class PracticeRounds extends HTMLElement {
  /** @type {PageData} */
  #page = JSON.parse(document.getElementById("practice-data")?.textContent ?? "null");
  #say = wordsOf(this.#page.wording);
  #store = makeStore(storageApis(window), this.#page.site);
  #player = makePlayer(soundApis(window));
  #tasks = tasks(this.#page);
  /** @type {Run | null} */
  #run = null;
  /** @type {Sitting | null} */
  #sitting = null;
  /** @type {readonly Trial[]} */
  #earlierTrials = [];
  #resumeAt = 0;
  /** @type {View} */
  #view = { playing: false, loading: false, silent: false, revealed: false, kept: true, resting: false, stopping: false };
  #playRequest = 0;
  #timer = 0;
  #restTimer = 0;
  #status = document.createElement("p");
  #screen = document.createElement("div");
  #listeners = new AbortController();
  #light = makeScreenLock(navigator, document);

  connectedCallback() {
    this.setAttribute("role", "region");
    this.setAttribute("aria-label", this.#say("label"));
    this.#status.className = "visually-hidden";
    this.#status.setAttribute("role", "status");
    this.replaceChildren(this.#status, this.#screen);
    this.#listeners = new AbortController();
    const { signal } = this.#listeners;
    document.addEventListener("visibilitychange", () => document.hidden && this.#player.stop(), { signal });
    this.#draw();
    void this.#findUnfinished();
  }

  disconnectedCallback() {
    this.#listeners.abort();
    this.#player.stop();
    clearTimeout(this.#timer);
    clearTimeout(this.#restTimer);
    void this.#light.release();
    document.documentElement.classList.remove("practising");
  }

  /** Whether a sitting is under way that this page goes on with. */
  async #findUnfinished() {
    this.#sitting = unfinished(await this.#store.all(), this.#page, new Date());
    this.#resumeAt = this.#sitting ? resumeIndex(this.#tasks, this.#sitting.trials) : 0;
    if (this.#resumeAt && !this.#run) this.#draw();
  }

  /** @type {Actions} */
  #actions = {
    start: (at) => void this.#start(at),
    test: () => void this.#test(),
    hear: () => void this.#hear(),
    said: () => this.#modelled("said"),
    decline: () => this.#modelled("declined"),
    hurry: () => this.#modelled("hurried"),
    change: () => this.#go({ type: "change" }),
    keep: () => this.#go({ type: "keep" }),
    hearLast: () => void this.#hearLast(),
    retry: () => this.#go({ type: "retry" }),
    pause: () => this.#pause(),
    reveal: () => this.#update({ revealed: true }, "mark"),
    mark: (mark) => this.#mark(mark),
    choose: (item) => this.#step({ type: "choose", item }),
    chooseAgain: () => this.#step({ type: "choose-again" }),
    report: (item) => this.#report(item),
    look: () => this.#step({ type: "look" }, "next"),
    next: () => this.#go({ type: "next" }),
    goOn: () => (this.#view.stopping ? this.#resume() : this.#go({ type: "go-on" })),
    stop: () => this.#go({ type: "stop" }),
    note: (note) => void this.#keep({ note }),
  };

  /** @param {number} at */
  async #start(at) {
    if (this.#view.loading) return;
    this.#update({ loading: true, silent: false });
    await this.#player.unlock();
    const first = this.#tasks.filter(({ round }) => round === this.#tasks[at].round).flatMap(clipSources);
    const wait = new Promise((resolve) => setTimeout(resolve, MAX_LOAD_WAIT_MS));
    await Promise.race([this.#player.load(first), wait]);
    void this.#player.load(this.#tasks.flatMap(clipSources));
    const now = new Date();
    this.#sitting = unfinished(this.#sitting ? [this.#sitting] : [], this.#page, now)
      ?? newSitting(this.#page, now, randomId());
    this.#earlierTrials = this.#sitting.trials;
    this.#run = startRun(this.#tasks, { misses: this.#page.misses, breath: this.#page.breath }, at);
    document.documentElement.classList.add("practising");
    void this.#light.hold();
    this.#rest();
    this.#update({ loading: false }, needsModel(this.#run) ? "hear" : "heading");
  }

  /** @param {Event} event */
  #go(event) {
    if (!this.#run) return;
    this.#quiet();
    const before = this.#run;
    this.#run = advance(before, event);
    if (isOver(this.#run)) void this.#light.release();
    if (isOver(this.#run) && tries(this.#run.trials)) void this.#store.persist();
    if (this.#run.at !== before.at || this.#run.phase !== before.phase) this.#rest();
    this.#update({ playing: false, silent: false, revealed: false, stopping: false }, this.#hand(before));
  }

  /** Where the hand goes next: to the model, to the marks where it was, else to the heading. @param {Run} before */
  #hand(before) {
    const run = /** @type {Run} */ (this.#run);
    if (run.phase === "ask" && needsModel(run)) return "hear";
    if (run.phase === "again") return "retry";
    if (before.phase === "again" && run.phase === "say") return "clear";
    return awake(run) && !task(run)?.pair && before.phase !== "interlude" ? undefined : "heading";
  }

  /** What plays or waits is called off. */
  #quiet() {
    this.#player.stop();
    this.#playRequest += 1; // a clip that was cut short tells nothing more
    clearTimeout(this.#timer);
  }

  /** A new word takes no mark for a moment. */
  #rest() {
    clearTimeout(this.#restTimer);
    this.#view = { ...this.#view, resting: true };
    this.#restTimer = window.setTimeout(() => this.#update({ resting: false }), REST_MS);
  }

  /** Whether to stop is asked; the model is heard again afterwards. */
  #pause() {
    if (this.#run?.phase === "marked") this.#go({ type: "next" });
    if (!this.#run || isOver(this.#run)) return;
    this.#quiet();
    this.#run = advance(this.#run, { type: "unheard" });
    this.#update({ playing: false, silent: false, stopping: true }, "heading");
  }

  #resume() {
    if (!this.#run) return;
    this.#rest();
    this.#update({ stopping: false }, needsModel(this.#run) ? "hear" : "heading");
  }

  /** @param {import("../../../types").Mark} mark */
  #mark(mark) {
    if (!this.#run || !this.#sitting) return;
    if (this.#view.resting && !task(this.#run)?.pair) return;
    const [before, amends] = [this.#run, this.#run.phase === "amend"];
    this.#run = advance(before, { type: "mark", mark, ms: elapsed(this.#sitting, new Date()) });
    if (this.#run === before) return;
    this.#quiet();
    void this.#keep({ trials: [...this.#earlierTrials, ...this.#run.trials] });
    if (amends) {
      this.#rest();
      return this.#update({ playing: false, silent: false }, this.#hand(this.#run));
    }
    this.#update({ playing: false, silent: false }, mark);
    this.#timer = window.setTimeout(() => this.#go({ type: "next" }), SHOWN_MS);
  }

  /** Within one pair. @param {Event} event @param {string} [focus] */
  #step(event, focus = "heading") {
    if (!this.#run) return;
    this.#quiet();
    this.#run = advance(this.#run, event);
    this.#update({ playing: false, silent: false }, focus);
  }

  /** The helper tells what was heard. @param {string} item */
  #report(item) {
    if (!this.#run || !this.#sitting) return;
    const ms = elapsed(this.#sitting, new Date());
    this.#run = advance(this.#run, { type: "reported", item, ms });
    void this.#keep({ trials: [...this.#earlierTrials, ...this.#run.trials] });
    this.#update({}, `side-${item}`);
  }

  /** Keep the sitting as it is now. @param {Partial<Sitting>} change */
  async #keep(change) {
    if (!this.#sitting) return;
    this.#sitting = { ...this.#sitting, ...change };
    const kept = await this.#store.save(this.#sitting);
    if (kept !== this.#view.kept) this.#update({ kept });
  }

  async #hear() {
    const now = this.#run && task(this.#run);
    if (!this.#run || !now) return;
    this.#quiet();
    if (now.pair) return this.#hearPair(now);
    const amends = this.#run.phase === "amend" || this.#run.phase === "again";
    this.#run = advance(this.#run, { type: "hear" });
    const played = await this.#play(clipOf(now.item, now.round));
    if (played === null || amends) return;
    this.#modelled(played ? "heard" : "unheard");
  }

  /** Both words before one is chosen; after the look the chosen one. @param {import("../../../types").Task} now */
  async #hearPair(now) {
    const chosen = now.pair?.filter(({ id }) => id === this.#run?.chosen) ?? [];
    this.#run = advance(/** @type {Run} */ (this.#run), { type: "hear" });
    for (const item of chosen.length ? chosen : now.pair ?? []) if (!(await this.#play(clipOf(item, now.round)))) return;
  }

  async #hearLast() {
    const last = this.#run && lastMarked(this.#run);
    if (!last) return;
    this.#quiet();
    await this.#play(clipOf(last.task.item, last.task.round));
  }

  /** A model was given, or done without. @param {"heard" | "unheard" | "said" | "declined" | "hurried"} type */
  #modelled(type) {
    if (!this.#run) return;
    this.#quiet();
    this.#run = advance(this.#run, { type });
    const { phase } = this.#run;
    if (phase === "wait") this.#timer = window.setTimeout(() => this.#waited(), this.#page.pause * 1000);
    this.#update({ playing: false }, phase === "say" && type !== "heard" ? "clear" : undefined);
  }

  async #test() {
    const clip = testClip(this.#page);
    if (clip) await this.#play(clip);
  }

  #waited() {
    if (this.#run) this.#run = advance(this.#run, { type: "waited" });
    this.#update({});
  }

  /** Play one clip: whether it was heard; null when another was asked for meanwhile. @param {import("../../../types").ClipData | null} clip */
  async #play(clip) {
    if (!clip) return false;
    const request = ++this.#playRequest;
    this.#update({ playing: true, silent: false });
    const overdue = new Promise((resolve) => setTimeout(() => resolve(true), clip.duration * 1000 + MAX_OVERDUE_MS));
    const played = Boolean(await Promise.race([this.#player.play(clip.src), overdue]));
    if (request !== this.#playRequest) return null;
    this.#update({ playing: false, silent: !played });
    return played;
  }

  /** Change what is seen, draw, and put the focus where the hand is. @param {Partial<View>} change @param {string} [focus] */
  #update(change, focus) {
    this.#view = { ...this.#view, ...change };
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    const focused = this.contains(active) ? active?.dataset.key : undefined;
    this.#draw();
    if (focus) this.#focus(focus, focused);
    else if (focused) this.#focus(focused);
  }

  /** @param {string} key @param {string} [other] */
  #focus(key, other = "heading") {
    const find = (/** @type {string} */ name) => this.querySelector(`[data-key="${CSS.escape(name)}"]`);
    const found = /** @type {HTMLElement | null} */ (find(key) ?? find(other) ?? find("heading"));
    found?.focus({ preventScroll: true });
  }

  #draw() {
    const open = this.querySelector("details")?.open ?? false;
    const screen = this.#drawn();
    const details = screen.querySelector("details");
    if (details) details.open = open;
    this.#screen.replaceChildren(screen);
    const before = this.#status.textContent ?? "";
    const text = this.#run && !this.#view.stopping ? statusText(this.#run, this.#page, this.#say, this.#view, before) : "";
    if (this.#status.textContent !== text) this.#status.textContent = text;
  }

  #drawn() {
    const [run, page, say, view, actions] = [this.#run, this.#page, this.#say, this.#view, this.#actions];
    if (!run) return startScreen(page, say, view, actions, this.#resumeAt);
    if (view.stopping) return stopScreen(page, say, actions);
    if (isOver(run)) return summaryScreen(run, page, say, view, actions, this.#sitting?.note ?? "");
    if (run.phase === "interlude") return interludeScreen(run, page, say, actions);
    return (task(run)?.pair ? contrastScreen : taskScreen)(run, page, say, view, actions);
  }
}

/**
 * The clips of the form that a round asks for: one, or those of a pair; none where the helper speaks.
 * @param {import("../../../types").Task} task
 */
function clipSources({ round, item, pair }) {
  return (pair ?? [item]).flatMap((each) => clipOf(each, round)?.src ?? []);
}

/** 32 random hex digits; works on plain http too. */
function randomId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

customElements.define("practice-rounds", PracticeRounds);
