// <practice-rounds>: where practice begins, of a whole sitting or of one step. What leads through it is
// loaded when it is needed, so that the page itself is there at once.

import { wordsOf } from "./dom.js";
import { hearingSaid } from "./hearing.js";
import { browserApis as soundApis, makePlayer } from "./player.js";
import { plannedFor, roleOf, unfinished } from "./record.js";
import { makeSound } from "./sound.js";
import { makeStage } from "./stage.js";
import { startScreen } from "./start-screen.js";
import { browserApis as storageApis, makeStore } from "./store.js";
import { part, resumeIndex, tasks, testClip, warmUp } from "./tasks.js";
import { todayCard } from "./today-card.js";
import { standing } from "./today.js";

/** @import { PageData, Settings, Sitting } from "../../../types" */
/** @import { StartView } from "./hearing.js" */
/** @import { StartActions } from "./start-screen.js" */

// All that lead.js is made of: asked for at once, and not one layer after the other, each of which
// would take a round trip.
const LEAD = [
  "lead", "awake", "between", "contrast", "frame", "help", "keeper", "offer-part", "pairs", "passage-screen", "passages", "path", "prompts", "random-id",
  "rounds", "run", "screen-of", "screens", "summary",
];
const QUIET_MS = 5000; // so long nothing happened before the rest of the site is fetched
const fetchLead = () => Promise.all(LEAD.map((name) => import(`./${name}.js`)));

class PracticeRounds extends HTMLElement {
  #page = pageData();
  #say = wordsOf(this.#page.wording, this.#page.language);
  #whole = this.#page.minutes > 0; // the page of the whole sitting, and not of one step
  #store = makeStore(storageApis(window), this.#page.site);
  #sound = makeSound(makePlayer(soundApis(window)));
  #tasks = tasks(this.#page);
  /** @type {readonly Sitting[]} */
  #sittings = [];
  /** @type {import("./lead.js").Lead | null} */
  #lead = null;
  /** @type {StartView} */
  #view = { loading: false, trouble: "", heard: "", keeps: true, offline: false, stones: null };
  /** @type {ReturnType<typeof import("./offline.js").makeOffline> | null} */
  #offline = null;
  /** The browser's own question whether to install; we ask at another time. @type {import("./offering.js").InstallPrompt | null} */
  #prompt = null;
  #stage = makeStage(this, () => this.#lead?.drawn() ?? this.#before(), (before) => this.#lead?.said(before) ?? hearingSaid(this.#view, this.#say), this.#say.shown);
  #listeners = new AbortController();

