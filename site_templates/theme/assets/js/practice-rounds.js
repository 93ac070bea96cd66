// <practice-rounds>: leads through the rounds of a step. Holds the state, asks the logic, draws.

import { contrastScreen } from "./contrast.js";
import { wordsOf } from "./dom.js";
import { browserApis as soundApis, makePlayer } from "./player.js";
import { elapsed, newSitting, tries, unfinished } from "./record.js";
import { advance, clipOf, isOver, resumeIndex, startRun, task, tasks, testClip } from "./rounds.js";
import { interludeScreen, prompt, startScreen, summaryScreen, taskScreen } from "./screens.js";
import { browserApis as storageApis, makeStore } from "./store.js";

/** @import { Event, PageData, Run, Sitting, Trial } from "../../../types" */
/** @import { Actions, View } from "./screens.js" */

const MAX_LOAD_WAIT_MS = 1500; // how long Start waits for the clips of its round before it goes on

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
  #view = { playing: false, loading: false, silent: false, revealed: false, kept: true };
  #playRequest = 0;
  #timer = 0;
  #status = document.createElement("p");
  #screen = document.createElement("div");
  #listeners = new AbortController();

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
    reveal: () => this.#update({ revealed: true }, "mark"),
    mark: (mark) => this.#mark(mark),
    choose: (item) => this.#step({ type: "choose", item }),
    chooseAgain: () => this.#step({ type: "choose-again" }),
    report: (item) => this.#report(item),
    look: () => this.#step({ type: "look" }, "next"),
    next: () => this.#go({ type: "next" }),
    goOn: () => this.#go({ type: "go-on" }),
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
    window.scrollTo(0, 0);
    this.#update({ loading: false }, "hear");
  }

  /** @param {Event} event */
  #go(event) {
    if (!this.#run) return;
    this.#player.stop();
    clearTimeout(this.#timer);
    this.#run = advance(this.#run, event);
    if (isOver(this.#run) && tries(this.#run.trials)) void this.#store.persist();
    this.#update({ playing: false, silent: false, revealed: false }, this.#run.phase === "ask" ? "hear" : "heading");
  }

  /** @param {import("../../../types").Mark} mark */
  #mark(mark) {
    if (!this.#run || !this.#sitting) return;
    clearTimeout(this.#timer);
    const ms = elapsed(this.#sitting, new Date());
    this.#run = advance(this.#run, { type: "mark", mark, ms });
    void this.#keep({ trials: [...this.#earlierTrials, ...this.#run.trials] });
    this.#update({}, mark);
  }

  /** Within one pair. @param {Event} event @param {string} [focus] */
  #step(event, focus = "heading") {
    if (!this.#run) return;
    this.#player.stop();
    this.#playRequest += 1; // a clip that was cut short tells nothing more
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
    clearTimeout(this.#timer);
    const chosen = now.pair?.find(({ id }) => id === this.#run?.chosen);
    const sources = chosen ? clipSources({ ...now, item: chosen, pair: null }) : clipSources(now);
    this.#run = advance(this.#run, { type: "played" });
    for (const source of sources) if (!(await this.#play(source))) return;
    if (!sources.length) this.#update({}); // the helper said it: nothing else draws
    if (this.#run.phase === "wait") {
      this.#timer = window.setTimeout(() => this.#waited(), this.#page.pause * 1000);
    }
  }

  async #test() {
    const clip = testClip(this.#page);
    if (clip) await this.#play(clip.src);
  }

  #waited() {
    if (this.#run) this.#run = advance(this.#run, { type: "waited" });
    this.#update({});
  }

  /** Play one clip; true when it is still the last one asked for. @param {string} source */
  async #play(source) {
    const request = ++this.#playRequest;
    this.#update({ playing: true, silent: false });
    const played = await this.#player.play(source);
    if (request !== this.#playRequest) return false;
    this.#update({ playing: false, silent: !played });
    return true;
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
    const now = this.#run && !isOver(this.#run) && this.#run.phase !== "interlude" && task(this.#run);
    const text = now && this.#run ? prompt(this.#run, now, this.#say, this.#view) : "";
    if (this.#status.textContent !== text) this.#status.textContent = text;
  }

  #drawn() {
    const [run, page, say, view, actions] = [this.#run, this.#page, this.#say, this.#view, this.#actions];
    if (!run) return startScreen(page, say, view, actions, this.#resumeAt);
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
