// <practice-reminder>: a calendar entry that the family makes for itself. Nothing of it is kept here.

import { calendar } from "./calendar.js";
import { button, el, wordsOf } from "./dom.js";
import { download, share, waysHere } from "./hand-on.js";
import { randomId } from "./random-id.js";
import { plannedFor } from "./record.js";
import { browserApis, makeStore } from "./store.js";

/** @import { Day, ReminderData, Time, Way } from "../../../types" */

/** Where a family has not said otherwise. @type {Record<Time, string>} */
const CLOCK = { morning: "07:30", midday: "12:30", afternoon: "16:00", evening: "18:30" };
/** @type {readonly Day[]} */
const WEEK = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const FIRST_WEEKS = 4; // a plan ends at the next visit, practice seldom does
const MOST_WEEKS = 26;
const LONGEST = 60; // letters that it says

class PracticeReminder extends HTMLElement {
  /** @type {ReminderData} */
  #data = JSON.parse(this.querySelector("script")?.textContent ?? "null");
  #tell = wordsOf(this.#data.wording);
  #planned = plannedFor(this.#data, makeStore(browserApis(window), this.#data.site).settings());
  #days = WEEK.map((day) => input({ type: "checkbox", name: "day", value: day, checked: this.#planned.days.includes(day) }));
  #times = this.#planned.times.map((time) => input({ type: "time", id: `at-${time}`, value: CLOCK[time] }));
  #says = input({ type: "text", id: "says", maxlength: LONGEST, value: this.#tell("says_first"), "aria-describedby": "says-hint" });
  #weeks = input({ type: "number", id: "weeks", min: 1, max: MOST_WEEKS, value: FIRST_WEEKS, inputmode: "numeric" });
  #status = el("p", { role: "status", class: "quiet" });

  connectedCallback() {
    const tell = this.#tell;
    const ways = waysHere(["download", "share"], navigator, this.#file("x"));
    this.append(el("section", { class: "card reminder-form" },
      field("says", tell("says"), this.#says, el("p", { id: "says-hint", class: "quiet" }, ...tell.caution("says_hint"))),
      el("fieldset", { class: "roles" }, el("legend", {}, tell("days")),
        ...this.#days.map((box, i) => el("label", { class: "choice" }, box, el("span", {}, tell(`day.${WEEK[i]}`))))),
      el("fieldset", { class: "roles" }, el("legend", {}, tell("times")),
        ...this.#times.map((clock, i) => field(clock.id, tell(`time.${this.#planned.times[i]}`), clock))),
      field("weeks", tell("weeks"), this.#weeks),
      ways.length ? el("div", { class: "ways" }, ...ways.map((way) => button(way, tell(`way.${way}`), () => void this.#go(way))))
        : el("p", { class: "note" }, tell("no_way")),
      this.#status,
      el("p", { class: "quiet" }, tell("after"))));
  }

  /** @param {string} text */
  #file = (text) => new File([text], `${this.#tell("file")}.ics`, { type: "text/calendar" });

  /** Within the tap. @param {Way} way */
  async #go(way) {
    const days = WEEK.filter((_, i) => this.#days[i].checked);
    const at = this.#times.map(({ value }) => value.slice(0, 5)).filter(Boolean);
    const weeks = Math.min(MOST_WEEKS, Math.max(1, Math.round(Number(this.#weeks.value)) || 1));
    const text = calendar({ says: this.#says.value || this.#tell("says_first"), days, at, weeks }, new Date(), randomId);
    if (!text) return this.#told("nothing");
    if (way === "download") return (download(document, this.#file(text)), this.#told("saved", { file: this.#tell("file") }));
    const outcome = await share(navigator, this.#file(text));
    this.#told(outcome === "failed" ? "failed" : "");
  }

  /** @param {"nothing" | "saved" | "failed" | ""} key @param {Record<string, string>} [values] */
  #told(key, values) {
    this.#status.textContent = key && this.#tell(key, values);
  }
}

/** @param {Record<string, unknown>} attributes */
const input = (attributes) => /** @type {HTMLInputElement} */ (el("input", attributes));

/** @param {string} id @param {string} label @param {HTMLInputElement} one @param {...HTMLElement} more */
const field = (id, label, one, ...more) => el("div", { class: "field" }, el("label", { for: id }, label), one, ...more);

customElements.define("practice-reminder", PracticeReminder);
