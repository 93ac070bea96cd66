// <practice-today>: marks on today's page which day and time it is, and what this device saw done.

import { doneToday, timeOfDay } from "./record.js";
import { browserApis, makeStore } from "./store.js";

/** @import { Time } from "../../../types" */

const DAYS = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"]; // as Date.getDay() counts

class PracticeToday extends HTMLElement {
  connectedCallback() {
    const now = new Date();
    const times = /** @type {HTMLElement[]} */ ([...this.querySelectorAll("[data-time]")]);
    const here = timeOfDay(now.getHours(), times.map(timeOf));
    for (const time of times) time.toggleAttribute("data-now", timeOf(time) === here);
    this.querySelector(`[data-day="${DAYS[now.getDay()]}"]`)?.setAttribute("aria-current", "date");
    void this.#showDone(times, now);
  }

  /** @param {HTMLElement[]} times @param {Date} now */
  async #showDone(times, now) {
    const store = makeStore(browserApis(window), this.dataset.site ?? "");
    const done = doneToday(await store.all(), now);
    for (const time of times.filter((each) => done.has(timeOf(each)))) {
      const sign = document.createElement("span");
      sign.className = "done";
      sign.textContent = `✓ ${this.dataset.done}`;
      time.querySelector("strong")?.after(sign);
    }
  }
}

/** @param {HTMLElement} element @returns {Time} */
const timeOf = (element) => /** @type {Time} */ (element.dataset.time);

customElements.define("practice-today", PracticeToday);