  connectedCallback() {
    this.setAttribute("role", "region");
    this.setAttribute("aria-label", this.#say("label"));
    this.#listeners = new AbortController();
    const { signal } = this.#listeners;
    document.addEventListener("visibilitychange", () => this.#shown(), { signal });
    window.addEventListener("popstate", () => this.#lead?.back(), { signal });
    window.addEventListener("beforeinstallprompt", (event) => {
      event.preventDefault();
      this.#prompt = /** @type {import("./offering.js").InstallPrompt} */ (event);
    }, { signal });
    this.#stage.show();
    void this.#look();
    void whenIdle().then(fetchLead).then(() => this.#settle()).catch(() => undefined);
  }

  disconnectedCallback() {
    this.#listeners.abort();
    this.#lead?.close();
  }

  /** A page that was left open since the morning is another in the evening. */
  #shown() {
    if (document.hidden) this.#lead ? this.#lead.hidden() : this.#sound.quiet();
    else if (!this.#lead) {
      void this.#look();
      void this.#offline?.renew();
    }
  }

  /** The page is there. What is kept of the site on this device is of the version that is to be, or will be. */
  async #settle() {
    const { browserApis, makeOffline } = await import("./offline.js");
    const busy = () => this.#view.loading || this.#lead !== null;
    const offline = makeOffline({ ...browserApis(window, this.#page.top), site: this.#page.site, busy });
    this.#offline = offline;
    if (busy()) void offline.hold();
    await offline.renew();
    if (await offline.ready()) return this.#update({ offline: true });
    await new Promise((resolve) => setTimeout(resolve, QUIET_MS));
    if (!busy()) await this.#keepOffline(); // else once practice is over
  }

  async #keepOffline() {
    if (await this.#offline?.keep()) this.#update({ offline: true });
  }

  /** What this device kept, and so where practice goes on. */
  async #look() {
    const [sittings, keeps] = await Promise.all([this.#store.all(), this.#store.keeps()]);
    this.#sittings = sittings;
    if (!this.#lead) this.#update({ keeps });
    const stones = await this.#stones();
    if (!this.#lead) this.#update({ stones });
  }

  /** What draws the path where the sitting of now is done; loaded for that alone. */
  async #stones() {
    if (!this.#page.path || !this.#whole || this.#standing().kind !== "done") return null;
    const loaded = await import("./stones-part.js").catch(() => null);
    return loaded && loaded.stonesNow(this.#sittings, this.#page, this.#say, this.#store.settings());
  }

  /** @type {StartActions} */
  #actions = {
    start: (from, left, minutes, more = false) => void this.#start(from, left, minutes, more),
    test: () => void this.#test(),
    heard: (answer) => {
      this.#update({ heard: answer, trouble: "" }, answer === "no" ? "test" : "start");
      this.#inView();
    },
    pausePractice: () => this.#choose({ paused: true }),
    resumePractice: () => this.#choose({ paused: false }),
  };

  /** @param {number} from @param {number} left @param {number} minutes @param {boolean} more */
  async #start(from, left, minutes, more) {
    if (this.#view.loading) return;
    this.#update({ loading: true, trouble: "" });
    void this.#offline?.hold();
    try {
      void fetchLead().catch(() => undefined);
      await this.#sound.unlock();
      void this.#sound.load({ tasks: this.#firstOnes(from), steps: [], at: 0 }); // while the rest comes
      const { Lead } = await import("./lead.js");
      this.#sittings = await this.#store.all();
      const settings = this.#store.settings();
      const page = { ...this.#page, ...plannedFor(this.#page, settings), helper: roleOf(this.#page, settings) };
      const lead = new Lead({
        page, whole: this.#whole, store: this.#store, sound: this.#sound, say: this.#say,
        show: (focus) => this.#stage.show(focus), leave: () => this.#left(),
        over: () => void this.#keepOffline(), prompt: () => this.#prompt,
      });
      const here = this.#whole && this.#standing(); // what was tapped may have been drawn before this was read
      if (here && here.kind === "done" && !more) return this.#notBegun("");
      await (here ? lead.prepare(this.#sittings, here.from, here.left, here.minutesLeft, here.kind === "done")
        : lead.prepare(this.#sittings, from, left, minutes, more));
      const spoken = this.#view.heard === "no";
      this.#view = { ...this.#view, loading: false, trouble: "", heard: "" };
      this.#lead = lead;
      lead.begin(spoken);
    } catch {
      this.#notBegun("connection");
    }
  }

  /** @param {"" | "connection"} trouble */
  #notBegun(trouble) {
    this.#offline?.free();
    this.#update({ loading: false, trouble });
    this.#inView();
  }

  /** What may come first: of the warm-up, and of what is planned. @param {number} from */
  #firstOnes(from) {
    const [first] = part(this.#tasks, from, 1);
    const [easier] = this.#whole ? warmUp([...this.#page.steps, ...this.#page.easier], first) : [];
    return easier ? [easier, first] : [first];
  }

  #left() {
    this.#lead = null;
    this.#offline?.free();
    this.#stage.show("heading");
    void this.#look();
  }

  async #test() {
    const clip = testClip(this.#page);
    const played = clip && (await this.#sound.play(clip));
    if (!played) return;
    this.#update(played === "heard" ? { trouble: "", heard: "ask" } : { trouble: played }, played === "heard" ? "heard-yes" : undefined);
    this.#inView();
  }

  /** On a low screen what an answer brings would stand below its edge. */
  #inView() {
    this.querySelector(".ready > .choices")?.lastElementChild?.scrollIntoView({ block: "nearest" });
  }

  /** @param {Settings} change */
  #choose(change) {
    this.#store.choose(change);
    this.#stage.show("heading");
  }

  /** @param {Partial<StartView>} change @param {string} [focus] */
  #update(change, focus) {
    this.#view = { ...this.#view, ...change };
    this.#stage.show(focus);
  }

  #standing() {
    return standing(this.#sittings, this.#page, this.#store.settings(), new Date(), this.#tasks.length);
  }

  #before() {
    const [page, say, view, actions, all] = [this.#page, this.#say, this.#view, this.#actions, this.#tasks.length];
    if (this.#whole) {
      const here = this.#standing();
      const more = here.kind === "done";
      const start = (/** @type {number} */ from, /** @type {number} */ left, /** @type {number} */ minutes) => actions.start(from, left, minutes, more);
      return todayCard(here, page, say, view, { ...actions, start });
    }
    const under = unfinished(this.#sittings, { ...page, helper: roleOf(page, this.#store.settings()) }, new Date());
    return startScreen(page, say, view, actions, under ? resumeIndex(this.#tasks, under.trials) : 0, all);
  }
}

/** @returns {PageData} */
function pageData() {
  return JSON.parse(document.getElementById("practice-data")?.textContent ?? "null");
}

/** When the page is there and nothing else is to do. */
async function whenIdle() {
  if (document.readyState !== "complete") await new Promise((resolve) => window.addEventListener("load", resolve, { once: true }));
  await new Promise((resolve) => (window.requestIdleCallback ?? setTimeout)(resolve));
}

customElements.define("practice-rounds", PracticeRounds);
