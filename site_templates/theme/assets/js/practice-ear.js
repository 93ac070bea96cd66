// <practice-ear>: a helper marks four words by ear and is told after each what it was. No score.

import { el, sign, spoken } from "./dom.js";
import { CLIPS, fits, isOver, marked, startEar } from "./ear.js";
import { choice, hearButton, ListeningCard } from "./listening-card.js";

/** @import { EarData } from "../../../types" */
/** @import { Ear, Heard } from "./ear.js" */

/** @type {readonly Heard[]} */
const ANSWERS = ["clear", "almost", "missed"];

/** @extends {ListeningCard<EarData>} */
class PracticeEar extends ListeningCard {
  /** @type {Ear | null} */
  #ear = null;
  #at = 0; // the clip that is looked at, marked or not

  async #begin() {
    await this.unlock(this.data.words.flatMap(({ right, wrong }) => [right, wrong]));
    this.#ear = startEar(this.data.words.length, Math.random);
    this.#at = 0;
    this.renew();
  }

  /** @param {Heard} mark */
  #mark(mark) {
    if (!this.#ear) return;
    this.#ear = marked(this.#ear, mark);
    this.renew("next");
  }

  #next() {
    this.#at += 1;
    this.renew();
  }

  /** The clip that is looked at, and its word; null before the first and after the last. */
  #now() {
    const clip = this.#ear?.clips[this.#at];
    return clip ? { clip, word: this.data.words[clip.word] } : null;
  }

  told() {
    const [tell, now] = [this.tell, this.#now()];
    if (!now) return this.#ear && isOver(this.#ear) ? [tell("over"), tell("over_text")] : [];
    const { clip, word } = now;
    const [said, sound] = [spoken(word.word), spoken(word.sound)];
    const mark = this.#ear?.marks[this.#at];
    if (!mark) return [tell("position", { number: this.#at + 1, all: CLIPS, word: said }), tell("listen", { sound })];
    const told = clip.right ? tell("right", { word: said, clear: tell(`marks.${ANSWERS[0]}`) }) : word.told;
    if (!fits(clip, word, mark)) return [told, tell("once_more", { sound })];
    return !clip.right && word.between ? [told, tell("between")] : [told];
  }

  parts() {
    const [tell, now] = [this.tell, this.#now()];
    if (!now) {
      const begin = () => void this.#begin();
      if (this.#ear) return [choice(tell("again"), begin)];
      return [el("p", {}, tell("about")), el("p", {}, ...tell.caution("private")), choice(tell("begin"), begin)];
    }
    const given = this.#ear?.marks[this.#at];
    const marks = ANSWERS.map((mark) =>
      el("button", { type: "button", class: `mark ${mark}`, "aria-pressed": String(given === mark), onclick: () => this.#mark(mark) },
        sign(mark), el("span", {}, tell(`marks.${mark}`))));
    const next = el("button", { type: "button", class: "button", "data-key": "next", onclick: () => this.#next() },
      tell(this.#at + 1 < CLIPS ? "next" : "finish"));
    return [
      hearButton(tell(given ? "hear_again" : "hear"), () => void this.hear(now.clip.right ? now.word.right : now.word.wrong)),
      el("fieldset", { disabled: true, class: given && "answered" }, el("legend", {}, tell("group")), el("div", { class: "marks" }, ...marks)),
      ...(given ? [el("p", {}, next)] : []),
    ];
  }
}

customElements.define("practice-ear", PracticeEar);
