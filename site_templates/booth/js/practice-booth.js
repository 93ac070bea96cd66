// The widget of the recording page: ties the queue to the microphone, the server and the screen.

import { el } from "../../theme/assets/js/dom.js";
import { after, silent } from "./level.js";
import { makeMeter } from "./meter.js";
import { NoMicrophone, microphones, openMicrophone } from "./microphone.js";
import { makePlayback } from "./playback.js";
import { advance, begun, card, free } from "./queue.js";
import { Problem, makeServer } from "./server.js";
import { queue, stage } from "./views.js";
import { joined, wav } from "./wav.js";
import { VERDICTS } from "./words.js";

/** @import { Event as Step, Microphone, Prompts, State } from "../types" */

const WAIT = 350; // ms from the press to the first sample: the key or the mouse is not recorded
const LONGEST = 30; // seconds of a recording

class PracticeBooth extends HTMLElement {
  #server = makeServer({ fetch: (...how) => fetch(...how), storage: localStorage });
  #playback = makePlayback(window.AudioContext);
  #meter = makeMeter(() => performance.now());
  #stage = el("section", { class: "card stage", "aria-label": "Prompt" });
  #queue = el("nav", { class: "card queue", "aria-label": "All prompts" });
  #status = el("p", { class: "unseen", role: "status" });
  #keys = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox", checked: true }));
  #devices = el("label", { hidden: true });
  /** @type {State} */
  #state = begun([]);
  #folder = "";
  /** @type {Microphone | null} */
  #microphone = null;
  #opening = false;
  /** @type {Float32Array[]} */
  #blocks = [];
  #level = silent();
  /** @type {ArrayBuffer} */
  #wav = new ArrayBuffer(0);
  #timer = 0;

  async connectedCallback() {
    try {
      this.#begin(await this.#entered());
    } catch (error) {
      this.replaceChildren(el("p", { class: "card alarm", role: "alert" }, sentence(error)));
    }
  }

  /** The key of the address opens once; a window that was in before goes on with what it has. */
  async #entered() {
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
  #begin({ cards, folder }) {
    this.#state = begun(cards);
    this.#folder = folder;
    const keys = el("label", {}, this.#keys, "Use the keys that the buttons show");
    const settings = el("div", { class: "settings" }, keys, this.#devices);
    const how = document.querySelector(".booth-how");
    this.replaceChildren(el("div", {}, this.#stage, settings, how), this.#queue, this.#status);
    document.addEventListener("keydown", (event) => this.#pressed(event));
    window.addEventListener("beforeunload", (event) => this.#leaving(event));
    this.#meter.show(null);
    this.#drawQueue();
    this.#draw();
  }

  /** @param {Step} step */
  #go(step) {
    const before = this.#state;
    this.#state = advance(before, step);
    if (this.#state === before) return;
    clearTimeout(this.#timer);
    if (this.#state.cards !== before.cards || this.#state.at !== before.at) this.#drawQueue();
    this.#draw();
    this.#tell();
  }

  /** The one key: open, record, stop. */
  #main() {
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
      const lost = () => this.#closed("The microphone is gone. Plug it in, then press again.");
      this.#microphone = await openMicrophone(doors(), device, (block) => this.#heard(block), lost);
      await this.#listDevices(device);
      document.querySelector(".booth-how")?.removeAttribute("open");
      this.#go({ type: "opened" });
    } catch (error) {
      this.#closed(sentence(error));
    } finally {
      this.#opening = false;
    }
  }

  /** @param {string} problem */
  #closed(problem) {
    this.#microphone = null;
    this.#meter.show(null);
    this.#go({ type: "closed", problem });
  }

  /** @param {string} chosen */
  async #listDevices(chosen) {
    const found = await microphones(doors());
    const options = found.map(({ id, label }, i) => el("option", { value: id, selected: id === chosen }, label || `Microphone ${i + 1}`));
    const select = /** @type {HTMLSelectElement} */ (el("select", { onchange: () => free(this.#state) && void this.#open(select.value) }, ...options));
    this.#devices.replaceChildren("Microphone", select);
    this.#devices.hidden = found.length < 2;
  }

  /** @param {Float32Array} block */
  #heard(block) {
    const rate = this.#microphone?.rate;
    if (!rate) return;
    this.#level = after(this.#level, block, block.length / rate);
    this.#meter.show(this.#level);
    if (this.#state.phase !== "recording") return;
    this.#blocks.push(block);
    if (this.#blocks.length * block.length > LONGEST * rate) void this.#stop();
  }

  #record() {
    this.#playback.stop();
    this.#blocks = [];
    this.#go({ type: "record" });
    this.#timer = window.setTimeout(() => {
      this.#level = silent();
      this.#go({ type: "begin" });
    }, WAIT);
  }

  async #stop() {
    this.#go({ type: "stop" });
    if (this.#state.phase !== "judging" || !this.#microphone) return;
    this.#wav = wav(joined(this.#blocks), this.#microphone.rate);
    await this.#ask(async () => {
      const verdict = await this.#server.judge(card(this.#state).id, this.#wav);
      this.#go({ type: "judged", verdict });
    });
  }

  /** @param {boolean} instead */
  async #keep(instead) {
    this.#go({ type: "keep" });
    if (this.#state.phase !== "keeping") return;
    this.#playback.stop();
    await this.#ask(async () => {
      const { cards, kept } = await this.#server.keep(card(this.#state).id, this.#wav, instead);
      this.#go({ type: "kept", cards, file: kept });
    });
  }

  #redo() {
    if (this.#state.phase === "idle" || this.#state.phase === "judged") this.#record();
  }

  /** @param {() => Promise<void>} act */
  async #ask(act) {
    try {
      await act();
    } catch (error) {
      this.#go({ type: "failed", problem: sentence(error) });
    }
  }

