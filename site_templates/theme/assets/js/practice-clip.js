// <practice-clip>: a clip as one button. Where scripts are off the browser's own bar stays.

import { el, sign } from "./dom.js";
import { browserApis, makePlayer } from "./player.js";

const player = makePlayer(browserApis(window)); // one for all: a clip ends the one before it

class PracticeClip extends HTMLElement {
  /** @type {HTMLAudioElement | null} */
  #audio = this.querySelector("audio");
  #button = el("button", { type: "button", class: "button hear-clip", "aria-label": this.#audio?.getAttribute("aria-label"), onclick: () => void this.#play() }, sign("hear"));

  connectedCallback() {
    if (this.#audio) this.replaceChildren(this.#button);
  }

  async #play() {
    const source = this.#audio?.src ?? "";
    await player.unlock();
    this.#button.classList.add("playing");
    const played = await player.play(source);
    this.#button.classList.remove("playing");
    if (!played && this.#audio) this.replaceChildren(this.#audio); // its own bar may say why
  }
}

customElements.define("practice-clip", PracticeClip);
