// <practice-hiss>: lets an adult hear whether this loudspeaker tells s from sh. Keeps nothing, sends
// nothing; its clips are loaded when it begins.

import { el, sign, wordsOf } from "./dom.js";
import { answered, current, startCheck, TRIALS, verdict, wrong } from "./hiss.js";
import { browserApis, makePlayer } from "./player.js";

/** @import { HissData } from "../../../types" */
/** @import { Check, Hiss } from "./hiss.js" */

/** @type {readonly (Hiss | "unsure")[]} */
const ANSWERS = ["s", "sh", "unsure"];

class PracticeHiss extends HTMLElement {
  /** @type {HissData} */
  #data = JSON.parse(this.querySelector("script")?.textContent ?? "null");
  #tell = wordsOf(this.#data.wording);
  #player = makePlayer(browserApis(window));
  /** @type {Check | null} */
  #check = null;
  #silent = false;
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

  async #begin() {
    await this.#player.unlock();
    void this.#player.load([this.#data.s, this.#data.sh]);
    this.#go(startCheck(Math.random));
  }

  /** @param {Check} check */
  #go(check) {
    this.#player.stop();
    this.#request += 1; // a clip that was cut short tells nothing more
    this.#check = check;
    this.#silent = false;
    this.#draw();
    this.#screen.querySelector("button")?.focus({ preventScroll: true });
  }

  async #hear() {
    const now = this.#check && current(this.#check);
    if (!now) return;
    const request = ++this.#request;
    this.#show(true);
    if ((await this.#player.play(this.#data[now.sound], now.gain)) || request !== this.#request) return;
    this.#show(false);
  }

  /** Nothing is drawn anew: a screen reader would speak into the sound. @param {boolean} sounds */
  #show(sounds) {
    this.#silent = !sounds;
    this.#screen.querySelector("fieldset")?.toggleAttribute("disabled", !sounds);
    this.#tellStatus();
  }

  #draw() {
    this.#screen.replaceChildren(...this.#parts());
    this.#tellStatus();
  }

  #tellStatus() {
    const lines = this.#check ? this.#told(this.#check) : [];
    if (this.#status.textContent === lines.join("")) return; // else it would be spoken once more
    this.#status.replaceChildren(...lines.map((line, at) => el("p", {}, at ? line : el("strong", {}, line))));
  }

  /** Where it stands, in sentences. @param {Check} check */
  #told(check) {
    const [tell, number, missed] = [this.#tell, check.answers.length, wrong(check)];
    const all = { all: TRIALS };
    const outcome = verdict(check);
    if (this.#silent) return [tell("silent")];
    if (outcome === "open") return [tell("position", { number: number + 1, ...all })];
    if (outcome === "hidden") return [tell("hides", { wrong: missed, number }), tell("hides_text")];
    const soft = this.#data.soft ? [tell("soft")] : [];
    return [tell("apart", { right: number - missed, ...all }), tell("apart_text"), ...soft];
  }

  #parts() {
    const tell = this.#tell;
    const open = this.#check && current(this.#check);
    if (!open) {
      const begin = () => void this.#begin();
      if (this.#check) return [button(tell("again"), begin)];
      return [el("p", {}, tell("about")), el("p", {}, tell("private")), button(tell("begin"), begin)];
    }
    const answers = ANSWERS.map((answer) =>
      button(tell(answer), () => this.#check && this.#go(answered(this.#check, answer))));
    return [
      el("p", {}, button(tell("hear"), () => void this.#hear(), sign("hear"))),
      el("fieldset", { disabled: true }, el("legend", {}, tell("group")), ...answers),
    ];
  }
}

/** @param {string} text @param {() => void} onclick @param {...Node} signs before the text */
function button(text, onclick, ...signs) {
  return el("button", { type: "button", class: "button", onclick }, ...signs, text);
}

customElements.define("practice-hiss", PracticeHiss);
