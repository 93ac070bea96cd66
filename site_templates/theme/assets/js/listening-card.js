// A card on which an adult listens: where it stands is told, below it is what can be done. Its clips are
// loaded when it begins; it keeps nothing and sends nothing. What it asks is of those who extend it.

import { el, plain, sign, wordsOf } from "./dom.js";
import { browserApis, makePlayer } from "./player.js";

/** @import { Words } from "../../../types" */

/** @template {{ wording: Words, language?: string }} Data */
export class ListeningCard extends HTMLElement {
  /** @type {Data} */
  data = JSON.parse(this.querySelector("script")?.textContent ?? "null");
  tell = wordsOf(this.data.wording, this.data.language);
  /** No sound came when one was asked for. */
  silent = false;
  #player = makePlayer(browserApis(window));
  #request = 0;
  #status = el("div", { role: "status" });
  #screen = el("div");
  #listeners = new AbortController();

  connectedCallback() {
    this.querySelector("section")?.append(this.#status, this.#screen);
    this.#listeners = new AbortController();
    const { signal } = this.#listeners;
    document.addEventListener("visibilitychange", () => document.hidden && this.#player.stop(), { signal });
    this.#draw();
    this.hidden = false;
  }

  disconnectedCallback() {
    this.#listeners.abort();
    this.#player.stop();
  }

  /** Where it stands, in sentences. @returns {string[]} */
  told() {
    return [];
  }

  /** What can be done. @returns {Node[]} */
  parts() {
    return [];
  }

  /** To be called inside a tap. @param {string[]} clips */
  async unlock(clips) {
    await this.#player.unlock();
    void this.#player.load(clips);
  }

  /** Draw what came of a tap; the focus goes to what has this key, else to the first button. @param {string} [key] */
  renew(key = "") {
    this.#player.stop();
    this.#request += 1; // a clip that was cut short tells nothing more
    this.silent = false;
    this.#draw();
    const next = this.#screen.querySelector(key ? `[data-key="${key}"]` : "button");
    /** @type {HTMLElement | null} */ (next)?.focus({ preventScroll: true });
  }

  /** What is to be answered wakes up at the tap, and sleeps again if no sound came. @param {string} clip @param {number} [gain] */
  async hear(clip, gain) {
    const request = ++this.#request;
    this.#show(true);
    if ((await this.#player.play(clip, gain)) || request !== this.#request) return;
    this.#show(false);
  }

  /** Nothing is drawn anew: a screen reader would speak into the sound. @param {boolean} sounds */
  #show(sounds) {
    this.silent = !sounds;
    this.#screen.querySelector("fieldset:not(.answered)")?.toggleAttribute("disabled", !sounds);
    this.#tellStatus();
  }

  #draw() {
    this.#screen.replaceChildren(...this.parts());
    this.#tellStatus();
  }

  #tellStatus() {
    const lines = this.silent ? [this.tell("silent")] : this.told();
    if (this.#status.textContent === plain(lines.join(""))) return; // else it would be spoken once more
    const shown = lines.map((line) => this.tell.shown(line));
    this.#status.replaceChildren(...shown.map((parts, at) => el("p", {}, ...(at ? parts : [el("strong", {}, ...parts)]))));
  }
}

/** @param {string} text @param {() => void} onclick */
export const choice = (text, onclick) => el("button", { type: "button", class: "button", onclick }, text);

/** @param {string} text @param {() => void} onclick */
export const hearButton = (text, onclick) => el("p", {}, el("button", { type: "button", class: "button", onclick }, sign("hear"), text));
