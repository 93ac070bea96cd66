// The meter: how loud the microphone hears the voice, as a bar and as a word.

import { el } from "../../theme/assets/js/dom.js";
import { GOOD, share, word } from "./level.js";

/** @import { Level } from "./level.js" */

const SLOW = 250; // ms between two changes of the word, so that it can be read

/** @param {() => number} clock  ms */
export function makeMeter(clock) {
  const good = el("div", { class: "meter-good" });
  good.style.left = `${100 * GOOD[0]}%`;
  good.style.width = `${100 * (GOOD[1] - GOOD[0])}%`;
  const fill = el("div", { class: "meter-fill" });
  const high = el("div", { class: "meter-high" });
  const bar = el("div", { class: "meter-track", role: "meter", "aria-label": "Loudness", "aria-valuemin": 0, "aria-valuemax": 100 }, good, fill, high);
  const says = el("strong", {});
  const node = el("div", { class: "meter" }, bar, el("div", { class: "meter-words" }, says, el("span", { class: "quiet" }, "the middle field is good")));
  let last = -Infinity;

  return {
    node,
    /** @param {Level | null} level  null without a microphone */
    show(level) {
      const shown = level ?? { now: -Infinity, high: -Infinity };
      fill.style.transform = `scaleX(${share(shown.now)})`;
      high.style.left = `calc(${100 * share(shown.high)}% - 4px)`;
      high.hidden = !level;
      if (level && clock() - last < SLOW) return;
      last = clock();
      const text = level ? word(level.high) : "no microphone yet";
      says.textContent = text;
      bar.setAttribute("aria-valuenow", String(Math.round(100 * share(shown.high))));
      bar.setAttribute("aria-valuetext", text);
    },
  };
}
