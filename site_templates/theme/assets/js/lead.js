// Leads through one run: holds its state, asks the logic, and tells what to draw.

import { makeScreenLock } from "./awake.js";
import { makeKeeper } from "./keeper.js";
import { advancePassage, startPassage, tallies } from "./passages.js";
import { tries } from "./record.js";
import { advance } from "./rounds.js";
import { awake, isOver, lastMarked, modelOf, needsModel, startRun, task } from "./run.js";
import { screenOf, spokenOf } from "./screen-of.js";
import { part, tasks, warmUp } from "./tasks.js";

/** @import { ClipData, Event, Mark, PageData, Run, Sitting, StepData, Store } from "../../../types" */
/** @import { InstallPrompt, Offered } from "./offering.js" */
/** @import { PassageEvent, PassageState } from "./passages.js" */
/** @import { Actions, Say, View } from "./screens.js" */

const SHOWN_MS = 500; // how long a mark shows before the next word comes
const REST_MS = 500; // how long a new word takes no mark: the tap may be meant for the last one
const SPAN_S = 3; // of quiet after a model's own length, in which the try is said; common practice, no source

/**
 * What a run is led with. whole: all of a sitting, not one step. show: draw anew, and put the focus on
 * what has this key. leave: to where it was started.
 * @typedef {object} Surroundings
 * @property {PageData} page
 * @property {boolean} whole
 * @property {Store} store
 * @property {ReturnType<typeof import("./sound.js").makeSound>} sound
 * @property {Say} say
 * @property {(focus?: string) => void} show
 * @property {() => void} over  it ended; what was practised may still show
 * @property {() => void} leave
 * @property {() => InstallPrompt | null} prompt  the browser's own question whether to install, if any
 */

export class Lead {
  #page;
  #store;
  #sound;
  #say;
  #show;
  #over;
  #leave;
  #keeper;
  #around;
  /** @type {Promise<ReturnType<typeof import("./afterwards.js").makeAfterwards> | null> | null} */
  #afterwards = null;
  /** @type {Run | null} */
  #run = null;
  /** The text or talk that is under way. @type {PassageState | null} */
  #passage = null;
  /** @type {View} */
  #view = { playing: false, trouble: "", revealed: false, kept: true, resting: false, stopping: false, span: 0, paced: false, offered: null, yourself: null, ending: null };
  #timer = 0;
  #restTimer = 0;
  #light = makeScreenLock(navigator, document);

  /** @param {Surroundings} surroundings */
  constructor({ page, whole, store, sound, say, show, over, leave, prompt }) {
    this.#page = page;
    this.#store = store;
    this.#sound = sound;
    this.#say = say;
    this.#show = show;
    this.#over = over;
    this.#leave = leave;
    this.#keeper = makeKeeper(store, page, whole);
    this.#around = { page, store, sound, say, prompt, show: (/** @type {string | undefined} */ focus) => this.#update({}, focus) };
    this.#view.paced = store.settings().paced ?? page.paced;
  }

  /** @type {Actions} */
  #actions = {
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
    own: (mark) => this.#own(mark),
    mark: (mark) => this.#mark(mark),
    choose: (item) => this.#step({ type: "choose", item }),
    chooseAgain: () => this.#step({ type: "choose-again" }),
    report: (item) => this.#report(item),
    look: () => this.#step({ type: "look" }, "next"),
    next: () => this.#go({ type: "next" }),
    goOn: () => (this.#view.stopping ? this.#resume() : this.#go({ type: "go-on" })),
    tooHard: () => this.#go({ type: "too-hard" }),
    stop: () => this.#go({ type: "stop" }),
    pace: () => this.#pace(),
    sound: () => this.#speak(),
    home: () => this.close(),
    note: (note) => void this.#keep(note),
    takeOffer: () => void this.#answer(async (offered) => (await this.#after())?.take(offered) ?? null),
    leaveOffer: () => void this.#answer(() => null),
    refuseOffer: () => void this.#answer(async (offered) => (await this.#after())?.refuse(offered) ?? null),
  };

