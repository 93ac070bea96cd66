// The widget of the recording page: ties the state to the microphone, the server and the screen.

import { el } from "../../theme/assets/js/dom.js";
import { nextLevel, silence } from "./level.js";
import { makeMeter } from "./meter.js";
import { NoMicrophone, microphones, openMicrophone } from "./microphone.js";
import { makePlayback } from "./playback.js";
import { advance, initialState, currentCard, canMove } from "./state.js";
import { Problem, makeServer } from "./server.js";
import { promptList, promptView } from "./views.js";
import { concatenated, encodeWav } from "./wav.js";
import { VERDICT_TEXT } from "./wording.js";

/** @import { Event as Step, Microphone, Prompts, State } from "../types" */

const START_DELAY_MS = 350; // from the press to the first sample: the key or the mouse is not recorded
const MAX_RECORDING_S = 30;

class PracticeRecorder extends HTMLElement {
  #server = makeServer({ fetch: (...request) => fetch(...request), storage: localStorage });
  #playback = makePlayback(window.AudioContext);
  #meter = makeMeter(() => performance.now());
  #prompt = el("section", { class: "card prompt", "aria-label": "Prompt" });
  #list = el("nav", { class: "card prompt-list", "aria-label": "All prompts" });
  #status = el("p", { class: "visually-hidden", role: "status" });
  #keys = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox", checked: true }));
  #devices = el("label", { hidden: true });
  /** @type {State} */
  #state = initialState([]);
  #folder = "";
  /** @type {Microphone | null} */
  #microphone = null;
  #opening = false;
  /** @type {Float32Array[]} */
  #blocks = [];
  #level = silence();
  /** @type {ArrayBuffer} */
  #wav = new ArrayBuffer(0);
  #timer = 0;

