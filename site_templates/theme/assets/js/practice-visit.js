// <practice-visit>: what this device holds, for the therapist to read, and the ways home to the clinic.

import { codeScreens } from "./code-screens.js";
import { button, el, wordsOf } from "./dom.js";
import { codeTexts, lines } from "./envelope.js";
import { copy, download, share, waysHere } from "./hand-on.js";
import { pack } from "./pack.js";
import { listeners, roleOf, withZone } from "./record.js";
import { squeeze } from "./squeeze.js";
import { browserApis, makeStore } from "./store.js";
import { figures, recentSittings } from "./visit-figures.js";
import { dates, letter, report } from "./visit-report.js";

/** @import { Sitting, VisitData, Way } from "../../../types" */
/** @import { Line, Report, Section } from "./visit-report.js" */
/** @import { Outcome } from "./hand-on.js" */
/** @typedef {{ text: string, file: File, all: string[] | null, recent: string[] | null, left: number }} Message */

const NOTES_SHOWN = 3;

class PracticeVisit extends HTMLElement {
  /** @type {VisitData} */
  #data = JSON.parse(this.querySelector("script")?.textContent ?? "null");
  #tell = wordsOf(this.#data.wording);
  #store = makeStore(browserApis(window), this.#data.site);
  #status = el("p", { role: "status", class: "quiet" });
  #screen = el("div", { class: "visit" });