  async #hearKept() {
    try {
      const bytes = await this.#server.take(card(this.#state).id);
      if (!(await this.#playback.play(bytes))) throw new Problem("This browser cannot play that file; it can still be used.");
    } catch (error) {
      this.#go({ type: "troubled", problem: sentence(error) });
    }
  }

  /** @param {number} to */
  #move(to) {
    this.#playback.stop();
    this.#go({ type: "go", to });
  }

  /** Keys work wherever the focus is on nothing that takes keys itself. @param {KeyboardEvent} event */
  #pressed(event) {
    if (!this.#keys.checked || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const on = event.target instanceof Element ? event.target.closest("button, a, input, select, summary") : null;
    const act = this.#strokes()[event.key.toLowerCase()];
    if (!act || (on && (on.matches("input, select") || event.key === " " || event.key === "Enter"))) return;
    event.preventDefault();
    act();
  }

  /** @returns {Record<string, () => void>} */
  #strokes() {
    return {
      " ": () => this.#main(),
      enter: () => void this.#keep(false),
      r: () => this.#redo(),
      arrowleft: () => this.#move(this.#state.at - 1),
      arrowright: () => this.#move(this.#state.at + 1),
    };
  }

  /** @param {BeforeUnloadEvent} event */
  #leaving(event) {
    if (["recording", "judging", "judged", "keeping"].includes(this.#state.phase)) event.preventDefault();
  }

  #draw() {
    const held = this.#held();
    const deeds = {
      main: () => this.#main(), keep: (/** @type {boolean} */ instead) => void this.#keep(instead), redo: () => this.#redo(),
      hear: () => void this.#playback.play(this.#wav), hearKept: () => void this.#hearKept(), go: (/** @type {number} */ to) => this.#move(to),
    };
    this.#stage.replaceChildren(...stage(this.#state, this.#meter.node, deeds, this.#microphone?.notices ?? []));
    if (held !== undefined) this.#focus(held);
  }

  #drawQueue() {
    const scrolled = this.#queue.querySelector("ol")?.scrollTop ?? 0;
    const go = (/** @type {number} */ to) => (this.#move(to), this.#focus("word", false));
    const nothing = () => {};
    const deeds = { main: nothing, keep: nothing, redo: nothing, hear: nothing, hearKept: nothing, go };
    this.#queue.replaceChildren(...queue(this.#state, deeds, this.#folder));
    const list = this.#queue.querySelector("ol");
    const current = /** @type {HTMLElement | null} */ (this.#queue.querySelector("[aria-current]"));
    if (!list || !current) return;
    list.scrollTop = scrolled;
    const [top, bottom] = [current.offsetTop, current.offsetTop + current.offsetHeight];
    if (top < scrolled || bottom > scrolled + list.clientHeight) list.scrollTop = top - list.clientHeight / 3;
  }

  /** The name of what has the focus inside the stage; "word" where it is on nothing. */
  #held() {
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    if (!active || active === document.body) return "word";
    return this.#stage.contains(active) ? active.dataset.key ?? "word" : undefined;
  }

  /** @param {string} key @param {boolean} [still]  without scrolling to it */
  #focus(key, still = true) {
    const find = (/** @type {string} */ name) => /** @type {HTMLElement | null} */ (this.#stage.querySelector(`[data-key="${CSS.escape(name)}"]`));
    (find(key) ?? find("word"))?.focus({ preventScroll: still });
  }

  /** For who does not see the screen. */
  #tell() {
    const { phase, verdict, problem, told } = this.#state;
    const now = card(this.#state).text;
    if (problem) this.#say(problem);
    else if (phase === "recording") this.#say("Speak now");
    else if (phase === "judged" && verdict) this.#say([`${VERDICTS[verdict.word]}.`, ...verdict.reasons.map(([text]) => text)].join(" "));
    else if (phase === "idle") this.#say(told ? `${told} Now: ${now}` : now);
  }

  /** @param {string} text */
  #say(text) {
    this.#status.textContent = text;
  }
}

function doors() {
  return { mediaDevices: navigator.mediaDevices, AudioContext: window.AudioContext, AudioWorkletNode: window.AudioWorkletNode };
}

/** @param {unknown} error */
function sentence(error) {
  if (error instanceof Problem || error instanceof NoMicrophone) return error.message;
  throw error;
}

customElements.define("practice-booth", PracticeBooth);