  async connectedCallback() {
    try {
      this.#show(await this.#connect());
    } catch (error) {
      this.replaceChildren(el("p", { class: "card alarm", role: "alert" }, messageOf(error)));
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
  #show({ cards, folder }) {
    this.#state = initialState(cards);
    this.#folder = folder;
    const keys = el("label", {}, this.#keys, "Use the keys shown on the buttons");
    const settings = el("div", { class: "settings" }, keys, this.#devices);
    const advice = document.querySelector(".recorder-advice");
    this.replaceChildren(el("div", {}, this.#prompt, settings, advice), this.#list, this.#status);
    document.addEventListener("keydown", (event) => this.#onKey(event));
    window.addEventListener("beforeunload", (event) => this.#confirmLeaving(event));
    this.#meter.show(null);
    this.#drawList();
    this.#draw();
  }

  /** @param {Step} step */
  #dispatch(step) {
    const before = this.#state;
    this.#state = advance(before, step);
    if (this.#state === before) return;
    clearTimeout(this.#timer);
    if (this.#state.cards !== before.cards || this.#state.at !== before.at) this.#drawList();
    this.#draw();
    this.#announce();
  }

  /** What the space bar does: open, record, stop. */
  #mainAction() {
    const { phase } = this.#state;
    if (phase === "closed") void this.#open();
    else if (phase === "idle") this.#record();
    else if (phase === "ready" || phase === "recording") void this.#stop();
  }

  async #open(device = "") {
    if (this.#opening) return;
    this.#opening = true;
    this.#microphone?.close();
    try {
      const lost = () => this.#closed("The microphone was disconnected. Plug it in, then press again.");
      this.#microphone = await openMicrophone(browserApis(), device, (block) => this.#addBlock(block), lost);
      await this.#listDevices(device);
      document.querySelector(".recorder-advice")?.removeAttribute("open");
      this.#dispatch({ type: "opened" });
    } catch (error) {
      this.#closed(messageOf(error));
    } finally {
      this.#opening = false;
    }
  }

  /** @param {string} problem */
  #closed(problem) {
    this.#microphone = null;
    this.#meter.show(null);
    this.#dispatch({ type: "closed", problem });
  }

  /** @param {string} chosen */
  async #listDevices(chosen) {
    const found = await microphones(browserApis());
    const options = found.map(({ id, label }, i) => el("option", { value: id, selected: id === chosen }, label || `Microphone ${i + 1}`));
    const select = /** @type {HTMLSelectElement} */ (el("select", { onchange: () => canMove(this.#state) && void this.#open(select.value) }, ...options));
    this.#devices.replaceChildren("Microphone", select);
    this.#devices.hidden = found.length < 2;
  }

  /** @param {Float32Array} block */
  #addBlock(block) {
    const rate = this.#microphone?.rate;
    if (!rate) return;
    this.#level = nextLevel(this.#level, block, block.length / rate);
    this.#meter.show(this.#level);
    if (this.#state.phase !== "recording") return;
    this.#blocks.push(block);
    if (this.#blocks.length * block.length > MAX_RECORDING_S * rate) void this.#stop();
  }

  #record() {
    this.#playback.stop();
    this.#blocks = [];
    this.#dispatch({ type: "record" });
    this.#timer = window.setTimeout(() => {
      this.#level = silence();
      this.#dispatch({ type: "begin" });
    }, START_DELAY_MS);
  }

  async #stop() {
    this.#dispatch({ type: "stop" });
    if (this.#state.phase !== "assessing" || !this.#microphone) return;
    this.#wav = encodeWav(concatenated(this.#blocks), this.#microphone.rate);
    await this.#request(async () => {
      const assessment = await this.#server.assess(currentCard(this.#state).id, this.#wav);
      this.#dispatch({ type: "assessed", assessment });
    });
  }

  /** @param {boolean} instead */
  async #keep(instead) {
    this.#dispatch({ type: "keep" });
    if (this.#state.phase !== "saving") return;
    this.#playback.stop();
    await this.#request(async () => {
      const { cards, kept } = await this.#server.keep(currentCard(this.#state).id, this.#wav, instead);
      this.#dispatch({ type: "kept", cards, file: kept });
    });
  }

  #redo() {
    if (this.#state.phase === "idle" || this.#state.phase === "assessed") this.#record();
  }

  /** @param {() => Promise<void>} act */
  async #request(act) {
    try {
      await act();
    } catch (error) {
      this.#dispatch({ type: "failed", problem: messageOf(error) });
    }
  }

  async #hearKept() {
    try {
      const bytes = await this.#server.take(currentCard(this.#state).id);
      if (!(await this.#playback.play(bytes))) throw new Problem("This browser cannot play that file; it can still be used.");
    } catch (error) {
      this.#dispatch({ type: "playback-failed", problem: messageOf(error) });
    }
  }

  /** @param {number} to */
  #move(to) {
    this.#playback.stop();
    this.#dispatch({ type: "go", to });
  }

  /** Keys work wherever the focus is on nothing that takes keys itself. @param {KeyboardEvent} event */
  #onKey(event) {
    if (!this.#keys.checked || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const on = event.target instanceof Element ? event.target.closest("button, a, input, select, summary") : null;
    const act = this.#shortcuts()[event.key.toLowerCase()];
    if (!act || (on && (on.matches("input, select") || event.key === " " || event.key === "Enter"))) return;
    event.preventDefault();
    act();
  }

  /** @returns {Record<string, () => void>} */
  #shortcuts() {
    return {
      " ": () => this.#mainAction(),
      enter: () => void this.#keep(false),
      r: () => this.#redo(),
      arrowleft: () => this.#move(this.#state.at - 1),
      arrowright: () => this.#move(this.#state.at + 1),
    };
  }

  /** @param {BeforeUnloadEvent} event */
  #confirmLeaving(event) {
    if (["recording", "assessing", "assessed", "saving"].includes(this.#state.phase)) event.preventDefault();
  }

  #draw() {
    const focused = this.#focusedKey();
    const actions = {
      main: () => this.#mainAction(), keep: (/** @type {boolean} */ instead) => void this.#keep(instead), redo: () => this.#redo(),
      hear: () => void this.#playback.play(this.#wav), hearKept: () => void this.#hearKept(), go: (/** @type {number} */ to) => this.#move(to),
    };
    this.#prompt.replaceChildren(...promptView(this.#state, this.#meter.node, actions, this.#microphone?.notices ?? []));
    if (focused !== undefined) this.#focus(focused);
  }

  #drawList() {
    const scrolled = this.#list.querySelector("ol")?.scrollTop ?? 0;
    const go = (/** @type {number} */ index) => (this.#move(index), this.#focus("word", false));
    this.#list.replaceChildren(...promptList(this.#state, go, this.#folder));
    const list = this.#list.querySelector("ol");
    const current = /** @type {HTMLElement | null} */ (this.#list.querySelector("[aria-current]"));
    if (!list || !current) return;
    list.scrollTop = scrolled;
    const [top, bottom] = [current.offsetTop, current.offsetTop + current.offsetHeight];
    if (top < scrolled || bottom > scrolled + list.clientHeight) list.scrollTop = top - list.clientHeight / 3;
  }

  /** The name of what has the focus inside the prompt; "word" where it is on nothing. */
  #focusedKey() {
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    if (!active || active === document.body) return "word";
    return this.#prompt.contains(active) ? active.dataset.key ?? "word" : undefined;
  }

  /** @param {string} key @param {boolean} [still]  without scrolling to it */
  #focus(key, still = true) {
    const find = (/** @type {string} */ name) => /** @type {HTMLElement | null} */ (this.#prompt.querySelector(`[data-key="${CSS.escape(name)}"]`));
    (find(key) ?? find("word"))?.focus({ preventScroll: still });
  }

  /** For those who do not see the screen. */
  #announce() {
    const { phase, assessment, problem, notice } = this.#state;
    const now = currentCard(this.#state).text;
    if (problem) this.#setStatus(problem);
    else if (phase === "recording") this.#setStatus("Speak now");
    else if (phase === "assessed" && assessment) this.#setStatus([`${VERDICT_TEXT[assessment.verdict]}.`, ...assessment.reasons.map(([text]) => text)].join(" "));
    else if (phase === "idle") this.#setStatus(notice ? `${notice} Now: ${now}` : now);
  }

  /** @param {string} text */
  #setStatus(text) {
    this.#status.textContent = text;
  }
}

function browserApis() {
  return { mediaDevices: navigator.mediaDevices, AudioContext: window.AudioContext, AudioWorkletNode: window.AudioWorkletNode };
}

/** @param {unknown} error */
function messageOf(error) {
  if (error instanceof Problem || error instanceof NoMicrophone) return error.message;
  throw error;
}

customElements.define("practice-recorder", PracticeRecorder);
