// The widget of the recording page: ties the state to the microphone, the server and the screen.

import { el } from "../../theme/assets/js/dom.js";
import { makeCapture } from "./capture.js";
import { pressed } from "./keys.js";
import { NoMicrophone, isThere, microphones, onDeviceChange } from "./microphone.js";
import { makePlayback } from "./playback.js";
import { cardIndex, fileName, sorted } from "./recording.js";
import { saveFile } from "./save-file.js";
import { makeScreen } from "./screen.js";
import { Problem, makeServer } from "./server.js";
import { advance, atRest, canMove, canRecord, currentCard, initialState, mustHear, wouldBeLost } from "./state.js";
import { makeWaiting } from "./waiting.js";

/** @import { Event as Step, Prompts, Recording, State } from "../types" */

const START_DELAY_MS = 350; // from the press to the first sample: the key or the mouse is not recorded
const ASK_AGAIN_MS = 2000; // between two looks whether the server answers again

class PracticeRecorder extends HTMLElement {
  #apis = { mediaDevices: navigator.mediaDevices, AudioContext: window.AudioContext, AudioWorkletNode: window.AudioWorkletNode };
  #server = makeServer({ fetch: (...request) => fetch(...request), storage: localStorage });
  #waiting = makeWaiting(() => window.indexedDB);
  #playback = makePlayback(window.AudioContext);
  #capture = makeCapture(this.#apis, {
    onLevel: (level) => this.#screen.meter.show(level), onFull: () => void this.#stop(false), onLost: () => this.#lost(),
  });
  #actions = {
    main: () => this.#mainAction(), check: () => void this.#check(), keep: (/** @type {boolean} */ instead) => void this.#keep(instead),
    redo: () => this.#record(), hear: () => void this.#hear(this.#recording), hearKept: () => void this.#hearKept(), accept: () => void this.#accept(),
    save: () => this.#save(), discard: () => this.#discard(), go: (/** @type {number} */ to) => this.#move(to),
  };
  #screen = makeScreen(this.#actions, {
    hear: (one) => void this.#hear(one), save: (one, file) => saveFile(document, one.wav, file), discard: (one) => this.#discardLeftover(one),
  }, () => performance.now());
  /** @type {State} */
  #state = initialState([]);
  #opening = false;
  #device = ""; // its id; "" for the usual one
  /** What was recorded and is not kept yet. @type {Recording | null} */
  #recording = null;
  /** The same, of earlier windows. @type {{ here: Recording[], elsewhere: Recording[] }} */
  #earlier = { here: [], elsewhere: [] };
  #timer = 0;
  #asking = false;

  async connectedCallback() {
    try {
      await this.#show(await this.#connect());
    } catch (error) {
      this.replaceChildren(el("p", { class: "card alarm", role: "alert" }, problemOf(error).message));
    }
  }

  /** The key of the address opens once; a window that was in before goes on with what it has. */
  async #connect() {
    const key = location.hash.slice(1);
    history.replaceState(null, "", location.pathname);
    try {
      if (key) await this.#server.enter(key);
    } catch (error) {
      return this.#server.prompts().catch(() => Promise.reject(error));
    }
    return this.#server.prompts();
  }

  /** @param {Prompts} found */
  async #show({ cards, folder }) {
    this.#state = initialState(cards, folder);
    this.#earlier = sorted(await this.#waiting.all(), cards, folder);
    this.replaceChildren(...this.#screen.nodes(document.querySelector(".recorder-advice")));
    document.addEventListener("keydown", (event) => this.#screen.keysOn && pressed(event, this.#shortcuts()));
    window.addEventListener("beforeunload", (event) => wouldBeLost(this.#state) && event.preventDefault());
    onDeviceChange(this.#apis, () => void this.#lookForDevices());
    this.#screen.drawList(this.#state);
    this.#screen.draw(this.#state, []);
    this.#screen.drawLeftover(this.#earlier.elsewhere, this.#state);
    this.#offerEarlier();
  }

  /** @param {Step} step */
  #dispatch(step) {
    const before = this.#state;
    this.#state = advance(before, step);
    const { phase, away, cards, at } = this.#state;
    if (this.#state === before) return;
    if (phase !== before.phase) clearTimeout(this.#timer);
    if (phase === "idle" || phase === "ready") this.#release();
    if (cards !== before.cards || at !== before.at) this.#screen.drawList(this.#state);
    this.#screen.draw(this.#state, this.#capture.notices);
    this.#screen.announce(this.#state);
    if (away) void this.#askAgain();
  }

  /** The recording in hand was kept or is not wanted. */
  #release() {
    if (this.#recording) void this.#waiting.remove(this.#recording.id);
    this.#recording = null;
  }

  /** What the space bar does: open, record, stop. */
  #mainAction() {
    const { phase, microphone } = this.#state;
    if (phase === "ready" || phase === "recording") void this.#stop(false);
    else if (!atRest(this.#state)) return;
    else if (microphone !== "open") void this.#open("");
    else if (phase === "idle") this.#record();
  }

  /** @param {string} device */
  async #open(device) {
    if (this.#opening || !atRest(this.#state)) return;
    this.#opening = true;
    try {
      await this.#capture.open(device);
      this.#device = device;
      await this.#drawDevices();
      document.querySelector(".recorder-advice")?.removeAttribute("open");
      this.#dispatch({ type: "opened" });
    } catch (error) {
      this.#screen.meter.show(null);
      this.#dispatch({ type: "closed", problem: problemOf(error).message });
    } finally {
      this.#opening = false;
    }
  }

  /** The microphone was pulled out; what it heard until then is a recording like any other. */
  #lost() {
    if (this.#state.phase === "recording") void this.#stop(true);
    this.#screen.meter.show(null);
    this.#dispatch({ type: "lost" });
    void this.#lookForDevices();
  }

  async #lookForDevices() {
    this.#dispatch({ type: "devices", any: await isThere(this.#apis) });
    if (this.#state.microphone === "open") await this.#drawDevices();
  }

  async #drawDevices() {
    this.#screen.drawDevices(await microphones(this.#apis), this.#device, (device) => void this.#open(device));
  }

  #record() {
    if (!canRecord(this.#state)) return;
    this.#playback.stop();
    this.#dispatch({ type: "record" });
    this.#timer = window.setTimeout(() => {
      this.#capture.begin();
      this.#dispatch({ type: "begin" });
    }, START_DELAY_MS);
  }

  /** @param {boolean} cut  by a microphone that is gone */
  async #stop(cut) {
    this.#dispatch({ type: "stop", cut });
    if (this.#state.phase !== "assessing") return;
    const wav = this.#capture.end(cut);
    if (!wav) return this.#dispatch({ type: "failed", problem: "Nothing was recorded.", why: "refused" });
    const { folder } = this.#state;
    this.#recording = { id: crypto.randomUUID(), folder, card: currentCard(this.#state), wav, cut, assessment: null, made: Date.now() };
    void this.#store(this.#recording);
    await this.#assess(this.#recording);
  }

  /** In the browser too, in case that this window is closed. @param {Recording} recording */
  async #store(recording) {
    if ((await this.#waiting.put(recording)) && this.#recording?.id === recording.id) this.#dispatch({ type: "stored" });
  }

  async #check() {
    this.#dispatch({ type: "check" });
    if (this.#state.phase === "assessing" && this.#recording) await this.#assess(this.#recording);
  }

  /** @param {Recording} recording */
  async #assess(recording) {
    await this.#request(async () => {
      const assessment = await this.#server.assess(currentCard(this.#state).id, recording.wav);
      this.#recording = { ...recording, assessment };
      if (assessment.verdict === "again") void this.#waiting.remove(recording.id); // nobody can keep it
      else void this.#store(this.#recording);
      this.#dispatch({ type: "assessed", assessment });
    });
  }

  /** @param {boolean} instead */
  async #keep(instead) {
    const recording = this.#recording;
    this.#dispatch({ type: "keep" });
    if (this.#state.phase !== "saving" || !recording) return;
    this.#playback.stop();
    await this.#request(async () => {
      const { cards, kept } = await this.#server.keep(currentCard(this.#state).id, recording.wav, instead);
      await this.#waiting.remove(recording.id); // before "Kept": a reload then offers it no more
      this.#dispatch({ type: "kept", cards, file: kept });
      this.#offerEarlier();
    });
  }

  /** @param {() => Promise<void>} act */
  async #request(act) {
    try {
      await act();
    } catch (error) {
      const { message, why } = problemOf(error);
      this.#dispatch({ type: "failed", problem: message, why });
    }
  }

  /** Until the server answers; then what waits for it goes on. */
  async #askAgain() {
    if (this.#asking) return;
    this.#asking = true;
    while (this.#state.away) {
      await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN_MS));
      if (atRest(this.#state)) await this.#ask();
    }
    this.#asking = false;
    if (this.#state.phase === "recorded") await this.#check();
  }

  async #ask() {
    try {
      const { cards } = await this.#server.prompts(this.#state.folder);
      if (this.#recording && cardIndex(cards, this.#recording.card) < 0) this.#setApart(this.#recording);
      this.#dispatch({ type: "back", cards });
    } catch (error) {
      this.#dispatch({ type: "away", problem: problemOf(error).message });
    }
  }

  /** The recording in hand, whose prompt is gone. @param {Recording} recording */
  #setApart(recording) {
    this.#recording = null;
    this.#earlier.elsewhere.unshift(recording);
    this.#screen.drawLeftover(this.#earlier.elsewhere, this.#state);
  }

  /** The next recording that an earlier window left. */
  #offerEarlier() {
    const { cards, phase } = this.#state;
    const recording = phase === "idle" && this.#earlier.here.shift();
    if (!recording) return;
    this.#recording = recording;
    this.#dispatch({ type: "restored", at: cardIndex(cards, recording.card), recording });
    void this.#check();
  }

  #discard() {
    this.#playback.stop();
    this.#dispatch({ type: "discard" });
    this.#offerEarlier();
  }

  /** @param {Recording} recording */
  #discardLeftover(recording) {
    this.#playback.stop();
    void this.#waiting.remove(recording.id);
    this.#earlier.elsewhere = this.#earlier.elsewhere.filter((one) => one !== recording);
    this.#screen.drawLeftover(this.#earlier.elsewhere, this.#state);
  }

  #save() {
    if (this.#recording) saveFile(document, this.#recording.wav, fileName(currentCard(this.#state), this.#state.cards));
  }

  /** @param {Recording | null} recording */
  async #hear(recording) {
    if (recording && (await this.#playback.play(recording.wav)) && recording.id === this.#recording?.id) this.#dispatch({ type: "heard" });
  }

  async #hearKept() {
    await this.#withKept(async () => {
      const card = currentCard(this.#state);
      const bytes = await this.#server.take(card.id);
      if (!(await this.#playback.play(bytes))) throw new Problem("This browser cannot play that file: listen to it on the proof page.", "other");
      if (currentCard(this.#state) === card) this.#dispatch({ type: "heard" });
    });
  }

  /** The doubtful recording in the folder is right. */
  async #accept() {
    this.#playback.stop();
    await this.#withKept(async () => {
      const { id, digest } = currentCard(this.#state);
      const { cards } = await this.#server.accept(id, digest);
      this.#dispatch({ type: "accepted", cards });
    });
  }

  /** @param {() => Promise<void>} act */
  async #withKept(act) {
    try {
      await act();
    } catch (error) {
      const { message, why } = problemOf(error);
      this.#dispatch({ type: why === "away" ? "away" : "playback-failed", problem: message });
    }
  }

  /** @param {number} to */
  #move(to) {
    if (canMove(this.#state)) this.#playback.stop();
    this.#dispatch({ type: "go", to });
  }

  /** @returns {Record<string, () => void>} */
  #shortcuts() {
    const { main, check, keep, redo, hear } = this.#actions;
    const judged = mustHear(this.#state) ? hear : () => keep(false);
    return {
      " ": main, enter: this.#state.phase === "recorded" ? check : judged, r: redo,
      arrowleft: () => this.#move(this.#state.at - 1), arrowright: () => this.#move(this.#state.at + 1),
    };
  }
}

/** What can go wrong, as a sentence. Faults of this page are thrown on. @param {unknown} error */
function problemOf(error) {
  if (error instanceof Problem) return { message: error.message, why: error.why };
  if (error instanceof NoMicrophone) return { message: error.message, why: /** @type {const} */ ("other") };
  throw error;
}

customElements.define("practice-recorder", PracticeRecorder);
