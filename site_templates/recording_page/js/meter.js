// The meter: how loud the microphone hears the voice, as a bar and as a word.

import { el } from "../../theme/assets/js/dom.js";
import { GOOD_RANGE, loudnessText, meterPosition } from "./level.js";

/** @import { Level } from "./level.js" */

const TEXT_INTERVAL_MS = 250; // between two changes of the word, so that it can be read

/** @param {() => number} clock  ms */
export function makeMeter(clock) {
  const good = el("div", { class: "meter-good" });
  good.style.left = `${100 * GOOD_RANGE[0]}%`;
  good.style.width = `${100 * (GOOD_RANGE[1] - GOOD_RANGE[0])}%`;
  const fill = el("div", { class: "meter-fill" });
  const high = el("div", { class: "meter-high" });
  const bar = el("div", { class: "meter-track", role: "meter", "aria-label": "Loudness", "aria-valuemin": 0, "aria-valuemax": 100 }, good, fill, high);
  const text = el("strong", {});
  const node = el("div", { class: "meter" }, bar, el("div", { class: "meter-words" }, text, el("span", { class: "quiet" }, "aim for the middle part")));
  let last = -Infinity;

  return {
    node,
    /** @param {Level | null} level  null without a microphone */
    show(level) {
      const shown = level ?? { now: -Infinity, high: -Infinity };
      fill.style.transform = `scaleX(${meterPosition(shown.now)})`;
      high.style.left = `calc(${100 * meterPosition(shown.high)}% - 4px)`;
      high.hidden = !level;
      if (level && clock() - last < TEXT_INTERVAL_MS) return;
      last = clock();
      const words = level ? loudnessText(level.high) : "no microphone";
      text.textContent = words;
      bar.setAttribute("aria-valuenow", String(Math.round(100 * meterPosition(shown.high))));
      bar.setAttribute("aria-valuetext", words);
    },
  };
}