  /**
   * Everything is there that the run needs. another: one more sitting, whatever is under way.
   * @param {readonly Sitting[]} sittings @param {number} from @param {number} left @param {number} minutes @param {boolean} another
   */
  async prepare(sittings, from, left, minutes, another) {
    const [all, now] = [tasks(this.#page), new Date()];
    const planned = part(all, from, left);
    const steps = [...this.#page.steps, ...this.#page.easier];
    const goesOn = this.#keeper.begin(sittings, now, from, another);
    this.#run = startRun(planned, {
      warmUp: goesOn || !this.#page.minutes ? [] : warmUp(steps, planned[0]), steps, breath: this.#page.breath,
      limitMs: minutes * 60_000, ms: this.#keeper.last(), before: all.length - left,
    });
    const [yourself] = await Promise.all([this.#hearYourself(steps), this.#sound.load(this.#run)]);
    this.#view.yourself = yourself;
    if (this.#page.path) void this.#after().then((found) => found?.ahead());
  }

  /** What comes after a run, fetched while it is on; null where it cannot be had now. */
  #after() {
    this.#afterwards ??= import("./afterwards.js").then(({ makeAfterwards }) => makeAfterwards(this.#around), () => null);
    return this.#afterwards;
  }

  /** Where a step asks for it; practice goes without it as well. @param {readonly StepData[]} steps */
  async #hearYourself(steps) {
    if (!steps.some(({ hears }) => hears)) return null;
    try {
      const { browserApis, makeHearYourself } = await import("./hear-yourself.js");
      return makeHearYourself(this.#sound, this.#say, {
        run: () => this.#run, become: (run) => { this.#run = run; }, quiet: () => this.#quiet(),
        show: (focus) => this.#update({}, focus), playing: (playing) => this.#update({ playing }), play: (clip) => this.#play(clip),
      }, browserApis(window));
    } catch {
      return null;
    }
  }

  /** @param {boolean} spoken  the device was not heard: the helper says the words */
  begin(spoken) {
    if (!this.#run) return;
    if (spoken) this.#run = advance(this.#run, { type: "spoken", spoken });
    document.documentElement.classList.add("practising");
    history.pushState({ practising: true }, "");
    void this.#light.hold();
    this.#rest();
    this.#show(needsModel(this.#run) ? "hear" : "heading");
  }

  /** @param {Event} event */
  #go(event) {
    if (!this.#run) return;
    this.#quiet();
    const before = this.#run;
    this.#run = advance(before, event);
    if (this.#run.phase !== "again") this.#view.yourself?.drop();
    const kept = this.#keep();
    if (isOver(this.#run)) void this.#ended(kept);
    else if (isOver(before)) void this.#light.hold();
    if (this.#run.at !== before.at || this.#run.phase !== before.phase) this.#rest();
    const trouble = this.#run.at === before.at ? this.#view.trouble : ""; // told once: from here on the helper speaks
    this.#update({ playing: false, trouble, revealed: false, stopping: false, span: 0 }, this.#hand(before));
  }

  /** @param {Promise<void>} kept */
  async #ended(kept) {
    const run = /** @type {Run} */ (this.#run);
    void this.#light.release();
    this.#over();
    await kept;
    if (tries(run.trials) + run.tallies.length === 0) return;
    const found = await (await this.#after())?.of(run, () => this.#keeper.sitting());
    if (found) this.#update({ ending: found.ending, offered: found.offered ?? this.#view.offered }); // at once: what moves begins only once
  }

  /** @param {(offered: Offered) => Offered | null | Promise<Offered | null>} answer */
  async #answer(answer) {
    if (this.#view.offered) this.#update({ offered: await answer(this.#view.offered) }, "home");
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
    this.#sound.quiet();
    this.#view.yourself?.quiet();
    clearTimeout(this.#timer);
  }

  /** A new word takes no mark for a moment; then it is heard by itself where that was chosen. */
  #rest() {
    clearTimeout(this.#restTimer);
    this.#view = { ...this.#view, resting: true };
    this.#restTimer = window.setTimeout(() => this.#rested(), REST_MS);
  }

  #rested() {
    this.#update({ resting: false });
    const now = this.#run && task(this.#run);
    if (!this.#run || !now || now.pair || !this.#view.paced || this.#view.stopping || this.#run.phase !== "ask") return;
    if (!needsModel(this.#run)) this.#span(now.item.natural);
    else if (modelOf(this.#run, now)) void this.#hear();
  }

  /** The time for the try runs, where words come by themselves. @param {ClipData | null} clip */
  #span(clip) {
    if (!this.#view.paced) return;
    const seconds = (clip?.duration ?? 1) + SPAN_S;
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => this.#update({ span: 0 }), seconds * 1000);
    this.#update({ span: seconds });
  }

  /** Whether to stop is asked; the model is heard again afterwards. */
  #pause() {
    if (this.#run?.phase === "marked") this.#go({ type: "next" });
    if (!this.#run || isOver(this.#run)) return;
    this.#quiet();
    this.#run = advance(this.#run, { type: "unheard" });
    this.#update({ playing: false, stopping: true, span: 0 }, "heading");
  }

  #resume() {
    if (!this.#run) return;
    this.#rest();
    this.#update({ stopping: false }, needsModel(this.#run) ? "hear" : "heading");
  }

  /** The browser's way back asks whether to stop, then stops, then leads to where it was started. */
  back() {
    if (!this.#run) return;
    if (isOver(this.#run)) return this.close();
    history.pushState({ practising: true }, "");
    if (this.#view.stopping) this.#go({ type: "stop" });
    else this.#pause();
  }

  /** The page is out of sight: nobody listens, and nothing is listened to. */
  hidden() {
    this.#sound.quiet();
    if (!this.#run || isOver(this.#run) || !this.#view.yourself) return; // a note may be half written
    this.#view.yourself.drop();
    this.#update({ playing: false });
  }

  /** It is left, whether it is over or not. */
  close() {
    this.#quiet();
    this.#view.yourself?.drop();
    clearTimeout(this.#restTimer);
    void this.#light.release();
    document.documentElement.classList.remove("practising");
    if (history.state?.practising) history.back();
    this.#leave();
  }

  /** @param {Mark} mark */
  #own(mark) {
    if (!this.#run || this.#view.resting) return;
    this.#quiet();
    this.#run = advance(this.#run, { type: "own", mark });
    this.#rest();
    this.#update({ playing: false, span: 0 }, "clear");
  }

  /** @param {Mark} mark */
  #mark(mark) {
    if (!this.#run) return;
    if (this.#view.resting && !task(this.#run)?.pair) return;
    const [before, amends] = [this.#run, this.#run.phase === "amend"];
    this.#run = advance(before, { type: "mark", mark, ms: this.#keeper.ms(new Date()) });
    if (this.#run === before) return;
    this.#quiet();
    void this.#keep();
    if (amends) {
      this.#rest();
      return this.#update({ playing: false }, this.#hand(this.#run));
    }
    this.#update({ playing: false, span: 0 }, mark);
    this.#timer = window.setTimeout(() => this.#go({ type: "next" }), SHOWN_MS);
  }

  /** Within a text or a talk. @param {PassageEvent} event */
  #tell(event) {
    if (!this.#run || !this.#passage) return;
    const ms = this.#keeper.ms(new Date());
    this.#passage = advancePassage(this.#passage, event, ms);
    if (this.#passage.phase === "done") {
      const told = tallies(this.#passage);
      this.#passage = null;
      return this.#go({ type: "text-over", tallies: told });
    }
    void this.#keep();
    this.#update({});
  }

  /** Within one pair. @param {Event} event @param {string} [focus] */
  #step(event, focus = "heading") {
    if (!this.#run) return;
    this.#quiet();
    this.#run = advance(this.#run, event);
    this.#update({ playing: false }, focus);
  }

  /** The helper tells what was heard. @param {string} item */
  #report(item) {
    if (!this.#run) return;
    this.#run = advance(this.#run, { type: "reported", item, ms: this.#keeper.ms(new Date()) });
    void this.#keep();
    this.#update({}, `side-${item}`);
  }

  /** Keep the sitting as it is now. @param {string} [note] */
  async #keep(note) {
    if (!this.#run) return;
    const kept = await this.#keeper.save(this.#run, this.#passage ? tallies(this.#passage) : [], note);
    if (kept !== this.#view.kept) this.#update({ kept });
  }

  async #hear() {
    const now = this.#run && task(this.#run);
    if (!this.#run || !now) return;
    this.#quiet();
    if (now.pair) return this.#hearPair(now);
    const amends = this.#run.phase === "amend" || this.#run.phase === "again";
    this.#run = advance(this.#run, { type: "hear" });
    const clip = modelOf(this.#run, now);
    const played = await this.#play(clip);
    if (played === null || amends) return;
    this.#modelled(played ? "heard" : "unheard");
    if (this.#run.phase === "say") this.#span(clip);
  }

  /** Both words before one is chosen; after the look the chosen one. @param {import("../../../types").Task} now */
  async #hearPair(now) {
    const chosen = now.pair?.filter(({ id }) => id === this.#run?.chosen) ?? [];
    this.#run = advance(/** @type {Run} */ (this.#run), { type: "hear" });
    for (const item of chosen.length ? chosen : now.pair ?? []) if (!(await this.#play(item.natural))) return;
  }

  async #hearLast() {
    const last = this.#run && lastMarked(this.#run);
    if (!this.#run || !last) return;
    this.#quiet();
    await this.#play(modelOf(this.#run, last.task));
  }

  /** A model was given, or done without. @param {"heard" | "unheard" | "said" | "declined" | "hurried"} type */
  #modelled(type) {
    if (!this.#run) return;
    this.#quiet();
    this.#run = advance(this.#run, { type });
    const { phase } = this.#run;
    if (phase === "wait") this.#timer = window.setTimeout(() => this.#waited(), this.#page.pause * 1000);
    this.#update({ playing: false, span: 0 }, phase === "say" && type !== "heard" ? "clear" : type === "unheard" ? "said" : undefined);
  }

  #waited() {
    if (!this.#run) return;
    this.#run = advance(this.#run, { type: "waited" });
    this.#update({});
    this.#span(task(this.#run)?.item.natural ?? null);
  }

  /**
   * Play one clip: whether it was heard; null when another was asked for meanwhile. If it fails it says
   * which it is, and the helper says the words from here on.
   * @param {ClipData | null} clip
   */
  async #play(clip) {
    if (!clip) return false;
    this.#update({ playing: true, trouble: "" });
    const played = await this.#sound.play(clip);
    if (played === null) return null;
    const trouble = played === "heard" ? "" : played;
    if (trouble && this.#run) this.#run = advance(this.#run, { type: "spoken", spoken: true });
    this.#update({ playing: false, trouble });
    return !trouble;
  }

  /** Clips again, or the helper's voice in their place. */
  #speak() {
    if (!this.#run) return;
    this.#run = advance(this.#run, { type: "spoken", spoken: !this.#run.spoken });
    this.#update({ trouble: "" }, this.#view.stopping ? "sound" : "heading");
    if (!this.#run.spoken) void this.#sound.load(this.#run);
  }

  #pace() {
    const paced = !this.#view.paced;
    this.#store.choose({ paced });
    this.#view = { ...this.#view, paced, span: 0 };
    this.#resume();
  }

  /** @param {Partial<View>} change @param {string} [focus] */
  #update(change, focus) {
    this.#view = { ...this.#view, ...change };
    this.#show(focus);
  }

  drawn() {
    return screenOf(this.#seen());
  }

  /** What a screen reader says. @param {string} before */
  said(before) {
    return spokenOf(this.#seen(), before);
  }

  /** @returns {import("./screen-of.js").Seen} */
  #seen() {
    const run = this.#run;
    if (!run) throw new Error("nothing has begun");
    const step = !isOver(run) && run.phase !== "interlude" && task(run)?.step;
    if (step && step.passage) this.#passage ??= startPassage(step, this.#keeper.ms(new Date()));
    return {
      run, told: step && step.passage ? this.#passage : null, sitting: /** @type {Sitting} */ (this.#keeper.sitting()), page: this.#page, say: this.#say,
      view: this.#view, actions: this.#actions, tell: (event) => this.#tell(event),
    };
  }
}