  connectedCallback() {
    this.append(this.#screen);
    void this.#draw();
    // Kept by the browser while somebody practised on another page.
    window.addEventListener("pageshow", (event) => event.persisted && void this.#draw());
  }

  async #draw() {
    const [sittings, keeps] = await Promise.all([this.#store.all(), this.#store.keeps()]);
    const now = new Date();
    const found = figures(sittings, now);
    if (!found) {
      this.#screen.replaceChildren(el("p", { class: "note" }, this.#tell(keeps ? "empty" : "missing")), ...this.#helper());
      return;
    }
    const shown = report(found, this.#data, this.#tell);
    const written = letter(report(found, this.#data, this.#tell, true), this.#data, this.#tell, withZone(now).slice(0, 10));
    const message = this.#data.records.length ? await this.#message(sittings, written, now) : null;
    this.#screen.replaceChildren(
      el("section", { class: "card visit-figures", "aria-labelledby": "visit-within" },
        totals(shown, this.#tell("figures")),
        el("h2", { id: "visit-within" }, shown.within),
        ...shown.sections.map((one) => sectionOf(one, this.#tell, this.#data.spoken)),
        shown.listeners && el("p", { class: "visit-more" }, shown.listeners)),
      ...(message ? [this.#ways(message)] : []),
      ...this.#helper());
  }

  /** All of it is ready before the tap: sharing waits for nothing. @param {Sitting[]} sittings @param {string} written @param {Date} now @returns {Promise<Message>} */
  async #message(sittings, written, now) {
    const packed = pack(sittings);
    const late = recentSittings(sittings, now);
    const [all, recent] = await Promise.all([squeeze(packed), squeeze(late.length ? pack(late) : packed)]);
    const text = `${written}\n\n${lines(all).join("\n")}\n`;
    const name = `practice-${this.#data.client}-${withZone(now).slice(0, 10)}.txt`;
    // No table: the same text in every way has one reader, and a spreadsheet would save it changed.
    const file = new File([text], name, { type: "text/plain" });
    return { text, file, all: codeTexts(all), recent: codeTexts(recent), left: packed.left };
  }

  /** @param {Message} message */
  #ways(message) {
    const tell = this.#tell;
    const here = waysHere(this.#data.records, navigator, message.file);
    const text = /** @type {HTMLTextAreaElement} */ (el("textarea", { readonly: true, rows: 6, "aria-label": tell("by_hand") }));
    const byHand = el("div", { hidden: true }, el("p", {}, tell("by_hand")), text);
    const pasted = () => {
      this.#status.textContent = this.#handedOn(); // not what an earlier way said
      text.value = message.text;
      byHand.hidden = false;
      text.focus();
      text.select();
    };
    /** @type {Record<Way, () => void>} */
    const go = {
      share: () => void share(navigator, message.file).then((outcome) => this.#after(outcome)),
      download: () => { download(document, message.file); this.#after("done", "saved"); },
      copy: () => void copy(navigator, message.text).then((outcome) => (outcome === "done" ? this.#after(outcome, "copied") : pasted())),
      code: () => void this.#codes(message),
    };
    this.#status.textContent = this.#handedOn();
    return el("section", { class: "card", "aria-labelledby": "visit-send" },
      el("h2", { id: "visit-send" }, tell("send")),
      here.some((way) => way !== "code") && el("p", {}, tell("send_text")),
      message.left > 0 && el("p", { class: "note" }, tell.count("damaged", message.left)),
      here.length ? el("div", { class: "ways" }, ...here.map((way) => button(way, tell(`way.${way}`), go[way]))) : el("p", { class: "note" }, tell("no_way")),
      byHand,
      this.#status,
      el("p", { class: "quiet" }, tell("stays")));
  }

  /** @param {Message} message */
  async #codes({ all, recent }) {
    const texts = recent ?? all;
    if (!texts) return void (this.#status.textContent = this.#tell("code.many"));
    const { drawCode } = await import("./code.js");
    const more = all && all[0] !== texts[0] ? all : null;
    const seen = () => this.#after("done");
    const { dialog, open } = codeScreens({ recent: texts, all: more, draw: drawCode, tell: this.#tell, seen });
    this.#screen.append(dialog);
    dialog.addEventListener("close", () => dialog.remove());
    open();
  }

  /** @param {Outcome} outcome @param {"saved" | "copied"} [how] */
  #after(outcome, how) {
    if (outcome === "cancelled") return;
    if (outcome === "failed") return void (this.#status.textContent = this.#tell("failed"));
    this.#store.choose({ handedOn: new Date().toISOString() });
    this.#status.textContent = [how && this.#tell(how), this.#handedOn()].filter(Boolean).join(" ");
  }

  #handedOn() {
    const moment = new Date(this.#store.settings().handedOn ?? NaN);
    if (Number.isNaN(moment.getTime())) return "";
    return this.#tell("handed_on", { day: dates(this.#data.language, "long")(withZone(moment).slice(0, 10)) });
  }

  /** Who listens here, where somebody does. */
  #helper() {
    if (this.#data.helper === "self") return [];
    const settings = this.#store.settings();
    const now = roleOf(this.#data, settings);
    const said = el("p", { role: "status", class: "quiet" });
    const choices = listeners(this.#data, settings).map((role) =>
      el("label", { class: "choice" },
        el("input", {
          type: "radio", name: "helper", value: role, checked: role === now,
          onchange: () => { said.textContent = this.#tell(this.#store.choose({ helper: role }) ? "role_kept" : "role_lost"); },
        }),
        el("span", {}, this.#tell(`role.${role}`))));
    return [el("section", { class: "card" },
      el("fieldset", { class: "roles" }, el("legend", {}, this.#tell("listens")), ...choices), said)];
  }
}

/** @param {Report} report @param {string} caption */
function totals({ columns, rows }, caption) {
  return el("table", { class: "visit-table" },
    el("caption", {}, caption),
    el("thead", {}, el("tr", {}, el("td", {}), ...columns.map((text) => el("th", { scope: "col" }, text)))),
    el("tbody", {}, ...rows.map(([label, ...of]) =>
      el("tr", {}, el("th", { scope: "row" }, label), ...of.map((n) => el("td", {}, String(n)))))));
}

/** What heads a line is practiced, but the day of a note. @param {Section} section @param {(key: string) => string} tell @param {string} spoken */
function sectionOf({ key, heading, lines: all }, tell, spoken) {
  const shown = key === "notes" ? NOTES_SHOWN : all.length;
  const list = (/** @type {Line[]} */ some) => el("ul", { class: `plain visit-${key}` }, ...some.map((line) => lineOf(line, key === "notes" ? null : spoken)));
  return el("div", {},
    el("h3", {}, heading),
    list(all.slice(0, shown)),
    all.length > shown && el("details", { class: "more" }, el("summary", {}, tell("older")), list(all.slice(shown))));
}

/** @param {Line} line @param {string | null} lang  of its head */
function lineOf({ head, text, more }, lang) {
  return el("li", {},
    el("strong", { dir: "auto", lang }, head), " ", text && el("span", { dir: "auto" }, text),
    more.length > 0 && el("span", { class: "visit-more" }, more.join(" · ")));
}

customElements.define("practice-visit", PracticeVisit);
