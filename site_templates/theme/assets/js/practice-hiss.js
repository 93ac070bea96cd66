// <practice-hiss>: lets an adult hear whether this loudspeaker tells s from sh.

import { el } from "./dom.js";
import { answered, current, startCheck, TRIALS, verdict, wrong } from "./hiss.js";
import { choice, hearButton, ListeningCard } from "./listening-card.js";

/** @import { HissData } from "../../../types" */
/** @import { Check, Hiss } from "./hiss.js" */

/** @type {readonly (Hiss | "unsure")[]} */
const ANSWERS = ["s", "sh", "unsure"];

/** @extends {ListeningCard<HissData>} */
class PracticeHiss extends ListeningCard {
  /** @type {Check | null} */
  #check = null;

  async #begin() {
    await this.unlock([this.data.s, this.data.sh]);
    this.#go(startCheck(Math.random));
  }

  /** @param {Check} check */
  #go(check) {
    this.#check = check;
    this.renew();
  }

  #hear() {
    const now = this.#check && current(this.#check);
    if (now) void this.hear(this.data[now.sound], now.gain);
  }

  told() {
    if (!this.#check) return [];
    const [tell, number, missed] = [this.tell, this.#check.answers.length, wrong(this.#check)];
    const all = { all: TRIALS };
    const outcome = verdict(this.#check);
    if (outcome === "open") return [tell("position", { number: number + 1, ...all })];
    if (outcome === "hidden") return [tell("hides", { wrong: missed, number }), tell("hides_text")];
    const soft = this.data.soft ? [tell("soft")] : [];
    return [tell("apart", { right: number - missed, ...all }), tell("apart_text"), ...soft];
  }

  parts() {
    const tell = this.tell;
    const open = this.#check && current(this.#check);
    if (!open) {
      const begin = () => void this.#begin();
      if (this.#check) return [choice(tell("again"), begin)];
      return [el("p", {}, tell("about")), el("p", {}, tell("private")), choice(tell("begin"), begin)];
    }
    const answers = ANSWERS.map((answer) => choice(tell(answer), () => this.#check && this.#go(answered(this.#check, answer))));
    return [
      hearButton(tell("hear"), () => this.#hear()),
      el("fieldset", { disabled: true }, el("legend", {}, tell("group")), ...answers),
    ];
  }
}

customElements.define("practice-hiss", PracticeHiss);
